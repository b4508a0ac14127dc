import { execFileSync } from 'node:child_process';

import type { Pulse, Summary } from '../../www/src/core/types.ts';
import { COMMAND_LINE } from './build-command-line.ts';
import { pathOf } from './recordings.ts';

/** What the command line says of a recording, without contours. */
export interface Told {
  readonly summary: Summary;
  readonly pulses: readonly Omit<Pulse, 'contour'>[];
}

/** Has a sample recording measured by the command line. */
export function told(file: string): Told {
  const text = execFileSync(COMMAND_LINE, ['measure', '--json', pathOf(file)]).toString('utf8');
  const { recordings } = JSON.parse(text) as { recordings: [Told] };
  return recordings[0];
}

/** The value at a share of the way through values in order, straight between two of them: as numpy.percentile has it. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  const place = (sorted.length - 1) * share;
  const near = sorted[Math.floor(place)] ?? Number.NaN;
  const far = sorted[Math.ceil(place)] ?? Number.NaN;
  return near + (place - Math.floor(place)) * (far - near);
}
