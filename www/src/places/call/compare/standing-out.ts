import type { Comparison, StandsOut } from '../../../core/client.ts';
import { figure, MEASURES } from '../sheet/measures.ts';
import type { Sound } from '../sounds.ts';

/** Reasons that are told of one pulse; the others follow from these as a rule. */
const MOST_REASONS = 2;

/** Values nearer to one another than this are the same: frequencies of a contour are read twice. */
const SAME = 0.05;

/** A pulse that stands out, with its reasons in words, the most striking first. */
export interface Outlier {
  readonly sound: Sound;
  readonly reasons: readonly string[];
}

/** "3.10 kHz above the others’ end frequency". */
export function reason({ measure, above }: StandsOut): string {
  const { name, unit } = MEASURES[measure];
  const side = above > 0 ? 'above' : 'below';
  return `${figure(Math.abs(above), measure)} ${unit} ${side} the others’ ${name.toLowerCase()}`;
}

/** The pulses that stand out among those that were compared. */
export function outliers({ standing_out: all }: Comparison, compared: readonly Sound[]): Outlier[] {
  const striking = new Map<number, StandsOut[]>();
  for (const one of all) {
    const own = striking.get(one.pulse) ?? [];
    // A call that falls throughout begins at its highest: that need not be told twice.
    const isKnown = own.some(({ above }) => Math.abs(above - one.above) < SAME);
    if (!isKnown && own.length < MOST_REASONS) {
      striking.set(one.pulse, [...own, one]);
    }
  }
  return [...striking].flatMap(([at, own]) => {
    const sound = compared[at];
    return sound ? [{ sound, reasons: own.map(reason) }] : [];
  });
}
