import type { DoubtCount, Findings, Summary } from '../../core/client.ts';
import { fixed } from './plus-minus.ts';
import { countOf } from './recordings.ts';
import { DOUBTS, VERDICTS } from './words.ts';

/** More tones than this are told by their number and span. */
const TONES_NAMED = 3;

/** What pulses come to, beside the verdict: "14 pulses", "2 sequences", ... */
export function countsOf({ pulses, summary }: Findings): string[] {
  const { sequences, buzzes } = summary;
  return [
    pulses.length > 0 ? countOf(pulses) : '',
    sequences.length > 0 ? counted(sequences.length, 'sequence') : '',
    buzzes.length > 0 ? counted(buzzes.length, 'feeding buzz', 'feeding buzzes') : '',
    tonesOf(summary),
  ].filter((words) => words !== '');
}

/** The summary as one sentence, for who hears it. */
export function summarySentence(findings: Findings): string {
  const { label } = VERDICTS[findings.summary.verdict];
  const counts = countsOf(findings);
  const doubted = findings.doubted.length;
  if (doubted > 0) {
    counts.push(doubtedCount(doubted));
  }
  return counts.length > 0 ? `${label}: ${counts.join(', ')}.` : `${label}.`;
}

/** "12 doubted sounds". */
export function doubtedCount(count: number): string {
  return counted(count, 'doubted sound');
}

/** "9 clicks". */
export function doubtWords({ doubt, sounds }: DoubtCount): string {
  return `${sounds} ${sounds === 1 ? DOUBTS[doubt].one : DOUBTS[doubt].many}`;
}

/** "constant tone at 37.5 kHz taken out". */
function tonesOf({ tones_khz: tones }: Summary): string {
  const first = tones[0];
  const last = tones[tones.length - 1];
  if (first === undefined || last === undefined) {
    return '';
  }
  if (tones.length > TONES_NAMED) {
    return `${tones.length} constant tones from ${fixed(first, 1)} to ${fixed(last, 1)} kHz taken out`;
  }
  const before = tones.slice(0, -1).map((khz) => fixed(khz, 1));
  return before.length === 0
    ? `constant tone at ${fixed(last, 1)} kHz taken out`
    : `constant tones at ${before.join(', ')} and ${fixed(last, 1)} kHz taken out`;
}

function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
