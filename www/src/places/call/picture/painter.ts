import type { Axis } from '../../../axis.ts';
import type { ColourMap, Opened, Picture, SpectrumWindow } from '../../../core/client.ts';
import { frames } from '../../../frames.ts';
import type { BitmapPx, Kilohertz, Seconds } from '../../../units.ts';
import { equal, type Extent } from '../extent.ts';

/** A picture that somebody wants to see. */
export interface Wanted {
  readonly opened: Opened;
  /** Counted from 0. */
  readonly channel: number;
  readonly extent: Extent;
  /** The whole recording, so that its picture can be kept as the lowest layer. */
  readonly limits: Extent;
  readonly width: BitmapPx;
  readonly height: BitmapPx;
  readonly map: ColourMap;
}

/** What is known of the picture beside its pixels. */
export interface Caption {
  readonly floorDb: number;
  readonly topDb: number;
  readonly window: SpectrumWindow;
  readonly windowMs: number;
}

interface Layer {
  readonly bitmap: HTMLCanvasElement;
  readonly extent: Extent;
}

/** A drawing that has gone on this long is given up for a newer wish. */
const PATIENCE_MS = 200;

/**
 * Gets pictures drawn and keeps the last ones: until the sharp picture of a
 * new view is there, the old pixels are stretched to where they belong.
 */
export class Painter {
  readonly #changed: () => void;
  #wanted: Wanted | null = null;
  #going: { wanted: Wanted; since: number; abort: AbortController } | null = null;
  #finished: Wanted | null = null;
  #whole: Layer | null = null;
  #sharp: Layer | null = null;
  caption: Caption | null = null;
  problem: string | null = null;
  /** How much of the drawing is done; null while nothing is drawn. */
  share: number | null = null;

  constructor(changed: () => void) {
    this.#changed = changed;
  }

  /** Asks for a picture; the newest wish counts. */
  want(wanted: Wanted): void {
    const before = this.#wanted;
    if (before && same(before, wanted)) {
      return;
    }
    if (before?.opened !== wanted.opened || before.channel !== wanted.channel) {
      this.#forget();
    }
    this.#wanted = wanted;
    const going = this.#going;
    if (going && performance.now() - going.since > PATIENCE_MS) {
      going.abort.abort(new DOMException('Replaced', 'AbortError'));
    }
    void frames.during(this.#proceed());
  }

  /** Gives up the drawing that goes on; what is there stays. */
  stop(): void {
    this.#wanted = this.#going?.wanted ?? this.#wanted;
    this.#finished = this.#wanted;
    this.#going?.abort.abort(new DOMException('Stopped', 'AbortError'));
  }

  /** Drops everything, such as when another recording is shown. */
  clear(): void {
    this.#wanted = null;
    this.#forget();
  }

  /** Puts the layers onto a canvas whose axes are given in its own pixels. */
  paint(
    context: CanvasRenderingContext2D,
    time: Axis<Seconds>,
    frequency: Axis<Kilohertz>,
  ): void {
    for (const layer of [this.#whole, this.#sharp]) {
      if (!layer) {
        continue;
      }
      const { extent, bitmap } = layer;
      const left = time.pixel(extent.time.from);
      const right = time.pixel(extent.time.to);
      const top = frequency.pixel(extent.frequency.to);
      const bottom = frequency.pixel(extent.frequency.from);
      const exact = Math.abs(right - left - bitmap.width) < 1;
      context.imageSmoothingEnabled = !exact;
      context.drawImage(bitmap, left, top, right - left, bottom - top);
    }
  }

  async #proceed(): Promise<void> {
    const wanted = this.#wanted;
    if (this.#going || !wanted || (this.#finished && same(wanted, this.#finished))) {
      return;
    }
    const abort = new AbortController();
    this.#going = { wanted, since: performance.now(), abort };
    this.#progress(0);
    try {
      await this.#draw(wanted, abort.signal);
      this.#finished = wanted;
      this.problem = null;
    } catch (error) {
      this.#failed(wanted, abort.signal, error);
    }
    this.#going = null;
    this.#progress(null);
    await this.#proceed();
  }

  async #draw(wanted: Wanted, signal: AbortSignal): Promise<void> {
    const { time, frequency } = wanted.extent;
    const picture = await wanted.opened.draw(
      signal,
      {
        channel: wanted.channel,
        start_s: time.from,
        end_s: time.to,
        low_khz: frequency.from,
        high_khz: frequency.to,
        width_px: wanted.width,
        height_px: wanted.height,
      },
      { map: wanted.map, floor_db: undefined, range_db: undefined },
      (part, share) => {
        if (!signal.aborted) {
          this.#keep(wanted, part);
          this.#progress(share);
        }
      },
    );
    signal.throwIfAborted();
    this.#keep(wanted, picture);
  }

  #keep(wanted: Wanted, picture: Picture): void {
    // What was drawn for another recording than the one now shown is of no use.
    if (this.#wanted?.opened !== wanted.opened) {
      return;
    }
    const bitmap = document.createElement('canvas');
    bitmap.width = picture.width_px;
    bitmap.height = picture.height_px;
    bitmap
      .getContext('2d')
      ?.putImageData(
        new ImageData(picture.pixels, picture.width_px, picture.height_px),
        0,
        0,
      );
    this.#sharp = { bitmap, extent: wanted.extent };
    if (equal(wanted.extent, wanted.limits)) {
      this.#whole = this.#sharp;
    }
    this.caption = {
      floorDb: picture.floor_db,
      topDb: picture.top_db,
      window: picture.window,
      windowMs: picture.window_ms,
    };
  }

  #failed(wanted: Wanted, signal: AbortSignal, error: unknown): void {
    if (signal.aborted) {
      return;
    }
    this.#finished = wanted;
    this.problem = error instanceof Error ? error.message : String(error);
  }

  #progress(share: number | null): void {
    this.share = share;
    this.#changed();
  }

  #forget(): void {
    this.#going?.abort.abort(new DOMException('Replaced', 'AbortError'));
    this.#finished = null;
    this.#whole = null;
    this.#sharp = null;
    this.caption = null;
    this.problem = null;
  }
}

function same(a: Wanted, b: Wanted): boolean {
  return (
    a.opened === b.opened &&
    a.channel === b.channel &&
    a.map === b.map &&
    a.width === b.width &&
    a.height === b.height &&
    equal(a.extent, b.extent)
  );
}
