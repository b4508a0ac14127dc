import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { Axis, type Span } from '../../../axis.ts';
import { frames } from '../../../frames.ts';
import { base } from '../../../parts/base-styles.ts';
import { isInked } from '../../../themes.ts';
import type { ColourMap } from '../../../core/client.ts';
import { cssPx, seconds, type CssPx, type Seconds } from '../../../units.ts';
import { moved, whole, within, zoomedInTime, type Extent } from '../extent.ts';
import { LookEvent, type Manner } from '../picture/events.ts';
import type { Painter } from '../picture/painter.ts';
import { spanWords } from '../picture/ticks.ts';
import type { Recording } from '../recordings.ts';
import { isDoubted, type Sound } from '../sounds.ts';
import { layerStyles } from '../picture/layer-styles.ts';
import { overviewStyles } from './overview-styles.ts';
import { SmallPicture } from './small-picture.ts';

/** So near to an edge of the window a press takes hold of the edge, CSS pixels. */
const EDGE = 12;
/** However short the view, its window can be seen and taken hold of, CSS pixels. */
const LEAST_WINDOW = 24;
/** A window whose edges can be told apart from its middle, CSS pixels. */
const LEAST_WITH_EDGES = 3 * EDGE;
/** Share of the view that an arrow key moves it by, and factor by which it grows. */
const STEP = 0.2;
const GROWTH = 1.4;

type Grip = 'from' | 'to' | 'middle';

/**
 * The whole recording in a strip, with the stretch that the picture shows. Drag that stretch or its ends, or press
 * beside it.
 *
 * @fires look - a new view
 */
export class OverviewStrip extends LitElement {
  static override properties = {
    recording: { attribute: false },
    sounds: { attribute: false },
    map: { attribute: false },
    theme: { attribute: false },
    width: { state: true },
  };

  declare recording: Recording;
  declare sounds: readonly Sound[];
  declare map: ColourMap;
  /** The theme's name, so that colours are read again when it changes. */
  declare theme: string;
  declare width: CssPx;

  readonly #small = new SmallPicture();
  readonly #resize = new ResizeObserver(() => this.#measure());
  #hold: { readonly grip: Grip; readonly pointer: number; readonly offset: number } | null = null;

  constructor() {
    super();
    this.width = cssPx(0);
  }

  /** Draws some of what has come in of the whole recording; true where there is more. */
  drawFrom(painter: Painter): boolean {
    const canvas = this.renderRoot.querySelector<HTMLCanvasElement>('.sound');
    const picture = painter.whole();
    return canvas !== null && picture !== null && this.#small.drawOn(canvas, picture);
  }

  override firstUpdated(): void {
    const strip = this.#strip();
    if (strip) {
      this.#resize.observe(strip);
    }
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#resize.disconnect();
    frames.drop(this);
  }

  override updated(changed: PropertyValues<this>): void {
    const before = changed.get('recording') as Recording | undefined;
    const other = before?.opened !== this.recording.opened || before?.channel !== this.recording.channel;
    if (changed.has('recording') && other) {
      this.#small.clear();
    }
    if (changed.has('sounds') || changed.has('width') || changed.has('theme') || other) {
      frames.request(this, () => this.#mark());
    }
  }

  override render(): TemplateResult {
    const limits = this.#limits();
    const { extent } = this.recording;
    return html`<div
      class="strip"
      @pointerdown=${this.#down}
      @pointermove=${this.#move}
      @pointerup=${this.#up}
      @pointercancel=${this.#up}
    >
      <canvas class=${isInked(this.map) ? 'sound inked' : 'sound'}></canvas>
      <div class="red"></div>
      <canvas class="marks" aria-hidden="true"></canvas>
      ${limits && extent ? this.#window(extent, limits) : nothing}
    </div>`;
  }

  #window({ time }: Extent, limits: Extent): TemplateResult {
    const { left, width } = this.#place(time, limits);
    const middle = (time.from + time.to) / 2;
    return html`<div
        class="shade"
        style="left: 0; width: ${left}px"
      ></div>
      <div class="shade" style="left: ${left + width}px; right: 0"></div>
      <div
        class=${width >= LEAST_WITH_EDGES ? 'window gripped' : 'window'}
        style="left: ${left}px; width: ${width}px"
        tabindex="0"
        role="slider"
        aria-label="Stretch of the recording in view"
        aria-valuemin=${limits.time.from}
        aria-valuemax=${limits.time.to.toFixed(4)}
        aria-valuenow=${middle.toFixed(4)}
        aria-valuetext="${spanWords(time.from, time.to, 's', 3)} of ${limits.time.to.toFixed(3)} s"
        aria-describedby="how"
        @keydown=${this.#key}
      ></div>
      <span id="how" class="quiet">Arrow keys move it, with Shift they size it.</span>`;
  }

