/** How far a card is worked through. */

/** Where the work stands. */
export type Phase = 'working' | 'paused' | 'done' | 'stopped';

export interface Progress {
  readonly phase: Phase;
  /** Whether all folders have been gone through, so that `recordings` is all there are. */
  readonly isListed: boolean;
  /** Recordings found so far, and files of other kinds, which are passed over. */
  readonly recordings: number;
  readonly others: number;
  /** Recordings that were known from an earlier time, ... */
  readonly recalled: number;
  /** ... that were examined now, and how many bytes of them, ... */
  readonly examined: number;
  readonly bytes: number;
  /** ... and that could not be read from the card at all. */
  readonly unreadable: number;
  /** Time that was spent on examining, without pauses, milliseconds. */
  readonly spentMs: number;
}

export const BEGINNING: Progress = {
  phase: 'working',
  isListed: false,
  recordings: 0,
  others: 0,
  recalled: 0,
  examined: 0,
  bytes: 0,
  unreadable: 0,
  spentMs: 0,
};

/** Recordings that are over and done with. */
export function finished({ recalled, examined, unreadable }: Progress): number {
  return recalled + examined + unreadable;
}

/** Files a second, of those that were examined now; null as long as that says nothing. */
export function filesPerSecond({ examined, spentMs }: Progress): number | null {
  return examined >= 3 && spentMs > 500 ? (examined * 1000) / spentMs : null;
}

/** Seconds that are left; null as long as that cannot be told. */
export function secondsLeft(progress: Progress): number | null {
  const speed = filesPerSecond(progress);
  const left = progress.recordings - finished(progress);
  return speed === null || !progress.isListed ? null : left / speed;
}
