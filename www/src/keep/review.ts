import { fieldsOf, oneOf, textOf, type Where } from './check.ts';
import { readEntry, type Entry } from './entry.ts';
import { MOST_TEXT } from './label.ts';

/** What somebody found in a file who looked at it or listened to it. */
export const REVIEW_VERDICTS = ['bat', 'no_bat', 'unsure'] as const;
export type ReviewVerdict = (typeof REVIEW_VERDICTS)[number];

/** A check of a whole recording by ear or eye; the last one counts. */
export interface Review extends Entry {
  readonly verdict: ReviewVerdict;
  /** Who says so; may be empty. */
  readonly who: string;
}

/** A check from a file. Fields that are not known here are left out. */
export function readReview(value: unknown, where: Where): Review {
  const fields = fieldsOf(value, where);
  return {
    ...readEntry(fields, where),
    verdict: oneOf(fields['verdict'], `what ${where} came to`, REVIEW_VERDICTS),
    who: textOf(fields['who'], `who made ${where}`, MOST_TEXT),
  };
}