  /** Where the window lies; never too narrow to be seen. */
  #place(time: Span<Seconds>, limits: Extent): { left: number; width: number } {
    const axis = this.#axis(limits);
    const [from, to] = [axis.pixel(time.from), axis.pixel(time.to)];
    const width = Math.min(Math.max(to - from, LEAST_WINDOW), this.width);
    const left = Math.min(Math.max((from + to - width) / 2, 0), this.width - width);
    return { left, width };
  }

  /** Ticks where pulses are, so that they are found again however small the picture is. */
  #mark(): void {
    const canvas = this.renderRoot.querySelector<HTMLCanvasElement>('.marks');
    const limits = this.#limits();
    const strip = this.#strip();
    const context = canvas?.getContext('2d');
    if (!canvas || !limits || !strip || !context) {
      return;
    }
    const ratio = devicePixelRatio;
    const height = strip.clientHeight;
    canvas.width = Math.round(this.width * ratio);
    canvas.height = Math.round(height * ratio);
    context.scale(ratio, ratio);
    const style = getComputedStyle(this);
    const axis = this.#axis(limits);
    for (const [name, width, length] of [['--halo', 3.5, 8], ['--mark', 1.5, 7]] as const) {
      context.strokeStyle = style.getPropertyValue(name);
      context.lineWidth = width;
      context.beginPath();
      for (const { pulse } of this.sounds) {
        const x = axis.pixel(seconds((pulse.start_s + pulse.end_s) / 2));
        context.moveTo(x, 0);
        context.lineTo(x, isDoubted(pulse) ? length / 2 : length);
      }
      context.stroke();
    }
  }

  readonly #down = (event: PointerEvent): void => {
    const limits = this.#limits();
    const { extent } = this.recording;
    if (!limits || !extent || event.button !== 0) {
      return;
    }
    event.preventDefault();
    this.renderRoot.querySelector<HTMLElement>('.window')?.focus({ preventScroll: true });
    const x = this.#x(event);
    const { left, width } = this.#place(extent.time, limits);
    const gripped = width >= LEAST_WITH_EDGES;
    let grip: Grip = 'middle';
    if (gripped && Math.abs(x - left) <= EDGE) {
      grip = 'from';
    } else if (gripped && Math.abs(x - left - width) <= EDGE) {
      grip = 'to';
    }
    const axis = this.#axis(limits);
    const beside = x < left - EDGE || x > left + width + EDGE;
    const middle = axis.pixel(seconds((extent.time.from + extent.time.to) / 2));
    this.#hold = { grip, pointer: event.pointerId, offset: beside ? 0 : x - middle };
    this.#strip()?.setPointerCapture(event.pointerId);
    if (beside) {
      this.#drag(x, 'leap');
    }
  };

  readonly #move = (event: PointerEvent): void => {
    if (this.#hold?.pointer === event.pointerId) {
      this.#drag(this.#x(event), 'moving');
    }
  };

  readonly #up = (event: PointerEvent): void => {
    if (this.#hold?.pointer === event.pointerId) {
      this.#hold = null;
      this.#look(this.recording.extent, 'rest');
    }
  };

  #drag(x: number, manner: Manner): void {
    const limits = this.#limits();
    const { extent } = this.recording;
    if (!limits || !extent || !this.#hold) {
      return;
    }
    const axis = this.#axis(limits);
    const { from, to } = extent.time;
    if (this.#hold.grip === 'middle') {
      const time = seconds(axis.value(cssPx(x - this.#hold.offset)) - (from + to) / 2);
      this.#look(moved(extent, limits, { time }), manner);
      return;
    }
    const at = axis.value(cssPx(Math.min(Math.max(x, 0), this.width)));
    const isFrom = this.#hold.grip === 'from';
    const time = { from: isFrom ? at : from, to: isFrom ? to : at };
    if (time.to > time.from) {
      this.#look(within({ ...extent, time }, limits), manner);
    }
  }

  #key(event: KeyboardEvent): void {
    const limits = this.#limits();
    const { extent } = this.recording;
    if (!limits || !extent || event.ctrlKey || event.metaKey || event.altKey) {
      return;
    }
    const length = extent.time.to - extent.time.from;
    const middle = seconds((extent.time.from + extent.time.to) / 2);
    const by = (time: number) => moved(extent, limits, { time: seconds(time) });
    const sized = (factor: number) => zoomedInTime(extent, limits, factor, middle);
    const { shiftKey } = event;
    const views: Readonly<Record<string, (() => Extent) | undefined>> = {
      ArrowLeft: () => (shiftKey ? sized(1 / GROWTH) : by(-length * STEP)),
      ArrowDown: () => (shiftKey ? sized(1 / GROWTH) : by(-length * STEP)),
      ArrowRight: () => (shiftKey ? sized(GROWTH) : by(length * STEP)),
      ArrowUp: () => (shiftKey ? sized(GROWTH) : by(length * STEP)),
      PageDown: () => by(-length),
      PageUp: () => by(length),
      Home: () => by(limits.time.from - extent.time.from),
      End: () => by(limits.time.to - extent.time.to),
    };
    const view = views[event.key];
    if (view) {
      event.preventDefault();
      this.#look(view(), 'rest');
    }
  }

  #look(extent: Extent | null, manner: Manner): void {
    if (extent) {
      this.dispatchEvent(new LookEvent(extent, manner));
    }
  }

  #x(event: PointerEvent): number {
    return event.clientX - (this.#strip()?.getBoundingClientRect().left ?? 0);
  }

  #axis(limits: Extent): Axis<Seconds> {
    return new Axis(limits.time, cssPx(0), this.width);
  }

  #limits(): Extent | null {
    const { opened, extent } = this.recording;
    if (!opened) {
      return null;
    }
    const all = whole(opened.facts);
    // Frequencies stay as they are here, on whatever scale.
    return extent ? { time: all.time, frequency: extent.frequency } : all;
  }

  #measure(): void {
    this.width = cssPx(this.#strip()?.clientWidth ?? 0);
  }

  #strip(): HTMLElement | null {
    return this.renderRoot.querySelector<HTMLElement>('.strip');
  }

  static override styles = [base, layerStyles, overviewStyles];
}

customElements.define('overview-strip', OverviewStrip);

declare global {
  interface HTMLElementTagNameMap {
    'overview-strip': OverviewStrip;
  }
}
