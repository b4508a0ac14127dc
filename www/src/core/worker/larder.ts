/** The bytes of the file that is worked on, kept at hand. */

/** Files up to this size are read in one go: half a minute at 500 kHz, and little memory on any computer. */
export const AT_ONCE_BYTES = 32 * 2 ** 20;

/**
 * Keeps all bytes of one file, the one that was asked for last. Browsers read a file without waiting in half the time
 * of slices that are waited for. Whatever is not kept is read in slices.
 */
export class Larder<Entry extends { readonly file: Blob }> {
  readonly #put: (entry: Entry, bytes: Uint8Array | undefined) => void;
  #kept: Entry | null = null;
  #coming: Promise<void> = Promise.resolve();

  /** `put` hands the bytes of a file over, or takes them away. */
  constructor(put: (entry: Entry, bytes: Uint8Array | undefined) => void) {
    this.#put = put;
  }

  /** Has the bytes of a file at hand, if it is small enough and can be read. */
  bring(entry: Entry): Promise<void> {
    if (this.#kept !== entry && entry.file.size <= AT_ONCE_BYTES) {
      this.#letGo();
      this.#kept = entry;
      this.#coming = this.#read(entry);
    }
    return this.#kept === entry ? this.#coming : Promise.resolve();
  }

  /** Lets go of a file. */
  drop(entry: Entry): void {
    if (this.#kept === entry) {
      this.#letGo();
    }
  }

  #letGo(): void {
    if (this.#kept !== null) {
      this.#put(this.#kept, undefined);
      this.#kept = null;
    }
  }

  async #read(entry: Entry): Promise<void> {
    try {
      const bytes = await entry.file.arrayBuffer();
      if (this.#kept === entry) {
        this.#put(entry, new Uint8Array(bytes));
      }
    } catch {
      // Reading slices will fail too, and tell why.
    }
  }
}
