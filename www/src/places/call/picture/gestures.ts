import type { Axis } from '../../../axis.ts';
import { frames } from '../../../frames.ts';
import { cssPx, seconds, type CssPx, type Kilohertz, type Seconds } from '../../../units.ts';
import {
  equal,
  moved,
  raised,
  zoomedInFrequency,
  zoomedInTime,
  type Extent,
} from '../extent.ts';
import type { Manner } from './events.ts';

/** A place within the picture, CSS pixels from its upper left corner. */
export interface Point {
  readonly x: CssPx;
  readonly y: CssPx;
}

/** What gestures need to know of the picture, and whom they tell. */
export interface Stage {
  readonly element: HTMLElement;
  readonly extent: () => Extent | null;
  readonly limits: () => Extent | null;
  readonly time: () => Axis<Seconds>;
  readonly frequency: () => Axis<Kilohertz>;
  readonly look: (extent: Extent, manner: Manner) => void;
  readonly click: (point: Point) => void;
  readonly hover: (point: Point | null) => void;
}

/** A press that moves less than this is a click. */
const CLICK_SLACK = 5;
/** How strongly a wheel zooms, per pixel that it reports. */
const WHEEL_STRENGTH = 0.0016;
/** A wheel that stands still for so long has come to rest. */
const REST_MS = 150;
/** Pixels that a wheel's line stands for where it counts in lines. */
const WHEEL_LINE = 32;
/** Fingers that lie closer along an axis than this do not zoom it. */
const PINCH_LEAST = 40;

/** Turns wheel, drag and pinch into new views. */
export class Gestures {
  readonly #stage: Stage;
  readonly #fingers = new Map<number, Point>();
  #pressed: Point | null = null;
  #dragging = false;
  /** Ends the wait for the wheel to rest. */
  #wheeling: (() => void) | null = null;

  constructor(stage: Stage) {
    this.#stage = stage;
  }

