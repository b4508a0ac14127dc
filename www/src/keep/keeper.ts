import { filledUp, carried, isEmpty, NO_REMARKS, type Remarks } from './remarks.ts';

/** A file, by its content and not by its name. */
export interface FileIdentity {
  /** SHA-256 of its bytes, 64 small hexadecimal digits. */
  readonly hash: string;
  /** Its size in bytes. */
  readonly bytes: number;
  /** What it was called when something was last kept of it. */
  readonly name: string;
}

/** What is kept of one recording. */
export interface KeptRecording extends FileIdentity {
  readonly remarks: Remarks;
}

/** What a person keeps for all recordings. */
export interface Own {
  /** The person's own list of words for labels. */
  readonly words: readonly string[];
  /** Who made the last label. */
  readonly who: string;
}

export const NOTHING_OWN: Own = { words: [], who: '' };

/** Where remarks are kept. Every change is done in one go, so that two open pages never overwrite each other. */
export interface Keeper {
  /** Why nothing outlasts the page, as a sentence; null where it does. */
  readonly refusal: string | null;
  /** Whether anything is kept of a file of this size: only then is its content worth looking at. */
  mayKnow(bytes: number): Promise<boolean>;
  load(hash: string): Promise<Remarks | null>;
  /** Brings a change to what is kept of a file, and returns what is then kept. */
  apply(file: FileIdentity, before: Remarks, after: Remarks): Promise<Remarks>;
  /** All that is kept. */
  all(): Promise<readonly KeptRecording[]>;
  own(): Promise<Own>;
  /** Changes what is kept for all recordings. */
  changeOwn(change: (own: Own) => Own): Promise<Own>;
}

/** What is kept of a file after a change; null where nothing is left to keep. */
export function afterChange(
  kept: KeptRecording | undefined,
  file: FileIdentity,
  before: Remarks,
  after: Remarks,
): KeptRecording | null {
  const remarks = carried(filledUp(kept?.remarks ?? {}), before, after);
  // Fields of a later version stay, whoever wrote them.
  return isEmpty(remarks) ? null : { ...kept, ...file, remarks: { ...kept?.remarks, ...remarks } };
}

/** Keeps as long as the page is open, where the browser keeps nothing. */
export class MemoryKeeper implements Keeper {
  readonly refusal: string;
  readonly #recordings = new Map<string, KeptRecording>();
  #own = NOTHING_OWN;

  constructor(refusal: string) {
    this.refusal = refusal;
  }

  async mayKnow(bytes: number): Promise<boolean> {
    return [...this.#recordings.values()].some((kept) => kept.bytes === bytes);
  }

  async load(hash: string): Promise<Remarks | null> {
    return this.#recordings.get(hash)?.remarks ?? null;
  }

  async apply(file: FileIdentity, before: Remarks, after: Remarks): Promise<Remarks> {
    const next = afterChange(this.#recordings.get(file.hash), file, before, after);
    if (next) {
      this.#recordings.set(file.hash, next);
    } else {
      this.#recordings.delete(file.hash);
    }
    return next?.remarks ?? NO_REMARKS;
  }

  async all(): Promise<readonly KeptRecording[]> {
    return [...this.#recordings.values()];
  }

  async own(): Promise<Own> {
    return this.#own;
  }

  async changeOwn(change: (own: Own) => Own): Promise<Own> {
    this.#own = change(this.#own);
    return this.#own;
  }
}
