/** What a person decides about files while going through them quickly. */

import type { Row } from '../../../core/types.ts';
import { freshEntry } from '../../../keep/entry.ts';
import type { Keeping } from '../../../keep/keeping.ts';
import type { Certainty, Label } from '../../../keep/label.ts';
import type { Remarks } from '../../../keep/remarks.ts';
import type { Review, ReviewVerdict } from '../../../keep/review.ts';

/** Keeps what is decided about a file, and can take the last decisions back. */
export class Deciding {
  readonly #keeping: Keeping;
  readonly #done: { readonly row: Row; readonly before: Remarks; readonly after: Remarks }[] = [];

  constructor(keeping: Keeping) {
    this.#keeping = keeping;
  }

  /** Whether there is a decision of this visit to take back. */
  get canUndo(): boolean {
    return this.#done.length > 0;
  }

  /** Keeps what a check by ear or eye came to; a later one of the same file takes its place. */
  review(row: Row, verdict: ReviewVerdict): Promise<void> {
    const review: Review = { ...freshEntry(), verdict, who: this.#keeping.own.value.who };
    return this.#change(row, (remarks) => ({ ...remarks, reviews: [review] }));
  }

  /** Gives a whole recording a label, unless it has the same one already. */
  label(row: Row, text: string, certainty: Certainty): Promise<void> {
    const { who, words } = this.#keeping.own.value;
    const label: Label = { ...freshEntry(), about: [], text, certainty, note: '', who };
    if (!words.includes(text)) {
      this.#keeping.changeOwn((own) => ({ ...own, words: [...own.words, text] }));
    }
    return this.#change(row, (remarks) => {
      const others = remarks.labels.filter((one) => one.about.length > 0 || one.text !== text);
      return { ...remarks, labels: [...others, label] };
    });
  }

  /** Takes the last decision back; returns the file that it was about. `onPath` is told its path before anything changes. */
  async undo(onPath: (path: string) => void): Promise<Row | null> {
    const last = this.#done.pop();
    if (!last) {
      return null;
    }
    onPath(last.row.path);
    await this.#bring(last.row, last.after, last.before);
    return last.row;
  }

  async #change(row: Row, change: (remarks: Remarks) => Remarks): Promise<void> {
    const before = await this.#keeping.remarksOf(row.sha256);
    const after = change(before);
    await this.#bring(row, before, after);
    this.#done.push({ row, before, after });
  }

  #bring(row: Row, before: Remarks, after: Remarks): Promise<void> {
    const name = row.path.slice(row.path.lastIndexOf('/') + 1);
    return this.#keeping.bring({ hash: row.sha256, bytes: row.bytes, name }, before, after);
  }
}
