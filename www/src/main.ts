import { initSync, version } from './core/wasm/dusklens_web.js';
import wasmUrl from './core/wasm/dusklens_web_bg.wasm?url';

/** The wasm file's bytes: fetched by the static site, decoded from the address itself in the one-file page. */
async function wasmBytes(url: string): Promise<BufferSource> {
  const data = /^data:[^,]*;base64,/.exec(url);
  if (data === null) {
    return (await fetch(url)).arrayBuffer();
  }
  return Uint8Array.from(atob(url.slice(data[0].length)), (character) => character.charCodeAt(0));
}

initSync({ module: await wasmBytes(wasmUrl) });
const place = document.querySelector('#version');
if (place !== null) {
  place.textContent = `Version ${version()}`;
}
