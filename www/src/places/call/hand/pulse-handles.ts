import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Axis } from '../../../axis.ts';
import type { Contour } from '../../../core/client.ts';
import { base } from '../../../parts/base-styles.ts';
import { watch } from '../../../store.ts';
import { cssPx, kilohertz, seconds, type CssPx, type Kilohertz, type Seconds } from '../../../units.ts';
import { fixed } from '../plus-minus.ts';
import type { Recording } from '../recordings.ts';
import type { Sound } from '../sounds.ts';
import { HandDesk, type Draft } from './desk.ts';
import { correctionOf } from './matching.ts';

type Edge = 'start' | 'end';

/** Points of a contour that have handles, at most, and how far apart they are at least, CSS pixels. */
const MOST_POINTS = 9;
const POINTS_APART = 30;
/** A shorter end would reverse it, seconds. */
const SHORTEST_S = 0.1e-3;

/** Handles on the start, the end and some points of the contour of a pulse: to be dragged, or nudged with arrow keys. */
export class PulseHandles extends LitElement {
  static override properties = {
    desk: { attribute: false },
    recording: { attribute: false },
    sound: { attribute: false },
    time: { attribute: false },
    frequency: { attribute: false },
    height: { attribute: false },
  };

  declare desk: HandDesk;
  declare recording: Recording;
  declare sound: Sound;
  declare time: Axis<Seconds>;
  declare frequency: Axis<Kilohertz>;
  declare height: CssPx;

  /** The draft while a handle is dragged, and what is then done. */
  #dragged: { draft: Draft; what: string } | null = null;

  override willUpdate(): void {
    watch(this, this.desk.store);
  }

  override render(): TemplateResult {
    const given = this.desk.given(this.recording, this.sound);
    return html`${this.#edge('start', given)} ${this.#edge('end', given)}
    ${this.#times(given).map((time_s, index) => this.#point(time_s, index, given))}`;
  }

