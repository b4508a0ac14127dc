import type { Axis } from '../../../axis.ts';
import type { ColourMap, Core, Opened, Resolution, SpectrumWindow, TileFacts } from '../../../core/client.ts';
import { frames } from '../../../frames.ts';
import type { BitmapPx, Kilohertz, Seconds } from '../../../units.ts';
import { equal, type Extent } from '../extent.ts';
import { renderingOf, type PictureLook } from './look.ts';
import { Captions } from './tiles/captions.ts';
import { covers, Level, nearestFirst, TILE_HEIGHT, TILE_WIDTH, type Slots } from './tiles/level.ts';
import { Mosaic } from './tiles/mosaic.ts';
import { levelOf, Palette, type Levels } from './tiles/palette.ts';
import { TileDesk, tileOf, type Subject, type Wish } from './tiles/tile-desk.ts';

/** A picture that somebody wants to see. */
export interface Wanted {
  readonly core: Core;
  readonly opened: Opened;
  /** Counted from 0. */
  readonly channel: number;
  readonly extent: Extent;
  /** The whole recording, whose picture is kept as the lowest layer. */
  readonly limits: Extent;
  readonly width: BitmapPx;
  readonly height: BitmapPx;
  readonly map: ColourMap;
  readonly look: PictureLook;
}

/** What is known of the picture beside its pixels. */
export interface Caption extends Levels {
  readonly window: SpectrumWindow;
  readonly windowMs: number;
  readonly resolution: Resolution;
  /** The levels that the page would choose. */
  readonly automatic: Levels;
}

/** The picture of the whole recording. */
export interface Whole {
  readonly level: Level;
  readonly palette: Palette;
  /** The levels of a tile; null: it is not there. */
  readonly codes: (column: number, row: number) => Uint16Array | null;
}

/** Tiles are put into colours up to this long in a frame; the rest follows in the next. */
const PAINTING_MS = 5;
/** Colours of a palette. */
const SHADES = 256;

/**
 * Draws the picture of tiles. What is not there yet is asked for, the nearest first; until it comes, old pixels are
 * stretched to where they belong.
 */
export class Painter {
  readonly #changed: () => void;
  readonly #redraw: () => void;
  readonly #desk = new TileDesk(() => this.#redraw());
  readonly #captions = new Captions(() => this.#redraw());
  #wanted: Wanted | null = null;
  #subject: Subject | null = null;
  #level: Level | null = null;
  #base: Mosaic | null = null;
  #mosaic: Mosaic | null = null;
  #shades: { readonly map: ColourMap; readonly colours: Uint8ClampedArray<ArrayBuffer> } | null = null;
  #fetching: ColourMap | null = null;
  #palette: Palette | null = null;
  #paletteKey = '';
  #stopped = false;
  #asked = '';
  #wished = '';
  caption: Caption | null = null;
  problem: string | null = null;
  /** How much of the view is drawn sharply; null once all is. */
  share: number | null = null;

  /** `redraw` asks for another frame, `changed` tells that what is said of the picture changed. */
  constructor(redraw: () => void, changed: () => void) {
    this.#redraw = redraw;
    this.#changed = changed;
  }

  /** Whether all of the view is drawn sharply. */
  get isSharp(): boolean {
    return this.share === null && this.#mosaic !== null;
  }

