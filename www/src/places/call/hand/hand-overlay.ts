import { html, LitElement, nothing, svg, type PropertyValues, type TemplateResult } from 'lit';
import type { Axis } from '../../../axis.ts';
import type { Pulse } from '../../../core/client.ts';
import { base } from '../../../parts/base-styles.ts';
import { watch } from '../../../store.ts';
import { cssPx, kilohertz, seconds, type CssPx, type Kilohertz, type Seconds } from '../../../units.ts';
import { whole, type Extent } from '../extent.ts';
import { spanWords } from '../picture/ticks.ts';
import type { Recording } from '../recordings.ts';
import type { Session } from '../session.ts';
import type { Sound } from '../sounds.ts';
import { bandAfter, bandAtMiddle, bandBetween, bandWithin } from './band.ts';
import { marksOf, namedEntries } from './matching.ts';
import { overlayStyles } from './overlay-styles.ts';
import './pulse-handles.ts';

/** A press that moves less than this marks nothing, CSS pixels. */
const SLACK = 4;
/** Steps that a key is to the right and up. */
const ARROWS: Readonly<Record<string, readonly [number, number] | undefined>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/**
 * What a person marks and does by hand, over the picture: the band, corrected contours, pulses that were added or set
 * aside, and the handles of the chosen pulse. Everything by hand is dashed and carries a letter.
 */
export class HandOverlay extends LitElement {
  static override properties = {
    session: { attribute: false },
    recording: { attribute: false },
    sounds: { attribute: false },
    selected: { attribute: false },
    handles: { attribute: false },
    time: { attribute: false },
    frequency: { attribute: false },
    width: { attribute: false },
    height: { attribute: false },
  };

  declare session: Session;
  declare recording: Recording;
  declare sounds: readonly Sound[];
  /** Index into `sounds`. */
  declare selected: number | null;
  /** Whether the chosen pulse has handles. */
  declare handles: boolean;
  declare time: Axis<Seconds>;
  declare frequency: Axis<Kilohertz>;
  declare width: CssPx;
  declare height: CssPx;

  #corner: { pointer: number; x: number; y: number; drawn: boolean } | null = null;
  #marking = false;

  override willUpdate(): void {
    watch(this, this.session.hand.store, this.session.keeping.store);
  }

  override updated(changed: PropertyValues<this>): void {
    const marking = this.session.hand.store.value.marking;
    if (marking !== this.#marking) {
      this.#marking = marking;
      const catcher = this.renderRoot.querySelector<HTMLElement>('.catcher');
      if (marking) {
        catcher?.focus({ preventScroll: true });
      } else if (!changed.has('recording')) {
        this.parentElement?.focus({ preventScroll: true });
      }
    }
  }

  override render(): TemplateResult {
    const marking = this.session.hand.store.value.marking;
    const { band } = this.recording;
    const sound = this.selected === null ? undefined : this.sounds[this.selected];
    return html`
      <svg class="over" width=${this.width} height=${this.height} aria-hidden="true">
        ${this.#entries()} ${band ? this.#band(band) : nothing}
      </svg>
      ${this.handles && sound && !marking
        ? html`<pulse-handles
            .desk=${this.session.hand}
            .recording=${this.recording}
            .sound=${sound}
            .time=${this.time}
            .frequency=${this.frequency}
            .height=${this.height}
          ></pulse-handles>`
        : nothing}
      ${marking ? this.#catcher(band) : nothing}
    `;
  }

