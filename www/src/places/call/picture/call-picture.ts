import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { Axis } from '../../../axis.ts';
import type { ColourMap, Core } from '../../../core/client.ts';
import { frames } from '../../../frames.ts';
import { base } from '../../../parts/base-styles.ts';
import { isInked } from '../../../themes.ts';
import {
  bitmapPx,
  cssPx,
  kilohertz,
  seconds,
  type CssPx,
  type Kilohertz,
  type Seconds,
} from '../../../units.ts';
import { whole, within, type Extent } from '../extent.ts';
import { fixed } from '../plus-minus.ts';
import { countOf, type Recording } from '../recordings.ts';
import { isDoubted, type Sound } from '../sounds.ts';
import { doubtedCount } from '../summary-words.ts';
import { WINDOWS } from '../words.ts';
import { axes } from './axes.ts';
import './cross-hair.ts';
import type { CrossHair, Sight } from './cross-hair.ts';
import { CaptionEvent, DeedEvent, DrawnEvent, LookEvent, PickEvent, StageEvent } from './events.ts';
import { Gestures, type Point } from './gestures.ts';
import { deedOf, type Deed } from './keys.ts';
import { drawLayers, type Layer } from './layers.ts';
import './level-legend.ts';
import type { PictureLook } from './look.ts';
import { drawMarks, soundAt, type Pen } from './overlay.ts';
import { Painter, type Caption } from './painter.ts';
import { layerStyles } from './layer-styles.ts';
import { pictureStyles } from './picture-styles.ts';
import { frequencyRuler, spanWords, timeRuler } from './ticks.ts';

/** What is laid over the picture, on its axes. */
export type OverPicture = (
  time: Axis<Seconds>,
  frequency: Axis<Kilohertz>,
  width: CssPx,
  height: CssPx,
) => TemplateResult;

/**
 * The spectrogram with its axes, contours and numbers. It shows what it is
 * given and tells of every wish by an event; it keeps no view of its own.
 *
 * @fires look - a new view
 * @fires pick - a pulse was clicked
 * @fires deed - a key was pressed
 * @fires caption - what there is to say of the picture changed
 * @fires drawn - more of the whole recording is drawn
 */
export class CallPicture extends LitElement {
  static override properties = {
    core: { attribute: false },
    recording: { attribute: false },
    sounds: { attribute: false },
    selected: { attribute: false },
    map: { attribute: false },
    look: { attribute: false },
    contours: { attribute: false },
    layers: { attribute: false },
    theme: { attribute: false },
    over: { attribute: false },
    width: { state: true },
    height: { state: true },
  };

  declare core: Core;
  declare recording: Recording;
  /** The pulses, and the doubted sounds where these are shown. */
  declare sounds: readonly Sound[];
  /** Index into `sounds`. */
  declare selected: number | null;
  declare map: ColourMap;
  declare look: PictureLook;
  declare contours: boolean;
  /** Drawn over everything else; whoever keeps one that moves by itself calls `redraw`. */
  declare layers: readonly Layer[];
  /** The theme's name, so that colours are read again when it changes. */
  declare theme: string;
  /** Draws what lies over the picture and takes drags of its own. */
  declare over: OverPicture | null;
  declare width: CssPx;
  declare height: CssPx;

