import type { Certainty } from '../../../keep/label.ts';
import type { Word } from '../words.ts';

/** How sure somebody is, written out. */
export const CERTAINTY_WORDS: Readonly<Record<Certainty, Word>> = {
  sure: { label: 'Sure', meaning: 'I would be surprised to be wrong' },
  probable: { label: 'Probable', meaning: 'more likely than anything else' },
  possible: { label: 'Possible', meaning: 'cannot be ruled out; others are as likely' },
};

export const LABEL_CAUTION =
  'A label is somebody’s judgement and no measurement. The calls of many species overlap: say how sure you are, and let somebody else look who does not know what you wrote.';