  /** The tiles of the whole recording, as far as they are there, for those who draw it small. */
  whole(): Whole | null {
    const level = this.#base?.level;
    const palette = this.#palette;
    return level === undefined || palette === null
      ? null
      : { level, palette, codes: (column, row) => this.#desk.codes({ level, column, row }) };
  }

  /** Asks for a picture; the newest wish counts. */
  want(wanted: Wanted): void {
    const before = this.#wanted;
    this.#wanted = wanted;
    const { opened, channel, look, limits } = wanted;
    const renderingChanged =
      before === null || JSON.stringify(renderingOf(before.look)) !== JSON.stringify(renderingOf(look));
    const other = before?.opened !== opened || before.channel !== channel;
    if (other || renderingChanged) {
      this.#turn(wanted, other || before?.look.scale !== look.scale);
    }
    if (this.#shades?.map !== wanted.map && this.#fetching !== wanted.map) {
      this.#fetching = wanted.map;
      void frames.during(this.#fetchShades(wanted));
    }
    this.#stopped &&= before !== null && equal(before.extent, wanted.extent);
    this.#level = Level.for(wanted.extent, wanted, limits, opened.facts.rate_hz, look.scale);
    this.#ask();
  }

  /** Gives up what is being drawn; what is there stays. */
  stop(): void {
    this.#stopped = true;
    this.#desk.want([]);
    this.#tell(null);
  }

  /** Drops everything, such as when the picture leaves the page. */
  clear(): void {
    this.#wanted = null;
    this.#subject = null;
    this.#desk.turn(null);
    this.#captions.clear();
    this.#mosaic = null;
    this.#base = null;
    this.caption = null;
  }

  /** The level that the picture shows at a place, dB re full scale; null where there is no sound, or none drawn. */
  levelAt(time: Seconds, frequency: Kilohertz): number | null {
    const level = this.#level;
    if (level === null) {
      return null;
    }
    const [x, y] = [Math.floor(level.column(time)), Math.floor(level.row(frequency))];
    const column = Math.floor(x / TILE_WIDTH);
    const row = Math.floor(y / TILE_HEIGHT);
    const codes = this.#desk.codes({ level, column, row });
    return levelOf(codes?.[(y - row * TILE_HEIGHT) * TILE_WIDTH + (x - column * TILE_WIDTH)]);
  }

  /** Draws the picture onto a canvas whose axes are given in its own pixels. */
  paint(context: CanvasRenderingContext2D, time: Axis<Seconds>, frequency: Axis<Kilohertz>): void {
    const wanted = this.#wanted;
    const level = this.#level;
    if (wanted === null || level === null) {
      return;
    }
    this.#mix();
    const base = this.#baseOf(wanted);
    const seen = level.slots(wanted.extent);
    const mosaic = this.#mosaicOf(level, seen, base);
    if (this.#palette !== null) {
      const until = performance.now() + PAINTING_MS;
      const all = this.#fill(mosaic, seen, until) && this.#fill(mosaic, mosaic.slots, until);
      if (!all || (mosaic !== base && !this.#fill(base, base.slots, until))) {
        this.#redraw();
      }
    }
    if (mosaic !== base && !nearestFirst(seen).every(({ column, row }) => mosaic.holds(column, row))) {
      base.drawOn(context, time, frequency);
    }
    mosaic.drawOn(context, time, frequency);
    this.#wish(level, seen, mosaic, base);
    this.#measure(level, seen, mosaic);
  }

  /** Turns to another recording, channel or rendering; `blank`: what is seen is of no use until then. */
  #turn(wanted: Wanted, blank: boolean): void {
    const { opened, channel, look } = wanted;
    const other = this.#subject?.opened !== opened || this.#subject.channel !== channel;
    this.#subject = { opened, channel, rendering: renderingOf(look) };
    this.#desk.turn(this.#subject);
    this.#base = null;
    this.#mosaic = blank ? null : this.#mosaic;
    this.#mosaic?.age();
    this.#stopped = false;
    this.#wished = '';
    this.#asked = '';
    this.problem = null;
    if (other) {
      this.#captions.clear();
      this.#palette = null;
      this.#paletteKey = '';
      this.caption = null;
    }
  }

  /** The picture of the whole recording at the size of the view. */
  #baseOf(wanted: Wanted): Mosaic {
    const { limits, opened, look } = wanted;
    const level = Level.for(limits, wanted, limits, opened.facts.rate_hz, look.scale);
    if (this.#base === null || !this.#base.level.equals(level)) {
      const base = new Mosaic(level, level.slots(limits));
      if (this.#base !== null) {
        base.take(this.#base);
      }
      this.#base = base;
    }
    return this.#base;
  }

  /** The picture of the view and some of its neighbourhood. */
  #mosaicOf(level: Level, seen: Slots, base: Mosaic): Mosaic {
    const last = this.#mosaic;
    if (base.level.equals(level)) {
      if (last !== null && last !== base && last.level.equals(level)) {
        base.take(last);
      }
      this.#mosaic = base;
      return base;
    }
    if (last !== null && last.level.equals(level) && covers(last.slots, seen)) {
      return last;
    }
    const mosaic = new Mosaic(level, level.widened(seen));
    // The whole recording lies below it anyway.
    if (last !== null && last !== base) {
      mosaic.take(last);
    }
    this.#mosaic = mosaic;
    return mosaic;
  }

  /** Puts tiles that are there into colours; false where time ran out. */
  #fill(mosaic: Mosaic, slots: Slots, until: number): boolean {
    const palette = this.#palette;
    const { level } = mosaic;
    for (const { column, row } of palette === null ? [] : nearestFirst(slots)) {
      if (palette === null || mosaic.holds(column, row, palette)) {
        continue;
      }
      const wish = { level, column, row };
      const codes = this.#desk.codes(wish);
      const part = codes === null ? this.#desk.part(wish) : null;
      if (codes !== null) {
        mosaic.put(column, row, palette.paint(codes), palette);
      } else if (part !== null) {
        mosaic.put(column, row, palette.paint(part.codes), palette, part.share);
      } else {
        continue;
      }
      if (performance.now() > until) {
        return false;
      }
    }
    return true;
  }