  readonly #painter = new Painter(
    () => this.redraw(),
    () => this.#told(),
  );
  #caption: Caption | null = null;
  readonly #resize = new ResizeObserver(() => this.#measureStage());

  constructor() {
    super();
    this.over = null;
    this.width = cssPx(0);
    this.height = cssPx(0);
    this.layers = [];
  }

  /** Draws picture and marks anew in the next frame. */
  redraw(): void {
    frames.request(this, () => this.#paint());
  }

  /** Puts the keyboard into the picture. */
  override focus(options?: FocusOptions): void {
    this.#stage()?.focus(options);
  }

  override firstUpdated(): void {
    const element = this.#stage();
    if (!element) {
      return;
    }
    this.#resize.observe(element);
    const hair = this.#hair();
    if (hair) {
      hair.sight = () => this.#sight();
      hair.redraw = () => this.redraw();
    }
    const gestures = new Gestures({
      element,
      extent: () => this.#extent(),
      limits: () => this.#limits(),
      time: () => this.#time(),
      frequency: () => this.#frequency(),
      look: (extent, manner) => this.dispatchEvent(new LookEvent(extent, manner)),
      click: (point) => this.#click(point),
      hover: (point) => this.#hair()?.hover(point),
    });
    gestures.start();
    // What had the focus went away when the recording came: its keys shall work at once.
    if (document.activeElement === document.body) {
      this.focus({ preventScroll: true });
    }
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#resize.disconnect();
    this.#painter.clear();
    frames.drop(this);
  }

  override updated(_changed: PropertyValues<this>): void {
    this.redraw();
  }

  override render(): TemplateResult {
    const { width, height } = this;
    const time = timeRuler(this.#time(), width);
    const frequency = frequencyRuler(this.#frequency(), height);
    return html`
      <div class="plot">
        ${this.recording.extent ? axes(time, frequency, width, height) : nothing}
        <div
          class="stage"
          tabindex="0"
          role="application"
          aria-roledescription="spectrogram"
          aria-label=${this.#description()}
          aria-describedby="hint"
          style=${this.#panning()}
          @keydown=${this.#key}
          @dblclick=${() => this.#deed('whole')}
        >
          <canvas class=${isInked(this.map) ? 'sound inked' : 'sound'}></canvas>
          <div class="red"></div>
          <canvas class="marks"></canvas>
          ${this.over?.(this.#time(), this.#frequency(), width, height) ?? nothing}
        </div>
        ${this.#over()}
        <p id="hint" class="quiet">
          Arrow keys move, plus and minus zoom, comma and full stop go from pulse to pulse, question
          mark lists all keys. The table below holds all numbers.
        </p>
      </div>
      <div class="foot">
        <level-legend
          .core=${this.core}
          .map=${this.map}
          .caption=${this.#painter.caption}
        ></level-legend>
        ${this.#windowWords()}
        <cross-hair></cross-hair>
      </div>
    `;
  }

  #windowWords(): TemplateResult | typeof nothing {
    const { caption } = this.#painter;
    return caption
      ? html`<span>${WINDOWS[caption.window]} window, ${fixed(caption.windowMs, 2)} ms</span>`
      : nothing;
  }

  /** For those who draw the whole recording small. */
  get painter(): Painter {
    return this.#painter;
  }

  /** What is said of the picture changed. */
  #told(): void {
    const { caption } = this.#painter;
    if (caption !== this.#caption) {
      this.#caption = caption;
      this.dispatchEvent(new CaptionEvent(caption));
    }
    this.requestUpdate();
  }

  /** Shown over the picture while it is drawn, or when it could not be. */
  #over(): TemplateResult | typeof nothing {
    const { share, problem } = this.#painter;
    if (problem !== null) {
      return html`<p class="over problem">The picture could not be drawn: ${problem}</p>`;
    }
    return share === null
      ? nothing
      : html`<div class="over late">
          <label>Drawing <progress max="1" .value=${share}></progress></label>
          <span>${Math.round(share * 100)} %</span>
          <button @click=${() => this.#painter.stop()}>Stop drawing</button>
        </div>`;
  }

  #description(): string {
    const extent = this.#extent();
    if (!extent) {
      return 'Spectrogram, not drawn yet';
    }
    const { time, frequency } = extent;
    const inView = this.sounds
      .map(({ pulse }) => pulse)
      .filter((pulse) => pulse.end_s >= time.from && pulse.start_s <= time.to);
    const doubted = inView.filter(isDoubted).length;
    return [
      'Spectrogram',
      spanWords(time.from, time.to, 's', 4),
      spanWords(frequency.from, frequency.to, 'kHz', 1),
      countOf(inView.filter((pulse) => !isDoubted(pulse))),
      ...(doubted > 0 ? [doubtedCount(doubted)] : []),
    ].join(', ');
  }

  /** Where there is nothing to move up or down, a finger scrolls the page. */
  #panning(): string {
    const extent = this.#extent();
    const limits = this.#limits();
    const full =
      !extent ||
      !limits ||
      (extent.frequency.from <= limits.frequency.from &&
        extent.frequency.to >= limits.frequency.to);
    return full ? 'touch-action: pan-y' : 'touch-action: none';
  }

  #paint(): void {
    const { recording, width, height } = this;
    const limits = this.#limits();
    const { opened, channel } = recording;
    const extent = this.#extent();
    const ratio = devicePixelRatio;
    if (!opened || !extent || !limits || width < 1 || height < 1) {
      return;
    }
    const size = { width: bitmapPx(width, ratio), height: bitmapPx(height, ratio) };
    const { core, map, look } = this;
    this.#painter.want({ core, opened, channel, extent, limits, map, look, ...size });
    const sound = this.#context('.sound', size);
    const marks = this.#context('.marks', size);
    if (!sound || !marks) {
      return;
    }
    this.#painter.paint(
      sound,
      new Axis(extent.time, cssPx(0), cssPx(size.width)),
      new Axis(extent.frequency, cssPx(size.height), cssPx(0), look.scale),
    );
    sound.canvas.dataset['sharp'] = String(this.#painter.isSharp);
    this.dispatchEvent(new DrawnEvent());
    marks.scale(ratio, ratio);
    const { sounds, selected, contours } = this;
    const shown = { sounds, selected, contours };
    const pen = this.#pen();
    drawMarks(marks, shown, this.#time(), this.#frequency(), pen);
    const hair = this.#hair();
    hair?.refresh();
    drawLayers(marks, recording, hair ? [...this.layers, hair] : this.layers, this.#time(), this.#frequency(), pen);
  }

  #context(
    selector: string,
    size: { width: number; height: number },
  ): CanvasRenderingContext2D | null {
    const canvas = this.renderRoot.querySelector<HTMLCanvasElement>(selector);
    if (!canvas) {
      return null;
    }
    if (canvas.width !== size.width || canvas.height !== size.height) {
      canvas.width = size.width;
      canvas.height = size.height;
    }
    const context = canvas.getContext('2d');
    context?.resetTransform();
    context?.clearRect(0, 0, size.width, size.height);
    return context;
  }

  #pen(): Pen {
    const style = getComputedStyle(this);
    return {
      line: style.getPropertyValue('--mark'),
      halo: style.getPropertyValue('--halo'),
      font: `600 15px ${style.getPropertyValue('--plain')}`,
    };
  }

  #click(point: Point): void {
    this.dispatchEvent(
      new PickEvent(soundAt(this.sounds, point, this.#time(), this.#frequency())),
    );
  }

  #key(event: KeyboardEvent): void {
    if (this.#hair()?.key(event) === true) {
      event.preventDefault();
      return;
    }
    const deed = deedOf(event);
    if (deed === 'cross-hair') {
      this.#hair()?.toggle();
    } else if (deed) {
      this.#deed(deed);
    }
    if (deed) {
      event.preventDefault();
    }
  }

  #deed(deed: Deed): void {
    this.dispatchEvent(new DeedEvent(deed));
  }

  #measureStage(): void {
    const stage = this.#stage();
    if (stage) {
      this.width = cssPx(stage.clientWidth);
      this.height = cssPx(stage.clientHeight);
      const top = stage.getBoundingClientRect().top - this.getBoundingClientRect().top;
      this.dispatchEvent(new StageEvent(cssPx(top), this.height));
    }
  }

  #stage(): HTMLElement | null {
    return this.renderRoot.querySelector<HTMLElement>('.stage');
  }

  #limits(): Extent | null {
    const { opened } = this.recording;
    return opened ? whole(opened.facts, this.look.scale) : null;
  }

  /** The view, which an axis that has no 0 may cut. */
  #extent(): Extent | null {
    const { extent } = this.recording;
    const limits = this.#limits();
    return extent && limits && extent.frequency.from < limits.frequency.from ? within(extent, limits) : extent;
  }

  #hair(): CrossHair | null {
    return this.renderRoot.querySelector('cross-hair');
  }

  #sight(): Sight {
    const { width, height } = this;
    const levelAt = (time: Seconds, frequency: Kilohertz) => this.#painter.levelAt(time, frequency);
    return { time: this.#time(), frequency: this.#frequency(), width, height, levelAt };
  }

  #time(): Axis<Seconds> {
    const span = this.recording.extent?.time ?? { from: seconds(0), to: seconds(1) };
    return new Axis(span, cssPx(0), this.width);
  }

  #frequency(): Axis<Kilohertz> {
    const span = this.#extent()?.frequency ?? {
      from: kilohertz(1),
      to: kilohertz(2),
    };
    return new Axis(span, this.height, cssPx(0), this.look.scale);
  }

  static override styles = [base, layerStyles, pictureStyles];
}

customElements.define('call-picture', CallPicture);

declare global {
  interface HTMLElementTagNameMap {
    'call-picture': CallPicture;
  }
}