  /** What takes drags and keys while a band is marked. */
  #catcher(band: Extent | null): TemplateResult {
    const words = band
      ? `${spanWords(band.time.from, band.time.to, 's', 5)}, ${spanWords(band.frequency.from, band.frequency.to, 'kHz', 2)}`
      : 'none yet';
    return html`<div
        class="catcher"
        tabindex="0"
        role="application"
        aria-roledescription="band"
        aria-label="Band: ${words}"
        aria-describedby="how"
        @pointerdown=${this.#down}
        @pointermove=${this.#move}
        @pointerup=${this.#up}
        @pointercancel=${this.#up}
        @dblclick=${(event: Event) => event.stopPropagation()}
        @keydown=${this.#key}
      ></div>
      <p class="how" id="how">
        <b>Marking a band.</b> Drag, or arrow keys: they move it, with Shift they size it. Enter measures, Esc ends.
      </p>
      <span class="quiet" aria-live="polite">${words}</span>`;
  }

  #band({ time, frequency }: Extent): TemplateResult {
    const left = this.time.pixel(time.from);
    const right = this.time.pixel(time.to);
    const top = this.frequency.pixel(frequency.to);
    const bottom = this.frequency.pixel(frequency.from);
    const box = { x: left, y: top, width: Math.max(1, right - left), height: Math.max(1, bottom - top) };
    const drawn = (name: string): TemplateResult =>
      svg`<rect class=${name} x=${box.x} y=${box.y} width=${box.width} height=${box.height} />`;
    return svg`${drawn('halo')}${drawn('band')}<text x=${left + 6} y=${top + 17}>band</text>`;
  }

  #entries(): TemplateResult[] {
    const { recording } = this;
    const entries = this.session.hand.entries(recording);
    const named = namedEntries(recording, entries).flatMap(({ name, entry }) => {
      const pulse = entry.kind === 'interval' ? undefined : entry.measurement.pulse;
      return pulse && this.#inView(pulse) ? [this.#contour(pulse, name)] : [];
    });
    const aside = [...marksOf(recording, entries)]
      .filter(([pulse, mark]) => mark.aside !== null && this.#inView(pulse))
      .map(([pulse]) => this.#cross(pulse));
    return [...named, ...aside];
  }

  #contour(pulse: Pulse, name: string): TemplateResult {
    const { contour } = pulse;
    const points = contour.khz.map((khz, index) => {
      const x = this.time.pixel(seconds(contour.start_s + index * contour.step_s));
      return `${x.toFixed(1)},${this.frequency.pixel(kilohertz(khz)).toFixed(1)}`;
    });
    const middle = this.time.pixel(seconds((pulse.start_s + pulse.end_s) / 2));
    const bottom = Math.min(this.frequency.pixel(kilohertz(pulse.low_khz)) + 22, this.height - 4);
    const line = points.join(' ');
    return svg`<polyline class="halo" points=${line} /><polyline class="contour" points=${line} />
      <text x=${middle} y=${bottom} text-anchor="middle">${name}</text>`;
  }

  #cross(pulse: Pulse): TemplateResult {
    const left = this.time.pixel(seconds(pulse.start_s)) - 5;
    const right = this.time.pixel(seconds(pulse.end_s)) + 5;
    const top = this.frequency.pixel(kilohertz(pulse.high_khz)) - 5;
    const bottom = this.frequency.pixel(kilohertz(pulse.low_khz)) + 5;
    const d = `M${left} ${top}L${right} ${bottom}M${left} ${bottom}L${right} ${top}`;
    return svg`<path class="halo" d=${d} /><path class="cross" d=${d} />`;
  }

  #inView({ start_s, end_s }: Pulse): boolean {
    return end_s >= this.time.span.from && start_s <= this.time.span.to;
  }

  readonly #down = (event: PointerEvent): void => {
    // Gestures of the picture rest while a band is marked.
    event.stopPropagation();
    if (event.pointerType === 'mouse' && event.button !== 0) {
      return;
    }
    if (this.#corner) {
      // A second finger marks nothing.
      this.#corner = null;
      return;
    }
    const catcher = event.currentTarget as HTMLElement;
    catcher.setPointerCapture(event.pointerId);
    catcher.focus({ preventScroll: true });
    const { x, y } = this.#place(event);
    this.#corner = { pointer: event.pointerId, x, y, drawn: false };
  };

  readonly #move = (event: PointerEvent): void => {
    const corner = this.#corner;
    const limits = this.#limits();
    if (!corner || corner.pointer !== event.pointerId || !limits) {
      return;
    }
    const { x, y } = this.#place(event);
    corner.drawn ||= Math.hypot(x - corner.x, y - corner.y) >= SLACK;
    const at = (px: number, py: number): { s: number; khz: number } => ({
      s: this.time.value(cssPx(px)),
      khz: this.frequency.value(cssPx(py)),
    });
    const band = corner.drawn ? bandWithin(bandBetween(at(corner.x, corner.y), at(x, y)), limits) : null;
    if (band) {
      this.session.mark(this.recording.id, band);
    }
  };

  readonly #up = (event: PointerEvent): void => {
    event.stopPropagation();
    const corner = this.#corner;
    if (corner?.pointer === event.pointerId) {
      this.#corner = null;
      if (corner.drawn && event.type === 'pointerup') {
        this.session.hand.measureBand(this.recording);
      }
    }
  };

  readonly #key = (event: KeyboardEvent): void => {
    const { session, recording } = this;
    const limits = this.#limits();
    if (event.ctrlKey || event.metaKey || event.altKey || !limits || !recording.extent) {
      return;
    }
    const arrow = ARROWS[event.code];
    const band = recording.band ?? bandWithin(bandAtMiddle(recording.extent), limits);
    if (arrow && band) {
      const [right, up] = arrow;
      const begun = recording.band === null;
      const next = begun ? band : bandAfter(band, recording.extent, limits, right, up, event.shiftKey);
      session.mark(recording.id, next);
    } else if (event.key === 'Enter' && recording.band) {
      session.hand.measureBand(recording);
    } else if (event.key === 'Enter' && band) {
      session.mark(recording.id, band);
    } else if (event.key === 'Escape') {
      session.hand.mark(false);
    } else if (event.key === 'Delete' || event.key === 'Backspace') {
      session.mark(recording.id, null);
    } else {
      return;
    }
    event.preventDefault();
    event.stopPropagation();
  };

  #place(event: PointerEvent): { x: number; y: number } {
    const box = this.getBoundingClientRect();
    return { x: inside(event.clientX - box.left, this.width), y: inside(event.clientY - box.top, this.height) };
  }

  #limits(): Extent | null {
    const { opened } = this.recording;
    return opened ? whole(opened.facts) : null;
  }

  static override styles = [base, overlayStyles];
}

function inside(value: number, most: number): number {
  return Math.min(Math.max(value, 0), most);
}

customElements.define('hand-overlay', HandOverlay);

declare global {
  interface HTMLElementTagNameMap {
    'hand-overlay': HandOverlay;
  }
}
