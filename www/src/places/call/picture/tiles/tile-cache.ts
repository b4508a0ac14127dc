/**
 * Keeps values up to so many bytes; beyond that, those that were not used for the longest time go first. A value that
 * is larger than that by itself is not kept at all.
 */
export class TileCache<Value extends { readonly byteLength: number }> {
  readonly #most: number;
  /** The one that was used last stands last. */
  readonly #values = new Map<string, Value>();
  #bytes = 0;

  constructor(mostBytes: number) {
    this.#most = mostBytes;
  }

  /** What all values take. */
  get bytes(): number {
    return this.#bytes;
  }

  get size(): number {
    return this.#values.size;
  }

  /** Whether a value is there; it does not count as used. */
  has(key: string): boolean {
    return this.#values.has(key);
  }

  get(key: string): Value | undefined {
    const value = this.#values.get(key);
    if (value !== undefined) {
      this.#values.delete(key);
      this.#values.set(key, value);
    }
    return value;
  }

  put(key: string, value: Value): void {
    this.#drop(key);
    if (value.byteLength > this.#most) {
      return;
    }
    this.#values.set(key, value);
    this.#bytes += value.byteLength;
    for (const oldest of this.#values.keys()) {
      if (this.#bytes <= this.#most) {
        break;
      }
      this.#drop(oldest);
    }
  }

  clear(): void {
    this.#values.clear();
    this.#bytes = 0;
  }

  #drop(key: string): void {
    this.#bytes -= this.#values.get(key)?.byteLength ?? 0;
    this.#values.delete(key);
  }
}
