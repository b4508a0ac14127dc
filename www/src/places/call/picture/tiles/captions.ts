import type { Noise, Opened, Rendering, Tile, TileFacts } from '../../../../core/client.ts';

/** Asks the core once for what there is to say of each level of zoom, and of the noise that it rests on. */
export class Captions {
  readonly #changed: () => void;
  readonly #facts = new Map<string, TileFacts>();
  readonly #asked = new Set<string>();
  #noise: Promise<Noise> | null = null;
  #abort = new AbortController();

  /** `changed` is called when an answer came. */
  constructor(changed: () => void) {
    this.#changed = changed;
  }

  /** Forgets all, such as for another recording or channel. */
  clear(): void {
    this.#abort.abort(new DOMException('Replaced', 'AbortError'));
    this.#abort = new AbortController();
    this.#facts.clear();
    this.#asked.clear();
    this.#noise = null;
  }

  /** What is known of a tile's level by now. */
  of(tile: Tile, rendering: Rendering): TileFacts | null {
    return this.#facts.get(keyOf(tile, rendering)) ?? null;
  }

  /** Asks for a tile's level, unless that was done. */
  async ask(opened: Opened, tile: Tile, rendering: Rendering): Promise<void> {
    const key = keyOf(tile, rendering);
    if (this.#asked.has(key)) {
      return;
    }
    this.#asked.add(key);
    const { signal } = this.#abort;
    try {
      this.#noise ??= opened.survey(signal, tile.channel);
      const facts = await opened.tileFacts(signal, tile, rendering, await this.#noise);
      if (!signal.aborted) {
        this.#facts.set(key, facts);
        this.#changed();
      }
    } catch (error) {
      if (!signal.aborted) {
        this.#asked.delete(key);
        throw error;
      }
    }
  }
}

function keyOf({ time_zoom: zoom, rows, low_khz: low }: Tile, rendering: Rendering): string {
  return JSON.stringify([zoom, rows, low, rendering]);
}
