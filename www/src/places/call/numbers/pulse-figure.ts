import { html, nothing, svg, type SVGTemplateResult, type TemplateResult } from 'lit';
import { base } from '../../../parts/base-styles.ts';
import { contourAt, envelopeAt, flattest, line, NOISE, soundAt, spectrum, steps, TOP } from './drawing.ts';
import { arrow, Figure, figureStyles, words } from './figure.ts';

/** What the figure shows of frequency, kHz, and of the envelope, dB re its maximum. */
const HIGHEST_KHZ = 106;
const LOWEST_KHZ = 9;
const HIGHEST_DB = 5;
const LOWEST_DB = -40;
const EDGE_DB = -20;
const ABOVE_NOISE_DB = 6;
/** Spectrum that is drawn, dB below its top. */
const SPECTRUM_DB = 26;
/** Below this width, in letters, words go into more lines. */
const NARROW_EM = 36;

const DESCRIPTION =
  'Drawing of one pulse, in two pictures over the same time. Above, frequency against time: the contour falls steeply from the start frequency, which is the high frequency here, then goes on nearly level, and falls a little to the end frequency, which is the low frequency here. Between high and low frequency lies the bandwidth. The flattest stretch is marked on the level part; the characteristic frequency is the contour’s value at its end. A second harmonic runs at twice the frequency. Beside it is the spectrum of the whole pulse; the peak frequency is where it reaches farthest. Below, level against time: the envelope rises from the noise to its maximum and falls again. A line lies 20 dB below the maximum; where the envelope crosses it are start and end, and between them is the duration. A second line lies 6 dB above the noise, here lower than the first, so that it is not needed.';

interface Layout {
  readonly em: number;
  readonly narrow: boolean;
  readonly x: (u: number) => number;
  readonly khz: (khz: number) => number;
  readonly db: (db: number) => number;
  readonly right: number;
  readonly gutter: number;
  readonly width: number;
  readonly top: number;
  readonly middle: number;
  readonly below: number;
  readonly bottom: number;
}

/** One pulse with the names of what is measured of it. */
export class PulseFigure extends Figure {
  override render(): TemplateResult | typeof nothing {
    if (this.width < 100) {
      return nothing;
    }
    const layout = laidOut(this.width, this.em);
    const height = layout.bottom + layout.em * 3;
    return html`<svg role="img" aria-label=${DESCRIPTION} width=${layout.width} height=${height} viewBox="0 0 ${layout.width} ${height}">
      ${frames(layout)} ${envelope(layout)} ${edges(layout)} ${contour(layout)} ${peak(layout)}
      ${bandwidth(layout)}
    </svg>`;
  }

  static override styles = [base, figureStyles];
}

/** A scale: where values from `low` to `high` lie. */
function between(from: number, to: number, low: number, high: number): (value: number) => number {
  return (value) => from + ((to - from) * (value - low)) / (high - low);
}

function laidOut(width: number, em: number): Layout {
  const narrow = width < NARROW_EM * em;
  const lead = narrow ? 5.9 * em : 8.7 * em;
  const beside = narrow ? 3.6 * em : 9 * em;
  const gutter = 2.2 * em;
  const right = width - beside - gutter;
  const start = lead;
  const end = right - (narrow ? 0.8 : 3) * em;
  const top = 1.6 * em;
  const middle = top + (narrow ? 28 : 26) * em;
  const below = middle + 1.9 * em;
  const bottom = below + 14 * em;
  return {
    em,
    narrow,
    x: between(start, end, 0, 1),
    khz: between(middle, top, LOWEST_KHZ, HIGHEST_KHZ),
    db: between(bottom, below, LOWEST_DB, HIGHEST_DB),
    right,
    gutter,
    width,
    top,
    middle,
    below,
    bottom,
  };
}

function box(x: number, y: number, width: number, height: number): SVGTemplateResult {
  return svg`<rect class="frame" x=${x + 0.75} y=${y} width=${width - 1.5} height=${height} />`;
}

