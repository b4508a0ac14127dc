import { html, nothing, svg, type TemplateResult } from 'lit';
import { base } from '../../../parts/base-styles.ts';
import { contourAt, line, sequence, steps } from './drawing.ts';
import { arrow, Figure, figureStyles, words } from './figure.ts';

const DESCRIPTION =
  'Drawing of a sequence of pulses against time. First pulses at even intervals; an interval reaches from the start of one pulse to the start of the next. One pulse is drawn dotted, since it was not heard: the interval over it is twice as long as its neighbours, and flagged “pulse missed before”. Then the pulses come closer and closer together and get shorter, and end in a feeding buzz, a dense run of short pulses, whose first and last pulse are marked.';

/** Frequencies of the drawn pulses, of which it is only the shape that counts. */
const LOWEST = 16;
const HIGHEST = 50;

/** Below this width, in letters, words go one below the other. */
const NARROW_EM = 36;

/** A sequence with its intervals, a missed pulse and a feeding buzz. */
export class SequenceFigure extends Figure {
  override render(): TemplateResult | typeof nothing {
    if (this.width < 100) {
      return nothing;
    }
    const { em, width } = this;
    const beats = sequence();
    const last = beats[beats.length - 1]?.ms ?? 1;
    const [left, right] = [0.8 * em, width - 3 * em];
    const x = (ms: number): number => left + ((right - left) * ms) / last;
    const [top, bottom] = [3 * em, 9 * em];
    const y = (khz: number): number => bottom - 8 - ((khz - LOWEST) / (HIGHEST - LOWEST)) * (bottom - top - 16);
    const buzz = beats.find((beat) => beat.part === 'buzz');
    const [from, to] = [x(buzz?.ms ?? 0), x(last)];
    const at = bottom + 1 * em;
    const narrow = width < NARROW_EM * em;
    const height = bottom + (narrow ? 6 : 5) * em;
    const interval = (n: number, m: number) => arrow(x(beats[n]?.ms ?? 0), at, x(beats[m]?.ms ?? 0), at);
    const halfway = (n: number, m: number): number => (x(beats[n]?.ms ?? 0) + x(beats[m]?.ms ?? 0)) / 2;
    return html`<svg role="img" aria-label=${DESCRIPTION} width=${width} height=${height} viewBox="0 0 ${width} ${height}">
      <rect class="frame" x="0.75" y=${top} width=${width - 1.5} height=${bottom - top} />
      ${words(0, top - 0.5 * em, em, ['frequency ↑'], 'start', 'quantity')}
      ${words(width, height - 0.4 * em, em, ['time →'], 'end', 'quantity')}
      ${beats.map(
        (beat) => svg`<path
          class=${beat.heard ? 'contour' : 'contour missed'}
          style=${beat.part === 'buzz' ? `stroke-width: ${narrow ? 1.1 : 1.8}` : beat.heard ? 'stroke-width: 3.2' : ''}
          d=${line(steps(0, 1, 0.05).map((u) => [x(beat.ms + u * beat.duration), y(contourAt(u))] as const))}
        />`,
      )}
      ${[0, 1, 2, 4, 5].map((n) => svg`<path class="edge" d=${`M${x(beats[n]?.ms ?? 0)} ${top}V${at + 5}`} />`)}
      ${interval(0, 1)} ${interval(1, 2)} ${interval(2, 4)} ${interval(4, 5)}
      ${words(left, at + 1.5 * em, em, ['interval'], 'start', 'strong')}
      ${words(halfway(2, 4), at + (narrow ? 2.7 : 1.5) * em, em, ['interval flagged', '“pulse missed before”'], 'middle', 'strong')}
      <path class="leader" d=${`M${from} ${top - 4}V${top - 10}H${to}V${top - 4}`} />
      ${words(to + 2 * em, top - 1.2 * em, em, ['feeding buzz'], 'end', 'strong')}
      ${[from, to].map((place) => svg`<path class="spot" d=${`M${place} ${bottom + 3}l5 9h-10Z`} />`)}
      ${words(from + 3, bottom + 1.9 * em, em, ['first'], 'end')}
      ${words(to - 3, bottom + 1.9 * em, em, ['last'])}
    </svg>`;
  }

  static override styles = [base, figureStyles];
}

customElements.define('sequence-figure', SequenceFigure);

declare global {
  interface HTMLElementTagNameMap {
    'sequence-figure': SequenceFigure;
  }
}
