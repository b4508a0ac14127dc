/** A word with what it means. */
export interface Term {
  readonly word: string;
  readonly meaning: string;
}

/** What the page says of one measurement. */
export interface Entry {
  /** As it stands in the address. */
  readonly id: string;
  readonly title: string;
  /** Its names in a saved table. */
  readonly columns?: readonly string[];
  /** What it is, in plain words. */
  readonly plain: string;
  /** What it is exactly; one paragraph each. */
  readonly definition: readonly string[];
  /** Words that belong to the definition. */
  readonly terms?: readonly Term[];
  /** How well it is known. */
  readonly known: readonly string[];
  /** When not to use it. */
  readonly avoid: readonly string[];
}

/** Entries that belong together. */
export interface Chapter {
  readonly id: string;
  readonly title: string;
  readonly entries: readonly Entry[];
}
