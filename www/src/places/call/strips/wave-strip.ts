import { css, html, LitElement, nothing, svg, type PropertyValues, type TemplateResult } from 'lit';
import { Axis } from '../../../axis.ts';
import type { DrawnWaveform, Opened } from '../../../core/client.ts';
import { base } from '../../../parts/base-styles.ts';
import { bitmapPx, cssPx, seconds, type CssPx, type Seconds } from '../../../units.ts';
import { LEFT } from '../picture/picture-styles.ts';
import { spanWords } from '../picture/ticks.ts';
import { fixed } from '../plus-minus.ts';
import type { Recording } from '../recordings.ts';
import { Latest } from './latest.ts';

/** A waveform that somebody wants to see. */
interface Wish {
  readonly opened: Opened;
  readonly channel: number;
  readonly start_s: Seconds;
  readonly end_s: Seconds;
  readonly width_px: number;
}

const HEIGHT = 96;
/** Samples that lie so far apart are drawn as dots, too, CSS pixels. */
const DOTS_APART = 7;
/** Full scale of the strip: the largest sample of the view fits the next of these steps. */
const STEPS = [1, 2, 5, 10];

/** The waveform of the view, on the picture's own time axis. */
export class WaveStrip extends LitElement {
  static override properties = {
    recording: { attribute: false },
    width: { state: true },
  };

  declare recording: Recording;
  declare width: CssPx;