  #edge(edge: Edge, given: Draft): TemplateResult {
    const key = edge === 'start' ? 'start_s' : 'end_s';
    const at = given[key] ?? this.sound.pulse[key];
    const byHand = given[key] !== null;
    const { ms } = this.desk.store.value.step;
    return html`<div class="edge ${edge} ${byHand ? 'hand' : ''}" style="left: ${this.time.pixel(seconds(at))}px; height: ${this.height}px">
      <span
        class="grip"
        tabindex="0"
        role="slider"
        aria-label="${edge === 'start' ? 'Start' : 'End'} of pulse ${this.sound.name}"
        aria-valuenow=${at}
        aria-valuemin="0"
        aria-valuemax=${this.recording.opened?.facts.duration_s ?? 0}
        aria-valuetext="${fixed(at, 5)} s, ${byHand ? 'by hand' : 'automatic'}"
        title="Drag, or left and right arrow keys: ${ms} ms"
        @keydown=${(event: KeyboardEvent) => this.#edgeKey(event, edge)}
        @pointerdown=${this.#down}
        @pointermove=${(event: PointerEvent) => this.#edgeMove(event, edge, given)}
        @pointerup=${this.#up}
        @pointercancel=${this.#cancel}
      >${edge === 'start' ? 'S' : 'E'}</span>
    </div>`;
  }

  #point(time_s: number, index: number, given: Draft): TemplateResult {
    const own = given.points.find((point) => Math.abs(point.time_s - time_s) < 20e-6);
    const khz = own?.khz ?? valueAt(this.#contour(), time_s);
    const { step } = this.desk.store.value;
    const place = `left: ${this.time.pixel(seconds(time_s))}px; top: ${this.frequency.pixel(kilohertz(khz))}px`;
    return html`<span
      class="point ${own ? 'hand' : ''}"
      style=${place}
      tabindex="0"
      role="slider"
      aria-orientation="vertical"
      aria-label="Point ${index + 1} of the contour of pulse ${this.sound.name}"
      aria-valuenow=${khz}
      aria-valuemin="0"
      aria-valuemax=${(this.recording.opened?.facts.rate_hz ?? 0) / 2000}
      aria-valuetext="${fixed(khz, 2)} kHz at ${fixed(time_s, 5)} s, ${own ? 'by hand' : 'automatic'}"
      title="Drag, or up and down arrow keys: ${step.khz} kHz"
      @keydown=${(event: KeyboardEvent) => this.#pointKey(event, time_s, khz, given)}
      @pointerdown=${this.#down}
      @pointermove=${(event: PointerEvent) => this.#pointMove(event, time_s, given)}
      @pointerup=${this.#up}
      @pointercancel=${this.#cancel}
    >${own ? html`<b aria-hidden="true">H</b>` : nothing}</span>`;
  }

  /** Moments of the contour that have handles: those given by hand, and some between them, from start to end. */
  #times(given: Draft): number[] {
    const { pulse } = this.sound;
    const start = given.start_s ?? pulse.start_s;
    const length = (given.end_s ?? pulse.end_s) - start;
    const count = Math.min(MOST_POINTS, Math.floor(this.time.length(seconds(length)) / POINTS_APART) + 1);
    const own = given.points.map(({ time_s }) => time_s);
    if (count < 3) {
      return own;
    }
    const apart = length / (count - 1);
    const even = Array.from({ length: count }, (_, index) => start + index * apart);
    const free = even.filter((time_s) => own.every((other) => Math.abs(other - time_s) > apart / 2));
    return [...own, ...free].toSorted((a, b) => a - b);
  }

  /** The contour as it is by now, with what was corrected. */
  #contour(): Contour {
    const entries = this.desk.entries(this.recording);
    const kept = correctionOf(this.recording, entries, this.sound.pulse);
    return kept?.measurement.pulse?.contour ?? this.sound.pulse.contour;
  }

  #edgeKey(event: KeyboardEvent, edge: Edge): void {
    const by = event.code === 'ArrowLeft' ? -1 : event.code === 'ArrowRight' ? 1 : 0;
    if (by !== 0 && !event.ctrlKey && !event.metaKey && !event.altKey) {
      event.preventDefault();
      event.stopPropagation();
      this.desk.nudge(this.recording, this.sound, edge, by * this.desk.store.value.step.ms * 1e-3);
    }
  }

  #pointKey(event: KeyboardEvent, time_s: number, khz: number, given: Draft): void {
    const by = event.code === 'ArrowDown' ? -1 : event.code === 'ArrowUp' ? 1 : 0;
    if (by !== 0 && !event.ctrlKey && !event.metaKey && !event.altKey) {
      event.preventDefault();
      event.stopPropagation();
      const next = Number((khz + by * this.desk.store.value.step.khz).toFixed(4));
      const draft = HandDesk.withPoint(given, { time_s, khz: Math.max(0, next) });
      this.desk.correct(this.recording, this.sound, draft, this.#pointWords());
    }
  }

  readonly #down = (event: PointerEvent): void => {
    event.stopPropagation();
    if (event.pointerType === 'mouse' && event.button !== 0) {
      return;
    }
    const handle = event.currentTarget as HTMLElement;
    handle.setPointerCapture(event.pointerId);
    handle.focus({ preventScroll: true });
  };

  #edgeMove(event: PointerEvent, edge: Edge, given: Draft): void {
    if (!isHeld(event)) {
      return;
    }
    const at = Math.max(0, this.#timeOf(event));
    const { pulse } = this.sound;
    const draft =
      edge === 'start'
        ? { ...given, start_s: Math.min(at, (given.end_s ?? pulse.end_s) - SHORTEST_S) }
        : { ...given, end_s: Math.max(at, (given.start_s ?? pulse.start_s) + SHORTEST_S) };
    this.#drag(draft, `move the ${edge} of pulse ${this.sound.name}`);
  }

  #pointMove(event: PointerEvent, time_s: number, given: Draft): void {
    if (isHeld(event)) {
      const box = this.#box();
      const khz = Math.max(0, this.frequency.value(cssPx(event.clientY - box.top)));
      this.#drag(HandDesk.withPoint(given, { time_s, khz }), this.#pointWords());
    }
  }

  #pointWords(): string {
    return `move a point of the contour of pulse ${this.sound.name}`;
  }

  #drag(draft: Draft, what: string): void {
    this.#dragged = { draft, what };
    this.desk.sketch(draft);
  }

  readonly #up = (event: PointerEvent): void => {
    event.stopPropagation();
    const dragged = this.#dragged;
    this.#dragged = null;
    if (dragged) {
      this.desk.correct(this.recording, this.sound, dragged.draft, dragged.what);
    }
  };

  readonly #cancel = (): void => {
    if (this.#dragged) {
      this.#dragged = null;
      this.desk.set({ draft: null });
    }
  };

  #timeOf(event: PointerEvent): number {
    return this.time.value(cssPx(event.clientX - this.#box().left));
  }

  #box(): DOMRect {
    return this.getBoundingClientRect();
  }

  static override styles = [
    base,
    css`
      :host {
        position: absolute;
        inset: 0;
        overflow: hidden;
      }
      .edge {
        position: absolute;
        top: 0;
        width: 0;
        border-left: 2px solid var(--mark);
        filter: drop-shadow(0 0 1.5px var(--halo));
      }
      .edge.hand {
        border-left-style: dashed;
      }
      .grip,
      .point {
        position: absolute;
        display: grid;
        place-content: center;
        pointer-events: auto;
        touch-action: none;
        font-size: 0.82rem;
        font-weight: 600;
        color: var(--mark);
        background: var(--halo);
        border: 2px solid var(--mark);
        user-select: none;
      }
      .grip {
        top: 4px;
        width: 28px;
        height: 28px;
        cursor: ew-resize;
      }
      .start .grip {
        right: 0;
        border-radius: 14px 0 0 14px;
      }
      .end .grip {
        left: -2px;
        border-radius: 0 14px 14px 0;
      }
      .hand > .grip,
      .point.hand {
        border-style: dashed;
      }
      .point {
        width: 24px;
        height: 24px;
        margin: -12px 0 0 -12px;
        cursor: ns-resize;
        /* A ring: the sound stays in sight within it. */
        background: none;
        border-radius: 50%;
        border-width: 1.5px;
      }
      .point b {
        text-shadow: 0 0 3px var(--halo), 0 0 3px var(--halo);
      }
      @media (pointer: coarse) {
        .grip {
          width: 44px;
          height: 44px;
        }
      }
    `,
  ];
}

/** Whether a pointer drags the handle that the event is of. */
function isHeld(event: PointerEvent): boolean {
  return (event.currentTarget as HTMLElement).hasPointerCapture(event.pointerId);
}

/** The contour's own value nearest to a time. */
function valueAt(contour: Contour, time_s: number): number {
  const index = Math.round((time_s - contour.start_s) / contour.step_s);
  return contour.khz[Math.min(Math.max(index, 0), contour.khz.length - 1)] ?? 0;
}

customElements.define('pulse-handles', PulseHandles);

declare global {
  interface HTMLElementTagNameMap {
    'pulse-handles': PulseHandles;
  }
}
