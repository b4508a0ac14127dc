import type { Deed, Standing } from '../../shell/place.ts';
import { current, isReadable, type Recordings } from './recordings.ts';

/** What the Call place does when a button of the page's header is pressed. */
export interface HeaderDeeds {
  /** Turns between the recordings and the welcome page. */
  readonly toggleAdding: () => void;
  /** Leads back to where a recording was opened in the Night place. */
  readonly goBack: () => void;
}

/** What the page's header says of the Call place. */
export function standingOf(all: Recordings, isAdding: boolean, isReading: boolean, deeds: HeaderDeeds): Standing {
  const open = all.list.filter(isReadable).length;
  if (all.list.length === 0 || isReading) {
    return { deeds: [], open };
  }
  const isFromNight = (current(all)?.from ?? null) !== null;
  const back: Deed[] = isFromNight ? [{ label: 'Back to the night', run: deeds.goBack }] : [];
  const others = { label: isAdding ? 'Back to the recordings' : 'Open others', run: deeds.toggleAdding };
  return { deeds: [...back, others], open };
}

/** Whether a header would look the same for both. */
export function sameStanding(one: Standing, other: Standing): boolean {
  return wordsOf(one) === wordsOf(other);
}

function wordsOf({ deeds, open }: Standing): string {
  return JSON.stringify([open, deeds.map(({ label }) => label)]);
}