  readonly #latest = new Latest<Wish, DrawnWaveform>(
    (signal, { opened, ...view }) => opened.waveform(signal, view),
    (a, b) =>
      a.opened === b.opened &&
      a.channel === b.channel &&
      a.start_s === b.start_s &&
      a.end_s === b.end_s &&
      a.width_px === b.width_px,
    () => this.requestUpdate(),
  );
  readonly #resize = new ResizeObserver(() => {
    const stage = this.renderRoot.querySelector<HTMLElement>('.stage');
    this.width = cssPx(stage?.clientWidth ?? 0);
  });

  constructor() {
    super();
    this.width = cssPx(0);
  }

  override firstUpdated(): void {
    const stage = this.renderRoot.querySelector('.stage');
    if (stage) {
      this.#resize.observe(stage);
    }
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#resize.disconnect();
    this.#latest.clear();
  }

  override willUpdate(changed: PropertyValues<this>): void {
    const before = changed.get('recording');
    if (before && before.opened !== this.recording.opened) {
      this.#latest.clear();
    }
    const { opened, channel, extent } = this.recording;
    if (opened && extent && this.width > 0) {
      const width_px = bitmapPx(this.width, devicePixelRatio);
      this.#latest.want({ opened, channel, start_s: extent.time.from, end_s: extent.time.to, width_px });
    }
  }

  override render(): TemplateResult {
    const { outcome, problem } = this.#latest;
    const full = outcome ? fullScale(outcome.result.largest) : 1;
    return html`
      <div class="stage" role="img" aria-label=${this.#description()} style="height: ${HEIGHT}px">
        <svg width="100%" height=${HEIGHT} aria-hidden="true">
          <line class="zero" x1="0" x2="100%" y1=${HEIGHT / 2} y2=${HEIGHT / 2}></line>
          ${outcome ? this.#drawn(outcome.wish, outcome.result, full) : nothing}
        </svg>
        ${problem === null ? nothing : html`<p class="problem">The waveform could not be drawn: ${problem}</p>`}
      </div>
      <svg class="axis" width=${LEFT} height=${HEIGHT} aria-hidden="true">
        ${[full, 0, -full].map((value, index) => {
          const y = [1, HEIGHT / 2, HEIGHT - 1][index] ?? 0;
          return svg`<line x1=${LEFT - 7} x2=${LEFT} y1=${y} y2=${y} />
            <text x=${LEFT - 11} y=${y} dy=${['0.9em', '0.35em', '-0.2em'][index]} text-anchor="end">${label(value)}</text>`;
        })}
      </svg>
    `;
  }

  /** What was drawn last, where it belongs in the present view. */
  #drawn(wish: Wish, drawn: DrawnWaveform, full: number): TemplateResult {
    const { extent } = this.recording;
    if (!extent) {
      return svg``;
    }
    const axis = new Axis(extent.time, cssPx(0), this.width);
    const y = (value: number): string => ((HEIGHT / 2) * (1 - value / full)).toFixed(1);
    if (drawn.single) {
      return this.#singles(axis, drawn, y);
    }
    const left = axis.pixel(wish.start_s);
    const right = axis.pixel(wish.end_s);
    const columns = drawn.values.length / 2;
    const x = (column: number): string => (left + ((right - left) * (column + 0.5)) / columns).toFixed(1);
    const highs: string[] = [];
    const lows: string[] = [];
    for (let column = 0; column < columns; column += 1) {
      lows.push(`${x(column)},${y(drawn.values[2 * column] ?? 0)}`);
      highs.push(`${x(column)},${y(drawn.values[2 * column + 1] ?? 0)}`);
    }
    return svg`<path class="envelope" d="M${highs.join('L')}L${lows.toReversed().join('L')}Z" />`;
  }

  #singles(axis: Axis<Seconds>, drawn: DrawnWaveform, y: (value: number) => string): TemplateResult {
    const places = Array.from(drawn.values, (value, index) => {
      const x = axis.pixel(seconds(drawn.first_s + index * drawn.step_s));
      return `${x.toFixed(1)},${y(value)}`;
    });
    const apart = axis.length(seconds(drawn.step_s));
    return svg`<polyline class="line" points=${places.join(' ')} />
      ${apart < DOTS_APART
        ? nothing
        : places.map((place) => {
            const [cx, cy] = place.split(',');
            return svg`<circle cx=${cx} cy=${cy} r="2" />`;
          })}`;
  }

  #description(): string {
    const { extent } = this.recording;
    const { outcome } = this.#latest;
    if (!extent || !outcome) {
      return 'Waveform, not drawn yet';
    }
    const span = spanWords(extent.time.from, extent.time.to, 's', 4);
    return `Waveform, ${span}, loudest sample ${fixed(outcome.result.largest_db, 1)} dB re full scale`;
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
        position: relative;
        padding-left: ${LEFT}px;
        margin-bottom: 0.5rem;
      }
      .stage {
        position: relative;
        background: var(--sheet);
        outline: 1.5px solid var(--line-strong);
        overflow: hidden;
      }
      svg {
        display: block;
      }
      .axis {
        position: absolute;
        inset: 0 auto auto 0;
        font-variant-numeric: tabular-nums;
      }
      .axis text {
        fill: var(--ink);
        font-size: 0.82rem;
      }
      .axis line {
        stroke: var(--line-strong);
        stroke-width: 1.5;
      }
      .zero {
        stroke: var(--line);
      }
      .envelope {
        fill: var(--ink);
        stroke: var(--ink);
        stroke-width: 0.75;
      }
      .line {
        fill: none;
        stroke: var(--ink);
        stroke-width: 1.25;
      }
      circle {
        fill: var(--ink);
      }
      .problem {
        position: absolute;
        inset: 0.6rem 0.8rem auto;
      }
    `,
  ];
}

/** The step that a magnitude fits: 1, 0.5, 0.2, 0.1, 0.05 ... of full scale. */
function fullScale(largest: number): number {
  if (!(largest > 0)) {
    return 1;
  }
  const power = 10 ** Math.floor(Math.log10(largest));
  const step = STEPS.find((one) => one * power >= largest * 0.9999) ?? 10;
  return Math.min(1, step * power);
}

function label(value: number): string {
  const text = String(Number(Math.abs(value).toPrecision(1)));
  return value < 0 ? `−${text}` : text;
}

customElements.define('wave-strip', WaveStrip);

declare global {
  interface HTMLElementTagNameMap {
    'wave-strip': WaveStrip;
  }
}