function frames({ em, right, gutter, width, top, middle, below, bottom }: Layout): SVGTemplateResult {
  return svg`
    ${box(0, top, right, middle - top)} ${box(right + gutter, top, width - right - gutter, middle - top)}
    ${box(0, below, right, bottom - below)}
    ${words(0, top - 0.5 * em, em, ['frequency ↑'], 'start', 'quantity')}
    ${words(width, top - 0.5 * em, em, ['spectrum'], 'end', 'quantity')}
    ${words(0, below - 0.5 * em, em, ['level ↑'], 'start', 'quantity')}
    ${words(right + 0.5 * em, bottom, em, ['time →'], 'start', 'quantity')}
  `;
}

function envelope({ em, narrow, x, db, right, bottom }: Layout): SVGTemplateResult {
  const first = -x(0) / (x(1) - x(0));
  const last = (right - x(0)) / (x(1) - x(0));
  const inset = 2 / (x(1) - x(0));
  const points = steps(first + inset, last - inset, 0.004).map(
    (u) => [x(u), db(Math.max(LOWEST_DB, soundAt(u)))] as const,
  );
  const curve = line(points);
  const rule = (level: number, kind = '') =>
    svg`<path class="rule ${kind}" d=${`M2 ${db(level)}H${right - 2}`} />`;
  const inside = x(narrow ? 0.6 : 0.57);
  return svg`
    <path class="fill" d=${`${curve}V${bottom - 1}H2Z`} />
    <path class="envelope" d=${curve} />
    ${rule(EDGE_DB)} ${rule(NOISE + ABOVE_NOISE_DB)} ${rule(NOISE, 'dots')}
    ${words(inside, db(EDGE_DB) - 0.45 * em, em, narrow ? ['20 dB below'] : ['20 dB below the maximum'], 'middle', 'on-fill')}
    ${words(inside, db(NOISE + ABOVE_NOISE_DB) + em, em, narrow ? ['6 dB over noise'] : ['6 dB above the noise'], 'middle', 'on-fill')}
    ${words(inside, db(NOISE) + 1.15 * em, em, ['noise'], 'middle', 'on-fill')}
    ${arrow(x(TOP), db(0) + 8, x(TOP), db(EDGE_DB))}
    <circle class="spot" cx=${x(TOP)} cy=${db(envelopeAt(TOP))} r="5" />
    ${words(x(TOP) + 0.8 * em, db(0) - 0.35 * em, em, ['maximum'], 'start', 'strong')}
  `;
}

function edges({ em, x, db, top, middle, below, bottom }: Layout): SVGTemplateResult {
  const edge = (u: number) => svg`
    <path class="edge" d=${`M${x(u)} ${top}V${middle}M${x(u)} ${below}V${bottom + 2.4 * em}`} />
    <circle class="spot" cx=${x(u)} cy=${db(EDGE_DB)} r="5" />`;
  const at = bottom + 1.9 * em;
  return svg`
    ${edge(0)} ${edge(1)}
    ${words(x(0) - 0.6 * em, db(EDGE_DB) - 0.6 * em, em, ['start'], 'end', 'strong')}
    ${words(x(1) - 0.4 * em, db(-10.5), em, ['end'], 'end', 'strong')}
    ${arrow(x(0), at, x(1), at)}
    ${words((x(0) + x(1)) / 2, at + 0.35 * em, em, ['duration'], 'middle', 'strong')}
  `;
}

