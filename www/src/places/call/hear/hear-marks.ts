import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Axis } from '../../../axis.ts';
import { base } from '../../../parts/base-styles.ts';
import { watch } from '../../../store.ts';
import { cssPx, kilohertz, seconds, type CssPx, type Kilohertz, type Seconds } from '../../../units.ts';
import { whole, moved } from '../extent.ts';
import { LookEvent } from '../picture/events.ts';
import { fixed } from '../plus-minus.ts';
import type { Recording } from '../recordings.ts';
import { highestTuning, LOWEST_KHZ, TUNING_STEP_KHZ, tuningWithin } from './choice.ts';
import type { Hearing } from './hearing.ts';

/** Who wants little motion sees the playhead step, so often. */
const STEP_MS = 500;
/** Where the playhead stands in a view that has just followed it, as a share of the view. */
const AFTER_TURN = 0.05;

/**
 * Over the picture: the playhead, and the line that a heterodyne is tuned to, which can be dragged.
 *
 * @fires look - the view follows the sound
 */
export class HearMarks extends LitElement {
  static override properties = {
    hearing: { attribute: false },
    recording: { attribute: false },
    time: { attribute: false },
    frequency: { attribute: false },
    width: { attribute: false },
    height: { attribute: false },
  };

  declare hearing: Hearing;
  declare recording: Recording;
  declare time: Axis<Seconds>;
  declare frequency: Axis<Kilohertz>;
  declare width: CssPx;
  declare height: CssPx;

  readonly #still = matchMedia('(prefers-reduced-motion: reduce)');
  #frame = 0;
  #moved = -Infinity;

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    cancelAnimationFrame(this.#frame);
  }

  override willUpdate(): void {
    watch(this, this.hearing.store);
  }

  override updated(): void {
    cancelAnimationFrame(this.#frame);
    this.#moved = -Infinity;
    this.#move();
  }

  override render(): TemplateResult {
    const { choice, playing } = this.hearing.store.value;
    return html`
      ${playing?.recording === this.recording.id ? html`<div class="head" hidden></div>` : nothing}
      ${choice.way === 'heterodyne' ? this.#line(choice.tuning) : nothing}
    `;
  }

  #line(wanted: Kilohertz): TemplateResult | typeof nothing {
    const facts = this.recording.opened?.facts;
    if (!facts) {
      return nothing;
    }
    const tuning = tuningWithin(wanted, facts);
    const { from, to } = this.frequency.span;
    const isInView = tuning >= from && tuning <= to;
    const words = `${fixed(tuning, 1)} kHz`;
    return html`<div
      class="line"
      ?hidden=${!isInView}
      style="top: ${this.frequency.pixel(tuning)}px"
      role="slider"
      tabindex="0"
      aria-orientation="vertical"
      aria-label="Tuning"
      aria-valuemin=${LOWEST_KHZ}
      aria-valuemax=${highestTuning(facts)}
      aria-valuenow=${tuning}
      aria-valuetext=${words}
      @pointerdown=${this.#grab}
      @pointermove=${this.#drag}
      @pointerup=${stay}
      @dblclick=${stay}
      @keydown=${this.#key}
    ><span class="tag">${words}</span></div>`;
  }

  #grab(event: PointerEvent): void {
    if (event.button !== 0) {
      return;
    }
    // The picture must not move along.
    event.stopPropagation();
    (event.currentTarget as HTMLElement).setPointerCapture(event.pointerId);
  }

  #drag(event: PointerEvent): void {
    const line = event.currentTarget as HTMLElement;
    if (line.hasPointerCapture(event.pointerId)) {
      event.stopPropagation();
      const top = this.getBoundingClientRect().top;
      this.#tune(this.frequency.value(cssPx(event.clientY - top)));
    }
  }

  #key(event: KeyboardEvent): void {
    const steps: Readonly<Record<string, number | undefined>> = {
      ArrowUp: 1,
      ArrowRight: 1,
      ArrowDown: -1,
      ArrowLeft: -1,
      PageUp: 10,
      PageDown: -10,
    };
    const by = steps[event.key];
    if (by !== undefined && !event.ctrlKey && !event.metaKey && !event.altKey) {
      event.preventDefault();
      event.stopPropagation();
      this.#tune(kilohertz(this.hearing.store.value.choice.tuning + by * TUNING_STEP_KHZ));
    }
  }

  #tune(tuning: Kilohertz): void {
    const facts = this.recording.opened?.facts;
    if (facts) {
      this.hearing.change({ tuning: tuningWithin(tuning, facts) });
    }
  }

  /** Puts the playhead where the sound is, again and again. */
  #move(): void {
    const head = this.renderRoot.querySelector<HTMLElement>('.head');
    const place = head && this.hearing.place;
    if (head === null) {
      return;
    }
    const now = performance.now();
    const isDue = !this.#still.matches || now - this.#moved >= STEP_MS;
    if (place !== null && isDue) {
      this.#moved = now;
      const { from, to } = this.time.span;
      head.hidden = place < from || place > to;
      head.style.transform = `translateX(${this.time.pixel(place)}px)`;
      head.dataset['at'] = String(place);
      this.#follow(place);
    }
    this.#frame = requestAnimationFrame(() => this.#move());
  }

  /** Turns to where the sound is, if that is asked for and out of sight. */
  #follow(place: Seconds): void {
    const { extent, opened } = this.recording;
    const { from, to } = this.time.span;
    if (!this.hearing.store.value.choice.follow || !extent || !opened || (place >= from && place <= to)) {
      return;
    }
    const by = seconds(place - from - (to - from) * AFTER_TURN);
    const next = moved(extent, whole(opened.facts), { time: by });
    if (next.time.from !== extent.time.from) {
      this.dispatchEvent(new LookEvent(next, 'rest'));
    }
  }

  static override styles = [
    base,
    css`
      :host {
        position: absolute;
        inset: 0;
        pointer-events: none;
      }
      .head {
        position: absolute;
        inset: 0 auto 0 0;
        width: 2px;
        margin-left: -1px;
        background: var(--mark);
        box-shadow: 0 0 0 1.5px var(--halo);
      }
      .head::before {
        content: '';
        position: absolute;
        top: 0;
        left: -6px;
        border: 7px solid transparent;
        border-top: 10px solid var(--mark);
        border-bottom: 0;
      }
      .line {
        position: absolute;
        left: 0;
        right: 0;
        height: 14px;
        margin-top: -7px;
        pointer-events: auto;
        touch-action: none;
        cursor: ns-resize;
      }
      .line::before {
        content: '';
        position: absolute;
        inset: 6px 0;
        background: repeating-linear-gradient(90deg, var(--mark) 0 14px, var(--halo) 14px 18px);
      }
      .line:focus-visible {
        outline-offset: -2px;
      }
      .tag {
        position: absolute;
        right: 8px;
        top: -7px;
        display: inline-flex;
        align-items: center;
        min-height: 28px;
        padding: 0 0.6rem;
        border-radius: 3px;
        background: var(--mark);
        color: var(--halo);
        font: 600 0.85rem var(--plain);
        font-variant-numeric: tabular-nums;
      }
    `,
  ];
}

/** Keeps from the picture what was meant for the line. */
function stay(event: Event): void {
  event.stopPropagation();
}

customElements.define('hear-marks', HearMarks);

declare global {
  interface HTMLElementTagNameMap {
    'hear-marks': HearMarks;
  }
}