  /** Asks for what is seen, then for its neighbourhood, then for the whole recording. */
  #wish(level: Level, seen: Slots, mosaic: Mosaic, base: Mosaic): void {
    if (this.#stopped) {
      return;
    }
    const wishes = new Map<string, Wish>();
    let inSight = 0;
    for (const [of, slots] of [[level, seen], [level, mosaic.slots], [base.level, base.slots]] as const) {
      for (const slot of nearestFirst(slots)) {
        const key = `${of.timeZoom} ${of.rowZoom} ${slot.column} ${slot.row}`;
        if (!wishes.has(key)) {
          wishes.set(key, { level: of, ...slot });
        }
      }
      inSight ||= wishes.size;
    }
    const wished = [...wishes.keys()].join();
    if (wished !== this.#wished) {
      this.#wished = wished;
      this.#desk.want([...wishes.values()], inSight);
      void frames.during(this.#desk.settled());
    }
  }

  /** How far the view is sharp. */
  #measure(level: Level, seen: Slots, mosaic: Mosaic): void {
    const { problem } = this.#desk;
    const told = problem instanceof Error ? problem.message : String(problem);
    if (problem !== null && this.problem !== told) {
      this.problem = told;
      this.#changed();
    }
    const slots = nearestFirst(seen);
    const open = slots.filter(({ column, row }) => !mosaic.holds(column, row, this.#palette));
    const isOver = open.length === 0 || this.#stopped || problem !== null;
    const done = slots.length - open.length + open.reduce((sum, slot) => sum + this.#desk.share({ level, ...slot }), 0);
    this.#tell(isOver ? null : Math.floor((done / slots.length) * 100) / 100);
  }

  #tell(share: number | null): void {
    if (share !== this.share) {
      this.share = share;
      this.#changed();
    }
  }

  /** Asks for what there is to say of the view's level. */
  #ask(): void {
    const level = this.#level;
    const subject = this.#subject;
    if (level === null || subject === null) {
      return;
    }
    const asked = `${level.timeZoom} ${level.rowZoom}`;
    if (asked !== this.#asked) {
      this.#asked = asked;
      const tile = tileOf(subject, [{ level, column: 0, row: 0 }]);
      const answer = this.#captions.ask(subject.opened, tile, subject.rendering).catch((error: unknown) => {
        this.problem = error instanceof Error ? error.message : String(error);
        this.#changed();
      });
      void frames.during(answer);
    }
  }

  /** Mixes the colours anew where map or levels changed. */
  #mix(): void {
    const { look, map } = this.#wanted ?? {};
    const facts = this.#factsOfView();
    const shades = this.#shades;
    if (facts === null || look === undefined || shades === null || shades.map !== map) {
      return;
    }
    const automatic = { floorDb: facts.floor_db, topDb: facts.top_db };
    const floorDb = look.floorDb ?? automatic.floorDb;
    const topDb = floorDb + (look.rangeDb ?? automatic.topDb - automatic.floorDb);
    const key = [map, floorDb, topDb, facts.window, facts.window_ms].join();
    if (key === this.#paletteKey) {
      return;
    }
    this.#paletteKey = key;
    this.#palette = new Palette(shades.colours, { floorDb, topDb });
    const { window, window_ms: windowMs, resolution } = facts;
    this.caption = { floorDb, topDb, window, windowMs, resolution, automatic };
    this.#changed();
  }

  #factsOfView(): TileFacts | null {
    const level = this.#level;
    const subject = this.#subject;
    return level === null || subject === null
      ? null
      : this.#captions.of(tileOf(subject, [{ level, column: 0, row: 0 }]), subject.rendering);
  }

  async #fetchShades({ core, map }: Wanted): Promise<void> {
    const colours = await core.legend(map, SHADES);
    this.#fetching = this.#fetching === map ? null : this.#fetching;
    if (this.#wanted?.map === map) {
      this.#shades = { map, colours };
      this.#redraw();
    }
  }
}
