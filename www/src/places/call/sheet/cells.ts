import type { ColourMap, Look, Opened, Picture, Pulse, View } from '../../../core/client.ts';
import { frames } from '../../../frames.ts';
import { isDoubted } from '../sounds.ts';
import { viewOf, type SheetScale } from './scale.ts';

/** What the pictures of all cells have in common. */
export interface CellLook {
  readonly opened: Opened;
  /** Counted from 0. */
  readonly channel: number;
  readonly scale: SheetScale;
  /** Bitmap pixels. */
  readonly width: number;
  readonly height: number;
  readonly map: ColourMap;
  /** The pulse whose levels all cells are coloured by; null: each by its own. */
  readonly levelsOf: Pulse | null;
}

/** Pictures are kept up to so many bytes; the ones that were seen longest ago go first. */
const KEPT_BYTES = 48 * 2 ** 20;
const BYTES_PER_PIXEL = 4;

/** Gets the small spectrograms drawn that are in sight, one at a time, and keeps the last ones. */
export class Cells {
  readonly #changed: () => void;
  #look: CellLook | null = null;
  /** In the order of their use. */
  readonly #kept = new Map<number, ImageData>();
  #wanted: readonly Pulse[] = [];
  #levels: Pick<Look, 'floor_db' | 'range_db'> | null = null;
  #abort = new AbortController();
  #going = false;
  /** Why nothing more is drawn. */
  problem: string | null = null;

  /** `changed` is called when another picture is there. */
  constructor(changed: () => void) {
    this.#changed = changed;
  }

  /** Asks for the pictures of pulses, the first one first. What was asked for before and is not there yet is forgotten. */
  want(look: CellLook, pulses: readonly Pulse[]): void {
    if (!this.#look || !isSame(this.#look, look)) {
      this.clear();
      this.#look = look;
    }
    this.#wanted = pulses;
    void frames.during(this.#proceed());
  }

  /** The picture of a pulse; null while it is not drawn. */
  picture(pulse: Pulse): ImageData | null {
    return this.#kept.get(pulse.start_s) ?? null;
  }

  /** Stops drawing and forgets all. */
  clear(): void {
    this.#abort.abort(new DOMException('Replaced', 'AbortError'));
    this.#abort = new AbortController();
    this.#going = false;
    this.#kept.clear();
    this.#wanted = [];
    this.#levels = null;
    this.#look = null;
    this.problem = null;
  }

  async #proceed(): Promise<void> {
    if (this.#going) {
      return;
    }
    this.#going = true;
    const { signal } = this.#abort;
    try {
      await this.#drawAll(signal);
    } catch (error) {
      if (!signal.aborted) {
        this.problem = error instanceof Error ? error.message : String(error);
        this.#changed();
      }
    }
    if (!signal.aborted) {
      this.#going = false;
    }
  }

  async #drawAll(signal: AbortSignal): Promise<void> {
    for (let next = this.#next(); next && this.#look && !signal.aborted; next = this.#next()) {
      const look = this.#look;
      // oxlint-disable-next-line eslint/no-await-in-loop -- one at a time, so that what is in sight by then comes first
      const levels = await this.#levelsOf(signal, look);
      // oxlint-disable-next-line eslint/no-await-in-loop -- as above
      const picture = await draw(signal, look, next, { map: look.map, ...levels });
      signal.throwIfAborted();
      this.#keep(next, picture);
      this.#changed();
    }
  }

  /** The levels that all cells share: those that suit the loudest pulse. */
  async #levelsOf(signal: AbortSignal, look: CellLook): Promise<Pick<Look, 'floor_db' | 'range_db'>> {
    if (!look.levelsOf) {
      return { floor_db: undefined, range_db: undefined };
    }
    if (!this.#levels) {
      const free = { map: look.map, floor_db: undefined, range_db: undefined };
      const { floor_db, top_db } = await draw(signal, look, look.levelsOf, free);
      signal.throwIfAborted();
      this.#levels = { floor_db, range_db: top_db - floor_db };
    }
    return this.#levels;
  }

  #next(): Pulse | undefined {
    return this.#wanted.find((pulse) => !this.#kept.has(pulse.start_s));
  }

  #keep(pulse: Pulse, picture: Picture): void {
    const { width_px, height_px, pixels } = picture;
    const bytes = width_px * height_px * BYTES_PER_PIXEL;
    // All that is in sight at once stays, however large it is.
    const room = Math.max(this.#wanted.length, Math.floor(KEPT_BYTES / bytes));
    for (const start of this.#kept.keys()) {
      if (this.#kept.size < room) {
        break;
      }
      this.#kept.delete(start);
    }
    this.#kept.set(pulse.start_s, new ImageData(pixels, width_px, height_px));
  }
}

/** The loudest of several sounds, by whose levels the others can be seen too; pulses before doubted sounds. */
export function loudest(pulses: readonly Pulse[]): Pulse | null {
  const own = pulses.filter((pulse) => !isDoubted(pulse));
  const all = own.length > 0 ? own : pulses;
  return all.length > 0 ? all.reduce(louder) : null;
}

function louder(a: Pulse, b: Pulse): Pulse {
  return b.level_db > a.level_db ? b : a;
}

function draw(signal: AbortSignal, look: CellLook, pulse: Pulse, colours: Look): Promise<Picture> {
  const view: View = viewOf(pulse, look.scale, look.channel, look);
  return look.opened.drawBeside(signal, view, colours);
}

function isSame(a: CellLook, b: CellLook): boolean {
  return (
    a.opened === b.opened &&
    a.channel === b.channel &&
    a.width === b.width &&
    a.height === b.height &&
    a.map === b.map &&
    a.levelsOf?.start_s === b.levelsOf?.start_s &&
    JSON.stringify(a.scale) === JSON.stringify(b.scale)
  );
}
