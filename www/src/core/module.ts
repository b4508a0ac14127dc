/** The core's wasm file: compiled once, for all workers. */

import wasmUrl from './wasm/dusklens_web_bg.wasm?url';
import { Problem } from './problem.ts';

/** Where the core can be had: compiled, or as it lies in the file. */
export class CoreModule {
  #compiled: Promise<WebAssembly.Module> | null = null;

  /** The compiled core. Compiling goes on beside the page's own work. */
  compiled(): Promise<WebAssembly.Module> {
    this.#compiled ??= this.#compile();
    return this.#compiled;
  }

  /** The bytes of the file, in memory that may be handed over. */
  async bytes(): Promise<ArrayBuffer> {
    const inside = insideBytes(wasmUrl);
    if (inside !== null) {
      return inside;
    }
    const response = await fetch(wasmUrl);
    if (!response.ok) {
      throw new Error(`${response.status} ${response.statusText}`);
    }
    return response.arrayBuffer();
  }

  async #compile(): Promise<WebAssembly.Module> {
    try {
      return await WebAssembly.compile(await this.bytes());
    } catch (error) {
      // The next call may have more luck, with the network if not with the browser.
      this.#compiled = null;
      throw new Problem(
        'The part of the page that reads recordings could not be started.',
        'Load the page again. If that does not help, open it in a current version of Firefox, Chrome, Edge or Safari.',
        null,
        error,
      );
    }
  }
}

/** The bytes of a `data:` address, as the one-file page holds them; null for an address elsewhere. */
function insideBytes(url: string): ArrayBuffer | null {
  const head = /^data:[^,]*;base64,/.exec(url);
  if (head === null) {
    return null;
  }
  return Uint8Array.from(atob(url.slice(head[0].length)), (letter) => letter.charCodeAt(0)).buffer;
}
