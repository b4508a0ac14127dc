import { html, nothing, svg, type TemplateResult } from 'lit';
import { Axis } from '../../../axis.ts';
import type { Measure, Pulse } from '../../../core/client.ts';
import { cssPx, kilohertz, seconds, type CssPx, type Kilohertz, type Seconds } from '../../../units.ts';
import { isDoubted } from '../sounds.ts';
import { DOUBTS, FLAGS } from '../words.ts';
import { measured, MEASURES } from './measures.ts';
import type { SheetScale } from './scale.ts';
import type { Item } from './sheet-choice.ts';

/** The size of a cell's picture. */
export interface CellSizePx {
  readonly width: CssPx;
  readonly height: CssPx;
}

/** What a cell shows beside its picture. */
export interface CellMatter {
  readonly item: Item;
  readonly selected: boolean;
  readonly picked: boolean;
  readonly numbers: readonly Measure[];
  readonly withSpread: boolean;
}

/** Points that a contour is drawn with at most. */
const POINTS = 80;
/** Room that the label of a tick needs, CSS pixels. */
const TIME_ROOM = 44;
const FREQUENCY_ROOM = 34;
const MS_PER_S = 1000;

/** The axes that all cells share: time from the moment of most energy on, and frequency. */
export function axesOf({ time, frequency }: SheetScale, { width, height }: CellSizePx) {
  return {
    time: new Axis<Seconds>(time, cssPx(0), width),
    frequency: new Axis<Kilohertz>(frequency, height, cssPx(0)),
  };
}

export function timeTicks(scale: SheetScale, size: CellSizePx) {
  return axesOf(scale, size).time.ticks(Math.max(2, Math.floor(size.width / TIME_ROOM)), 1 / MS_PER_S);
}

export function frequencyTicks(scale: SheetScale, size: CellSizePx) {
  return axesOf(scale, size).frequency.ticks(Math.max(2, Math.floor(size.height / FREQUENCY_ROOM)));
}

/** The lines of a cell: round values, the moment of most energy, and the contour. */
export function drawing(pulse: Pulse, scale: SheetScale, size: CellSizePx): TemplateResult {
  const { time, frequency } = axesOf(scale, size);
  const zero = time.pixel(seconds(0));
  return html`<svg class="marked" aria-hidden="true" width=${size.width} height=${size.height}>
    ${frequencyTicks(scale, size).map(
      ({ at }) => svg`<line class="tick" x1="0" x2="5" y1=${at} y2=${at} />`,
    )}
    ${timeTicks(scale, size).map(
      ({ at }) => svg`<line class="tick" x1=${at} x2=${at} y1=${size.height - 5} y2=${size.height} />`,
    )}
    <line class="moment" x1=${zero} x2=${zero} y1="0" y2=${size.height} />
    <path class="halo" d=${contourPath(pulse, time, frequency)} />
    <path class=${isDoubted(pulse) ? 'contour doubted' : 'contour'} d=${contourPath(pulse, time, frequency)} />
  </svg>`;
}

/** A contour with its time counted from the moment of most energy. */
function contourPath({ contour, peak_s: peak }: Pulse, time: Axis<Seconds>, frequency: Axis<Kilohertz>): string {
  const last = contour.khz.length - 1;
  const stride = Math.max(1, Math.ceil(last / POINTS));
  const points = contour.khz.flatMap((khz, at) => {
    if (at % stride !== 0 && at !== last) {
      return [];
    }
    const x = time.pixel(seconds(contour.start_s + at * contour.step_s - peak));
    return [`${x.toFixed(1)},${frequency.pixel(kilohertz(khz)).toFixed(1)}`];
  });
  return points.length > 0 ? `M${points.join('L')}` : '';
}

export function numbersOf({ item, numbers, withSpread }: CellMatter): TemplateResult {
  const { pulse } = item.sound;
  return html`<div class="numbers" aria-hidden="true">
    ${numbers.map(
      (measure) => html`<span>${MEASURES[measure].short}</span><b>${measured(pulse, measure, withSpread)}</b>`,
    )}
  </div>`;
}

/** "S2", "S2 buzz", or the reason for doubt. */
export function belonging(pulse: Pulse): string | typeof nothing {
  if (pulse.doubt) {
    return DOUBTS[pulse.doubt].label;
  }
  if ((pulse.sequence ?? null) === null) {
    return nothing;
  }
  return (pulse.buzz ?? null) === null ? `S${pulse.sequence}` : `S${pulse.sequence} buzz`;
}

/** A cell for who hears it. */
export function spoken({ item, picked, numbers, withSpread }: CellMatter): string {
  const { pulse, name } = item.sound;
  const sequence = pulse.sequence ?? null;
  const parts = [
    isDoubted(pulse) ? `Doubted sound ${name}` : `Pulse ${name}`,
    ...(pulse.doubt ? [DOUBTS[pulse.doubt].label] : []),
    ...(sequence === null ? [] : [`sequence ${sequence}`]),
    ...((pulse.buzz ?? null) === null ? [] : ['feeding buzz']),
    ...numbers.map((measure) => `${MEASURES[measure].name} ${measured(pulse, measure, withSpread)}`),
    ...pulse.flags.map((flag) => FLAGS[flag].label),
    ...(picked ? ['picked'] : []),
  ];
  return parts.join(', ');
}
