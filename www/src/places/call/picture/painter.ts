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
  /** How much of it is drawn, 0 to 1, from the left. */
  readonly share: number;
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
  /** A picture in the making, which lies over the last one. */
  #partial: Layer | null = null;
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
    for (const layer of [this.#whole, this.#sharp, this.#partial]) {
      const columns = layer ? Math.floor(layer.bitmap.width * layer.share) : 0;
      if (!layer || columns === 0) {
        continue;
      }
      const { extent, bitmap } = layer;
      const left = time.pixel(extent.time.from);
      const width = time.pixel(extent.time.to) - left;
      const top = frequency.pixel(extent.frequency.to);
      const height = frequency.pixel(extent.frequency.from) - top;
      context.imageSmoothingEnabled = Math.abs(width - bitmap.width) >= 1;
      const drawn = (width * columns) / bitmap.width;
      context.drawImage(bitmap, 0, 0, columns, bitmap.height, left, top, drawn, height);
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
          this.#partial = this.#layer(wanted, part, share) ?? this.#partial;
          this.#progress(share);
        }
      },
    );
    signal.throwIfAborted();
    this.#sharp = this.#layer(wanted, picture, 1) ?? this.#sharp;
    this.#partial = null;
    if (equal(wanted.extent, wanted.limits)) {
      this.#whole = this.#sharp;
    }
  }

  #layer(wanted: Wanted, picture: Picture, share: number): Layer | null {
    // What was drawn for another recording than the one now shown is of no use.
    if (this.#wanted?.opened !== wanted.opened) {
      return null;
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
    this.caption = {
      floorDb: picture.floor_db,
      topDb: picture.top_db,
      window: picture.window,
      windowMs: picture.window_ms,
    };
    return { bitmap, extent: wanted.extent, share };
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
    this.#partial = null;
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
