import { css, html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { Axis, type Span } from '../../../axis.ts';
import type { Comparison } from '../../../core/client.ts';
import { base } from '../../../parts/base-styles.ts';
import { OwnWidth } from '../../../parts/own-width.ts';
import { cssPx, kilohertz, seconds, type Kilohertz, type Seconds } from '../../../units.ts';
import { isDoubted, type Sound } from '../sounds.ts';

/** A line of the plot was chosen. */
export class LineEvent extends Event {
  static readonly type = 'line';
  readonly sound: Sound;

  constructor(sound: Sound) {
    super(LineEvent.type, { bubbles: true, composed: true });
    this.sound = sound;
  }
}

/** Room around the plot, CSS pixels. */
const LEFT = 46;
const RIGHT = 30;
const TOP = 12;
const BELOW = 44;
const HEIGHT = 320;
/** Room that a label of an axis needs, CSS pixels. */
const TIME_ROOM = 60;
const FREQUENCY_ROOM = 44;
/** Names nearer to one another than this would cover each other, CSS pixels; the list below has all. */
const NAME_ROOM = 13;
const MARGIN_KHZ = 2;
const MS_PER_S = 1000;
/** Points that a contour is drawn with at most. */
const POINTS = 150;

interface Axes {
  readonly time: Axis<Seconds>;
  readonly frequency: Axis<Kilohertz>;
}

/**
 * Contours laid over one another, with their median and the band that holds the middle half of them.
 *
 * @fires line - a line was chosen
 */
export class OverlayPlot extends LitElement {
  static override properties = {
    sounds: { attribute: false },
    comparison: { attribute: false },
    striking: { attribute: false },
    selected: { attribute: false },
    moment: { attribute: false },
  };

  /** The sounds that were compared, in the order of the comparison. */
  declare sounds: readonly Sound[];
  declare comparison: Comparison;
  /** Those that stand out. */
  declare striking: ReadonlySet<Sound>;
  declare selected: Sound | null;
  /** What time counts from, such as "start". */
  declare moment: string;

  readonly #width = new OwnWidth(this);

  override render(): TemplateResult | typeof nothing {
    const axes = this.#axes();
    if (!axes) {
      return html`<div style="height: ${HEIGHT}px"></div>`;
    }
    const taken: number[] = [];
    return html`<svg
      role="img"
      aria-label=${`Contours of ${this.sounds.length} sounds laid over one another at the ${this.moment}; the table below holds the numbers`}
      width=${this.#width.value}
      height=${HEIGHT}
    >
      ${this.#scales(axes)} ${this.#band(axes)}
      ${this.sounds.map((sound, at) => this.#line(axes, sound, at, taken))}
      <path class="median halo" d=${this.#course(axes, this.comparison.course.median_khz)} />
      <path class="median" d=${this.#course(axes, this.comparison.course.median_khz)} />
    </svg>`;
  }

  /** The axes that hold every contour; null where there is no room or nothing to show. */
  #axes(): Axes | null {
    const told = this.sounds.filter(({ pulse }) => pulse.contour.khz.length > 0);
    if (this.#width.value < LEFT + RIGHT || told.length === 0) {
      return null;
    }
    const time = extremes(this.sounds.flatMap(({ pulse: { contour } }, at) => {
      const from = (this.comparison.begins_ms[at] ?? 0) / MS_PER_S;
      return [from, from + (contour.khz.length - 1) * contour.step_s];
    }));
    const frequency = extremes(told.flatMap(({ pulse }) => [pulse.low_khz, pulse.high_khz]));
    const span = { from: kilohertz(Math.max(0, frequency.from - MARGIN_KHZ)), to: kilohertz(frequency.to + MARGIN_KHZ) };
    const right = Math.max(time.to, time.from + 1 / MS_PER_S);
    return {
      time: new Axis({ from: seconds(time.from), to: seconds(right) }, cssPx(LEFT), cssPx(this.#width.value - RIGHT)),
      frequency: new Axis(span, cssPx(HEIGHT - BELOW), cssPx(TOP)),
    };
  }

  #scales({ time, frequency }: Axes): TemplateResult {
    const [left, right, bottom] = [LEFT, this.#width.value - RIGHT, HEIGHT - BELOW];
    const zero = time.pixel(seconds(0));
    const times = time.ticks(Math.max(2, Math.floor((right - left) / TIME_ROOM)), 1 / MS_PER_S);
    const pitches = frequency.ticks(Math.max(2, Math.floor((bottom - TOP) / FREQUENCY_ROOM)));
    return svg`<g class="scales">
      ${pitches.map(({ at, label }) => svg`<line class="rule" x1=${left} x2=${right} y1=${at} y2=${at} />
        <text x=${left - 8} y=${at} dy="0.35em" text-anchor="end">${label}</text>`)}
      ${times.map(({ at, label }) => svg`<line x1=${at} x2=${at} y1=${bottom} y2=${bottom + 6} />
        <text x=${at} y=${bottom + 22} text-anchor="middle">${label.replace('-', '−')}</text>`)}
      <line class="zero" x1=${zero} x2=${zero} y1=${TOP} y2=${bottom} />
      <line x1=${left} x2=${right} y1=${bottom} y2=${bottom} />
      <text x=${right} y=${bottom + 40} text-anchor="end">ms from the ${this.moment}</text>
      <text x=${left - 8} y=${bottom + 22} text-anchor="end">kHz</text>
    </g>` as TemplateResult;
  }

  #band(axes: Axes): TemplateResult {
    const { course } = this.comparison;
    const up = this.#points(axes, course.upper_khz);
    const down = this.#points(axes, course.lower_khz).toReversed();
    return svg`<path class="band" d=${up.length > 0 ? `M${[...up, ...down].join('L')}Z` : ''} />` as TemplateResult;
  }

  #course(axes: Axes, khz: readonly number[]): string {
    const points = this.#points(axes, khz);
    return points.length > 0 ? `M${points.join('L')}` : '';
  }

  #points(axes: Axes, khz: readonly number[]): string[] {
    const { start_ms: start, step_ms: step } = this.comparison.course;
    return pointsOf(axes, khz, start / MS_PER_S, step / MS_PER_S);
  }

  /** `taken` are the heights at which names stand already. */
  #line(axes: Axes, sound: Sound, at: number, taken: number[]): TemplateResult {
    const { khz, step_s: step } = sound.pulse.contour;
    const own = pointsOf(axes, khz, (this.comparison.begins_ms[at] ?? 0) / MS_PER_S, step);
    const path = own.length > 0 ? `M${own.join('L')}` : '';
    const isStriking = this.striking.has(sound);
    const isSelected = sound === this.selected;
    const kinds = ['line', isStriking ? 'striking' : '', isSelected ? 'selected' : '', isDoubted(sound.pulse) ? 'doubted' : ''];
    const [x = 0, y = 0] = own.at(-1)?.split(',').map(Number) ?? [];
    const hasRoom = taken.every((other) => Math.abs(other - y) >= NAME_ROOM);
    const isNamed = isSelected || (isStriking && hasRoom);
    if (isNamed) {
      taken.push(y);
    }
    return svg`<g @click=${() => this.dispatchEvent(new LineEvent(sound))}>
      <path class="hit" d=${path}><title>${sound.name}</title></path>
      <path class=${kinds.join(' ')} d=${path} />
      ${isNamed
        ? svg`<text class="name" x=${x + 5} y=${y} dy="0.35em">${sound.name}</text>`
        : nothing}
    </g>` as TemplateResult;
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
        min-width: 0;
      }
      svg {
        display: block;
        font-variant-numeric: tabular-nums;
      }
      text {
        fill: var(--soft);
        font-size: 0.84rem;
      }
      .scales line {
        stroke: var(--line-strong);
        stroke-width: 1.5;
      }
      .scales .rule {
        stroke: var(--line);
        stroke-width: 1;
      }
      .scales .zero {
        stroke-width: 1;
        stroke-dasharray: 2 4;
      }
      path {
        fill: none;
        stroke-linejoin: round;
        stroke-linecap: round;
      }
      .band {
        fill: var(--pencil);
        opacity: 0.22;
      }
      .line {
        stroke: var(--ink);
        stroke-width: 1;
        opacity: 0.5;
        pointer-events: none;
      }
      .line.doubted {
        stroke-dasharray: 1 4;
      }
      .line.striking {
        stroke-width: 2;
        stroke-dasharray: 8 4;
        opacity: 1;
      }
      .line.selected {
        stroke: var(--mark);
        stroke-width: 3;
        opacity: 1;
      }
      .hit {
        stroke: transparent;
        stroke-width: 12;
        pointer-events: stroke;
        cursor: pointer;
      }
      .name {
        fill: var(--ink);
        font-weight: 700;
      }
      .median {
        stroke: var(--pencil);
        stroke-width: 3;
        pointer-events: none;
      }
      .median.halo {
        stroke: var(--page);
        stroke-width: 6;
      }
    `,
  ];
}

/** A contour's points on the page, no more of them than can be seen. */
function pointsOf({ time, frequency }: Axes, khz: readonly number[], start: number, step: number): string[] {
  const last = khz.length - 1;
  const stride = Math.max(1, Math.ceil(last / POINTS));
  return khz.flatMap((value, at) =>
    at % stride === 0 || at === last
      ? [`${time.pixel(seconds(start + at * step)).toFixed(1)},${frequency.pixel(kilohertz(value)).toFixed(1)}`]
      : [],
  );
}

/** The smallest and the largest of many values: too many to be handed to a function one by one. */
function extremes(values: readonly number[]): Span<number> {
  return values.reduce(({ from, to }, value) => ({ from: Math.min(from, value), to: Math.max(to, value) }), {
    from: Infinity,
    to: -Infinity,
  });
}

customElements.define('overlay-plot', OverlayPlot);

declare global {
  interface HTMLElementTagNameMap {
    'overlay-plot': OverlayPlot;
  }
}
