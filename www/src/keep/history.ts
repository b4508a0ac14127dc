/** One change, as it can be taken back and made again. */
interface Step<T> {
  /** What was done, in words that follow "Undo: ". */
  readonly what: string;
  readonly before: T;
  readonly after: T;
}

/**
 * Brings the change from `before` to `after` to a value that may have changed since. The plain way is to return
 * `after`; where others change the value too, theirs is kept.
 */
export type Carry<T> = (present: T, before: T, after: T) => T;

/** Steps that can be taken back: more than anybody remembers, and little memory. */
const MOST_STEPS = 200;

/**
 * A value and the steps that led to it. It never changes: each step makes another history.
 *
 *     History.of(none).with(one, 'label pulse 3').undo().redo()
 */
export class History<T> {
  /** The value as it is now. */
  readonly present: T;
  readonly #done: readonly Step<T>[];
  readonly #undone: readonly Step<T>[];
  readonly #carry: Carry<T>;

  private constructor(present: T, done: readonly Step<T>[], undone: readonly Step<T>[], carry: Carry<T>) {
    this.present = present;
    this.#done = done;
    this.#undone = undone;
    this.#carry = carry;
  }

  static of<T>(present: T, carry: Carry<T> = (_present, _before, after) => after): History<T> {
    return new History(present, [], [], carry);
  }

  /** What undo would take back; null where there is nothing. */
  get undoes(): string | null {
    return this.#done.at(-1)?.what ?? null;
  }

  /** What redo would do again; null where there is nothing. */
  get redoes(): string | null {
    return this.#undone.at(-1)?.what ?? null;
  }

  /** The history after one more step. A value that is the same is no step. */
  with(next: T, what: string): History<T> {
    if (next === this.present) {
      return this;
    }
    const done = [...this.#done, { what, before: this.present, after: next }].slice(-MOST_STEPS);
    return new History(next, done, [], this.#carry);
  }

  /** The history with its last step taken back. */
  undo(): History<T> {
    const step = this.#done.at(-1);
    if (!step) {
      return this;
    }
    const present = this.#carry(this.present, step.after, step.before);
    return new History(present, this.#done.slice(0, -1), [...this.#undone, step], this.#carry);
  }

  /** The history with the step that was taken back last made again. */
  redo(): History<T> {
    const step = this.#undone.at(-1);
    if (!step) {
      return this;
    }
    const present = this.#carry(this.present, step.before, step.after);
    return new History(present, [...this.#done, step], this.#undone.slice(0, -1), this.#carry);
  }

  /** The same steps after the value was changed from elsewhere, which is no step of this history. */
  renewed(present: T): History<T> {
    return new History(present, this.#done, this.#undone, this.#carry);
  }
}