  /** Listens from now on, for as long as the element lives. */
  start(): void {
    const { element } = this.#stage;
    element.addEventListener('wheel', (event) => this.#wheel(event), { passive: false });
    element.addEventListener('pointerdown', (event) => this.#down(event));
    element.addEventListener('pointermove', (event) => this.#move(event));
    element.addEventListener('pointerup', (event) => this.#up(event));
    element.addEventListener('pointercancel', (event) => this.#end(event));
    element.addEventListener('pointerleave', () => this.#stage.hover(null));
  }

  #wheel(event: WheelEvent): void {
    const extent = this.#stage.extent();
    const limits = this.#stage.limits();
    if (!extent || !limits) {
      return;
    }
    const line = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? WHEEL_LINE : 1;
    const { x, y } = this.#point(event);
    const sideways = Math.abs(event.deltaX) > Math.abs(event.deltaY);
    const turn = (sideways ? event.deltaX : event.deltaY) * line;
    const factor = Math.exp(turn * WHEEL_STRENGTH);
    let next: Extent;
    if (event.shiftKey) {
      const frequency = this.#stage.frequency();
      next = zoomedInFrequency(extent, limits, factor, frequency.value(y), frequency.scale);
    } else if (sideways) {
      const time = this.#stage.time().difference(cssPx(turn));
      next = moved(extent, limits, { time });
    } else {
      next = zoomedInTime(extent, limits, factor, this.#stage.time().value(x));
    }
    // At the end of what can be zoomed, the wheel scrolls the page again.
    if (!equal(next, extent) || event.ctrlKey) {
      event.preventDefault();
      this.#stage.look(next, 'moving');
      void frames.during(this.#rested());
    }
  }

  /** Tells that the view is at rest once the wheel has stood still for a while. */
  async #rested(): Promise<void> {
    this.#wheeling?.();
    const isOver = await new Promise<boolean>((resolve) => {
      const timer = setTimeout(() => resolve(true), REST_MS);
      this.#wheeling = () => {
        clearTimeout(timer);
        resolve(false);
      };
    });
    const extent = this.#stage.extent();
    if (isOver && extent) {
      this.#wheeling = null;
      this.#stage.look(extent, 'rest');
    }
  }

  #down(event: PointerEvent): void {
    if (event.pointerType === 'mouse' && event.button !== 0) {
      return;
    }
    const point = this.#point(event);
    this.#fingers.set(event.pointerId, point);
    this.#pressed = this.#fingers.size === 1 ? point : null;
    this.#dragging = this.#fingers.size > 1;
  }

  #move(event: PointerEvent): void {
    const point = this.#point(event);
    const before = this.#fingers.get(event.pointerId);
    if (!before) {
      this.#stage.hover(event.pointerType === 'touch' ? null : point);
      return;
    }
    if (this.#pressed && !this.#dragging) {
      const distance = Math.hypot(point.x - this.#pressed.x, point.y - this.#pressed.y);
      if (distance < CLICK_SLACK) {
        return;
      }
      this.#dragging = true;
      this.#stage.element.setPointerCapture(event.pointerId);
    }
    const old = [...this.#fingers.values()];
    this.#fingers.set(event.pointerId, point);
    this.#follow(old, [...this.#fingers.values()]);
  }

  #up(event: PointerEvent): void {
    const clicked = this.#pressed && !this.#dragging;
    if (clicked && this.#fingers.has(event.pointerId)) {
      this.#stage.click(this.#point(event));
    }
    this.#end(event);
  }

  #end(event: PointerEvent): void {
    const known = this.#fingers.delete(event.pointerId);
    this.#pressed = null;
    const extent = this.#stage.extent();
    if (known && this.#dragging && this.#fingers.size === 0) {
      this.#dragging = false;
      if (extent) {
        this.#stage.look(extent, 'rest');
      }
    }
  }

  /** Keeps what lay under the fingers under the fingers. */
  #follow(old: readonly Point[], now: readonly Point[]): void {
    const extent = this.#stage.extent();
    const limits = this.#stage.limits();
    const [oldMiddle, middle] = [middleOf(old), middleOf(now)];
    if (!extent || !limits || !oldMiddle || !middle) {
      return;
    }
    const time = this.#stage.time();
    const frequency = this.#stage.frequency();
    let next = moved(extent, limits, {
      time: seconds(-time.difference(cssPx(middle.x - oldMiddle.x))),
    });
    const height = this.#stage.element.clientHeight;
    next = raised(next, limits, (middle.y - oldMiddle.y) / height, frequency.scale);
    const apart = pinch(old, now);
    if (apart?.x !== undefined) {
      next = zoomedInTime(next, limits, apart.x, time.value(middle.x));
    }
    if (apart?.y !== undefined) {
      next = zoomedInFrequency(next, limits, apart.y, frequency.value(middle.y), frequency.scale);
    }
    this.#stage.look(next, 'moving');
  }

  #point(event: MouseEvent): Point {
    const box = this.#stage.element.getBoundingClientRect();
    return { x: cssPx(event.clientX - box.left), y: cssPx(event.clientY - box.top) };
  }
}

function middleOf(points: readonly Point[]): Point | null {
  const count = points.length;
  if (count === 0) {
    return null;
  }
  return {
    x: cssPx(points.reduce((sum, point) => sum + point.x, 0) / count),
    y: cssPx(points.reduce((sum, point) => sum + point.y, 0) / count),
  };
}

/** By which factors two fingers stretch the view, where they lie apart. */
function pinch(
  old: readonly Point[],
  now: readonly Point[],
): { x?: number; y?: number } | null {
  const [a, b] = old;
  const [c, d] = now;
  if (!a || !b || !c || !d) {
    return null;
  }
  const [wide, wideNow] = [Math.abs(a.x - b.x), Math.abs(c.x - d.x)];
  const [high, highNow] = [Math.abs(a.y - b.y), Math.abs(c.y - d.y)];
  return {
    ...(Math.min(wide, wideNow) > PINCH_LEAST ? { x: wide / wideNow } : {}),
    ...(Math.min(high, highNow) > PINCH_LEAST ? { y: high / highNow } : {}),
  };
}
