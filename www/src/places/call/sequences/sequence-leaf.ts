import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Span } from '../../../axis.ts';
import { base } from '../../../parts/base-styles.ts';
import type { Theme } from '../../../themes.ts';
import { kilohertz, seconds, type Seconds } from '../../../units.ts';
import { hasEnded, type Recording } from '../recordings.ts';
import { toolStyles } from '../sheet/tool-styles.ts';
import type { Sound } from '../sounds.ts';
import { lanesOf, PITCHES, type Lane, type Pitch } from './lane.ts';
import type { LaneScale } from './sequence-lane.ts';
import './sequence-lane.ts';

/** Room on either side of the first and the last pulse, as a share of the time between them; and the least time shown. */
const MARGIN_SHARE = 0.03;
const LEAST_S = 0.2;
const MARGIN_KHZ = 3;

/** Sequences side by side: the frequencies of their pulses and their intervals, on scales that all of them share. */
export class SequenceLeaf extends LitElement {
  static override properties = {
    recording: { attribute: false },
    sounds: { attribute: false },
    selected: { attribute: false },
    theme: { attribute: false },
    pitch: { state: true },
    isLog: { state: true },
    asPicture: { state: true },
  };

  declare recording: Recording;
  /** The pulses, and the doubted sounds where these are shown. */
  declare sounds: readonly Sound[];
  /** Index into `sounds`. */
  declare selected: number | null;
  declare theme: Theme;
  declare pitch: Pitch;
  declare isLog: boolean;
  /** Whether the lanes show the time that the picture shows. */
  declare asPicture: boolean;

  constructor() {
    super();
    this.pitch = 'peak_khz';
    this.isLog = true;
    this.asPicture = false;
  }

  /** Made anew only where they change: a view that moves changes no lane. */
  #lanes: readonly Lane[] = [];
  #of: readonly Sound[] | null = null;
  #scale: LaneScale | null = null;

  override willUpdate(changed: PropertyValues<this>): void {
    const isNew = this.#of !== this.sounds;
    if (isNew) {
      this.#of = this.sounds;
      this.#lanes = lanesOf(this.recording.findings, this.sounds);
    }
    const isScaled = changed.has('pitch') || changed.has('isLog') || changed.has('asPicture');
    if (isNew || isScaled || (this.asPicture && this.#scale?.time !== this.recording.extent?.time)) {
      this.#scale = this.#scaleOf(this.#lanes);
    }
  }

  override render(): TemplateResult {
    const lanes = this.#lanes;
    return html`<section aria-label="Sequences">
      <div class="heading">
        <h2>Sequences</h2>
        <p class="soft">A sequence is pulses that one animal may have made.</p>
      </div>
      ${lanes.length === 0 ? this.#nothing() : this.#matter(lanes)}
    </section>`;
  }

  #matter(lanes: readonly Lane[]): TemplateResult {
    const scale = this.#scale;
    return html`
      ${this.#tools()}
      <p class="key small soft">
        Each mark is a pulse: above by its frequency, below by its interval from the pulse before it. An empty mark under a ▼
        means that pulses were probably missed before it. Click a mark to select its pulse; a double click shows it in the picture.
      </p>
      ${lanes.map(
        (lane) => html`<sequence-lane
          .lane=${lane}
          .scale=${scale}
          .pitch=${this.pitch}
          .selected=${this.selected}
          .theme=${this.theme}
        ></sequence-lane>`,
      )}
    `;
  }

  #tools(): TemplateResult {
    return html`<div class="tools">
      <fieldset class="plain">
        <legend class="quiet">Frequency</legend>
        <span aria-hidden="true">Frequency</span>
        ${(Object.keys(PITCHES) as Pitch[]).map(
          (pitch) => html`<label>
            <input
              type="radio"
              name="pitch"
              .checked=${pitch === this.pitch}
              @change=${() => {
                this.pitch = pitch;
              }}
            />
            ${PITCHES[pitch]}
          </label>`,
        )}
      </fieldset>
      <label title="Long and short intervals both have room">
        <input
          type="checkbox"
          .checked=${this.isLog}
          @change=${() => {
            this.isLog = !this.isLog;
          }}
        />
        Logarithmic intervals
      </label>
      ${this.recording.extent
        ? html`<label>
            <input
              type="checkbox"
              .checked=${this.asPicture}
              @change=${() => {
                this.asPicture = !this.asPicture;
              }}
            />
            Time as in the picture
          </label>`
        : nothing}
    </div>`;
  }

  #scaleOf(lanes: readonly Lane[]): LaneScale {
    const pulses = lanes.flatMap(({ members }) => members.map(({ sound }) => sound.pulse));
    const pitches = pulses.map((pulse) => pulse[this.pitch]);
    const intervals = pulses.flatMap(({ interval_ms: ms }) => (ms === null || ms === undefined ? [] : [ms]));
    const frequency = extremes(pitches, { from: 0, to: 1 });
    const { extent } = this.recording;
    return {
      time: this.asPicture && extent ? extent.time : timeOf(pulses),
      frequency: {
        from: kilohertz(Math.max(0, frequency.from - MARGIN_KHZ)),
        to: kilohertz(frequency.to + MARGIN_KHZ),
      },
      intervals: extremes(intervals, { from: 1, to: 100 }),
      isLog: this.isLog,
    };
  }

  #nothing(): TemplateResult {
    return html`<p>${hasEnded(this.recording) ? 'There are no pulses, so no sequences either.' : 'Sequences appear here as they are found.'}</p>`;
  }

  static override styles = [
    base,
    toolStyles,
    css`
      fieldset.plain {
        padding: 0;
        border: 0;
        gap: 0.4rem 1rem;
      }
      .key {
        max-width: 62rem;
        margin-bottom: 1rem;
      }
      sequence-lane + sequence-lane {
        margin-top: 1.2rem;
      }
    `,
  ];
}

/** From before the first pulse to after the last one. */
function timeOf(pulses: readonly { readonly start_s: number; readonly end_s: number }[]): Span<Seconds> {
  const { from } = extremes(pulses.map((pulse) => pulse.start_s), { from: 0, to: 0 });
  const { to } = extremes(pulses.map((pulse) => pulse.end_s), { from: 0, to: 0 });
  const length = Math.max(LEAST_S, to - from);
  return { from: seconds(Math.max(0, from - length * MARGIN_SHARE)), to: seconds(from + length * (1 + MARGIN_SHARE)) };
}

/** The smallest and the largest of many values; `none` of none. */
function extremes(values: readonly number[], none: Span<number>): Span<number> {
  return values.length === 0
    ? none
    : values.reduce(({ from, to }, value) => ({ from: Math.min(from, value), to: Math.max(to, value) }), {
        from: Infinity,
        to: -Infinity,
      });
}

customElements.define('sequence-leaf', SequenceLeaf);

declare global {
  interface HTMLElementTagNameMap {
    'sequence-leaf': SequenceLeaf;
  }
}