function contour({ em, narrow, x, khz, right, gutter }: Layout): SVGTemplateResult {
  const course = (multiple: number) =>
    line(steps(0, 1, 0.01).map((u) => [x(u), khz(contourAt(u) * multiple)] as const));
  const flat = flattest();
  const at = { x: x(flat.to), y: khz(contourAt(flat.to)) };
  const above = at.y - 0.75 * em;
  const from = x(flat.from);
  const [high, low] = [contourAt(0), contourAt(1)];
  const reach = right + gutter / 2;
  const lead = x(0) - 0.9 * em;
  const label = khz(narrow ? 34.5 : 33.5);
  return svg`
    <path class="rule" d=${`M${x(0)} ${khz(high)}H${reach}M${x(0) - 0.5 * em} ${khz(low)}H${reach}`} />
    <path class="harmonic" d=${course(2)} />
    <path class="contour" d=${course(1)} />
    <path class="leader" d=${`M${from} ${above + 5}V${above}H${at.x}V${above + 5}M${at.x} ${above}V${label + 1.5 * em}`} />
    <circle class="spot" cx=${x(0)} cy=${khz(high)} r="6" />
    <circle class="spot" cx=${x(1)} cy=${khz(low)} r="6" />
    <rect class="spot" x="-5" y="-5" width="10" height="10" transform=${`translate(${at.x} ${at.y}) rotate(45)`} />
    ${words(x(0.13), khz(contourAt(0.13) * 2) - 0.6 * em, em, ['second harmonic'])}
    ${words(lead, khz(high) + (narrow ? -0.4 : 0.3) * em, em, narrow ? ['start', 'frequency'] : ['start frequency'], 'end', 'strong')}
    ${words(right - 0.6 * em, khz(high) - 0.45 * em, em, ['high frequency'], 'end', 'strong')}
    ${words(lead, khz(low) + (narrow ? -0.4 : 0.3) * em, em, narrow ? ['low', 'frequency'] : ['low frequency'], 'end', 'strong')}
    ${words(right - 0.5 * em, khz(low) + 1.6 * em, em, ['end frequency'], 'end', 'strong')}
    ${narrow
      ? words(at.x + 0.4 * em, label, em, ['characteristic', 'frequency'], 'end', 'strong')
      : words(x(0.64), label, em, ['characteristic frequency,', 'end of the flattest stretch'], 'middle', 'strong')}
  `;
}

function peak({ em, narrow, x, khz, right, gutter, width }: Layout): SVGTemplateResult {
  const foot = right + gutter;
  const room = width - foot - (narrow ? 0.6 : 3) * em;
  const points = spectrum().filter((point) => point.db > -SPECTRUM_DB);
  const reach = (db: number): number => foot + room * Math.max(0, 1 + db / SPECTRUM_DB);
  const top = points.reduce((a, b) => (b.db > a.db ? b : a));
  const outline = line(points.map((point) => [reach(point.db), khz(point.khz)] as const));
  const y = khz(top.khz);
  const label = khz(narrow ? 60 : 57);
  return svg`
    <path class="fill" d=${`${outline}H${foot}Z`} />
    <path class="envelope" d=${outline} />
    <path class="rule dots" d=${`M${x(top.u)} ${y}H${reach(0)}`} />
    <rect class="spot" x=${reach(0) - 5} y=${y - 5} width="10" height="10" />
    <path class="leader" d=${`M${reach(0)} ${y - 8}V${label + 0.5 * em + (narrow ? em * 1.15 : 0)}`} />
    ${words(narrow ? width : reach(0) + 1.5 * em, label, em, narrow ? ['peak', 'frequency'] : ['peak frequency'], 'end', 'strong')}
  `;
}

function bandwidth({ em, khz, right, gutter }: Layout): SVGTemplateResult {
  const at = right + gutter / 2;
  const middle = (khz(contourAt(0)) + khz(contourAt(1))) / 2;
  return svg`
    ${arrow(at, khz(contourAt(0)), at, khz(contourAt(1)))}
    <g transform=${`translate(${at + 0.35 * em} ${middle}) rotate(-90)`}>${words(0, 0, em, ['bandwidth'], 'middle', 'strong')}</g>
  `;
}

customElements.define('pulse-figure', PulseFigure);

declare global {
  interface HTMLElementTagNameMap {
    'pulse-figure': PulseFigure;
  }
}
