import type { Comparison, StandsOut } from '../../../core/client.ts';
import { figure, MEASURES } from '../sheet/measures.ts';
import type { Sound } from '../sounds.ts';

/** Reasons that are told of one pulse; the others follow from these as a rule. */
const MOST_REASONS = 2;

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
  const reasons = new Map<number, string[]>();
  for (const one of all) {
    const own = reasons.get(one.pulse) ?? [];
    reasons.set(one.pulse, own.length < MOST_REASONS ? [...own, reason(one)] : own);
  }
  return [...reasons].flatMap(([at, own]) => {
    const sound = compared[at];
    return sound ? [{ sound, reasons: own }] : [];
  });
}
