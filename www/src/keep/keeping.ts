import { frames } from '../frames.ts';
import { Store } from '../store.ts';
import { History } from './history.ts';
import { NOTHING_OWN, type FileIdentity, type Keeper, type KeptRecording, type Own } from './keeper.ts';
import { News } from './news.ts';
import { carried, isEmpty, NO_REMARKS, type Remarks } from './remarks.ts';

/** Whether remarks outlast the page. */
export type KeepState =
  /** Nothing was kept, and nothing is to be. */
  | { readonly kind: 'nothing' }
  /** The file's content is looked at, to know it again; 0 to 1. */
  | { readonly kind: 'reading'; readonly share: number }
  | { readonly kind: 'kept' }
  /** Only as long as the page is open, for a reason that is a sentence. */
  | { readonly kind: 'here'; readonly reason: string };

/** What is known of one open recording. */
export interface Kept {
  readonly history: History<Remarks>;
  readonly state: KeepState;
}

/** What keeping needs of a recording. */
export interface KeptFile {
  /** The number that the page gave it. */
  readonly id: number;
  readonly name: string;
  readonly file: Blob;
  /** Takes the SHA-256 of its content; null while it is not open. */
  readonly hash: ((signal: AbortSignal, onShare: (share: number) => void) => Promise<string>) | null;
}

const NEW: Kept = { history: History.of(NO_REMARKS, carried), state: { kind: 'nothing' } };
/** What is known of one of the recordings, or of one that nothing is known of yet. */
export function keptOf(all: ReadonlyMap<number, Kept>, id: number): Kept {
  return all.get(id) ?? NEW;
}

const STOPPED = 'The reading of the file was stopped. What you write stays until the page is closed.';

/** What goes on behind one recording. */
interface Work {
  file: KeptFile;
  hash: string | null;
  hashing: { readonly done: Promise<string>; readonly abort: AbortController } | null;
  /** Changes that are not kept yet. */
  pending: number;
  last: Promise<void>;
}

/**
 * The remarks of all open recordings: loaded when one is known again, kept after each change, and brought up to date when
 * another page changes them. A file is known by its content, which is looked at only if something of its size was kept,
 * or when there is something to keep.
 */
export class Keeping {
  /** By the number of the recording. */
  readonly store = new Store<ReadonlyMap<number, Kept>>(new Map());
  readonly own = new Store<Own>(NOTHING_OWN);
  /** Why nothing outlasts the page; null where it does. */
  readonly refusal = new Store<string | null>(null);
  /** Whose remarks changed last, wherever that was done; null: nobody's yet. */
  readonly changed = new Store<{ readonly hash: string } | null>(null);
  readonly #keeper: Promise<Keeper>;
  readonly #work = new Map<number, Work>();
  readonly #news = new News((news) => void frames.during(this.#heard(news.hash, news.bytes)));

  constructor(keeper: Promise<Keeper>) {
    this.#keeper = keeper;
    void this.#start();
    addEventListener('beforeunload', (event) => {
      if ([...this.#work.values()].some(({ pending }) => pending > 0)) {
        event.preventDefault();
      }
    });
  }

  of(id: number): Kept {
    return keptOf(this.store.value, id);
  }

  /** Takes note of a recording that is open, and loads what was kept of it. Its picture and pulses should come first. */
  met(file: KeptFile): void {
    const known = this.#work.get(file.id);
    if (known) {
      known.file = file;
      return;
    }
    this.#work.set(file.id, { file, hash: null, hashing: null, pending: 0, last: Promise.resolve() });
    void frames.during(this.#recall(file.id));
  }

  /** Lets go of a recording; false where what was written of it is not kept yet, or lies here alone: then it stays. */
  forget(id: number): boolean {
    const work = this.#work.get(id);
    const { history, state } = this.of(id);
    const isHereAlone = state.kind === 'here' && !isEmpty(history.present);
    if (isHereAlone || state.kind === 'reading' || (work?.pending ?? 0) > 0) {
      return false;
    }
    this.#work.delete(id);
    this.store.update((all) => new Map([...all].filter(([known]) => known !== id)));
    return true;
  }

  /** What is kept of a file, whether it is open or not. */
  async remarksOf(hash: string): Promise<Remarks> {
    return (await (await this.#keeper).load(hash)) ?? NO_REMARKS;
  }

  /** Changes the remarks of a recording; `what` says how in words that follow "Undo: ". */
  change(id: number, what: string, change: (remarks: Remarks) => Remarks): void {
    this.#turn(id, (history) => history.with(change(history.present), what));
  }

  undo(id: number): void {
    this.#turn(id, (history) => history.undo());
  }

  redo(id: number): void {
    this.#turn(id, (history) => history.redo());
  }

  /** Changes what is kept for all recordings. */
  changeOwn(change: (own: Own) => Own): void {
    void frames.during(this.#changeOwn(change));
  }

  /** All that is kept, of this visit and before. */
  async all(): Promise<readonly KeptRecording[]> {
    await Promise.all([...this.#work.values()].map(({ last }) => last));
    return await (await this.#keeper).all();
  }

  /** Brings remarks of any recording into what is kept, as an import does. */
  async bring(file: FileIdentity, before: Remarks, after: Remarks): Promise<void> {
    await (await this.#keeper).apply(file, before, after);
    this.#news.tell({ hash: file.hash, bytes: file.bytes });
    await this.#heard(file.hash, file.bytes);
  }

  /** Who the file is, once its content was looked at; null where that cannot be. */
  async identity(id: number): Promise<FileIdentity | null> {
    const work = this.#work.get(id);
    if (!work) {
      return null;
    }
    return { hash: await this.#hash(work), bytes: work.file.file.size, name: work.file.name };
  }

  /** Stops the looking at a file's content; what is written of it then stays here. */
  stop(id: number): void {
    this.#work.get(id)?.hashing?.abort.abort(new DOMException('Stopped', 'AbortError'));
  }

  /** Tries once more to keep what could not be kept. */
  retry(id: number): void {
    const work = this.#work.get(id);
    if (work) {
      this.#save(work, NO_REMARKS, this.of(id).history.present);
    }
  }

  async #start(): Promise<void> {
    const keeper = await this.#keeper;
    this.refusal.update(() => keeper.refusal);
    const own = await keeper.own();
    this.own.update(() => own);
  }

  #turn(id: number, turn: (history: History<Remarks>) => History<Remarks>): void {
    const { history } = this.of(id);
    const next = turn(history);
    if (next === history) {
      return;
    }
    this.#set(id, { history: next });
    const work = this.#work.get(id);
    if (work) {
      this.#save(work, history.present, next.present);
    }
  }

  /** Keeps a change, after those before it. */
  #save(work: Work, before: Remarks, after: Remarks): void {
    work.pending += 1;
    work.last = frames.during(work.last.then(() => this.#keep(work, before, after)));
  }

  async #keep(work: Work, before: Remarks, after: Remarks): Promise<void> {
    const { id, name, file } = work.file;
    try {
      const keeper = await this.#keeper;
      const hash = await this.#hash(work);
      const remarks = await keeper.apply({ hash, name, bytes: file.size }, before, after);
      this.#news.tell({ hash, bytes: file.size });
      this.changed.update(() => ({ hash }));
      // Where another change waits, what comes back lacks it.
      if (work.pending === 1) {
        this.#set(id, { history: this.of(id).history.renewed(remarks), state: stateOf(keeper, remarks) });
      }
      await this.#refresh(hash, id);
    } catch (error) {
      this.#set(id, { state: { kind: 'here', reason: reasonOf(error) } });
    } finally {
      work.pending -= 1;
    }
  }

  /** Loads what was kept of a file, if anything can have been. */
  async #recall(id: number): Promise<void> {
    const work = this.#work.get(id);
    try {
      const keeper = await this.#keeper;
      if (!work || !(await keeper.mayKnow(work.file.file.size))) {
        return;
      }
      const hash = await this.#hash(work);
      await this.#take(work, hash);
    } catch (error) {
      this.#set(id, { state: { kind: 'here', reason: reasonOf(error) } });
    }
  }

  /** Takes over what is kept of a file, unless a change of ours is on its way there and will bring it along. */
  async #take(work: Work, hash: string): Promise<void> {
    const keeper = await this.#keeper;
    const remarks = (await keeper.load(hash)) ?? NO_REMARKS;
    const { id } = work.file;
    if (work.pending === 0) {
      this.#set(id, { history: this.of(id).history.renewed(remarks), state: stateOf(keeper, remarks) });
    }
  }

  /** Another page, or an import, changed what is kept of a file. */
  async #heard(hash: string | null, bytes: number): Promise<void> {
    if (hash === null) {
      const own = await (await this.#keeper).own();
      this.own.update(() => own);
      return;
    }
    this.changed.update(() => ({ hash }));
    const unknown = [...this.#work.values()].filter((work) => work.hash === null && work.file.file.size === bytes);
    await Promise.all(unknown.map(({ file }) => this.#recall(file.id)));
    await this.#refresh(hash, null);
  }

  /** Takes over what is kept of a file wherever it is open here, but for one place. */
  async #refresh(hash: string, but: number | null): Promise<void> {
    const same = [...this.#work.values()].filter((work) => work.hash === hash && work.file.id !== but);
    await Promise.all(same.map((work) => this.#take(work, hash)));
  }

  async #changeOwn(change: (own: Own) => Own): Promise<void> {
    try {
      const own = await (await this.#keeper).changeOwn(change);
      this.own.update(() => own);
      this.#news.tell({ hash: null, bytes: 0 });
    } catch {
      this.own.update(change);
    }
  }

  /** The hash of a file's content, taken once. */
  async #hash(work: Work): Promise<string> {
    if (work.hash !== null) {
      return work.hash;
    }
    work.hashing ??= this.#hashing(work);
    try {
      work.hash = await work.hashing.done;
      return work.hash;
    } finally {
      work.hashing = null;
    }
  }

  #hashing(work: Work): NonNullable<Work['hashing']> {
    const { id, hash } = work.file;
    const abort = new AbortController();
    this.#set(id, { state: { kind: 'reading', share: 0 } });
    const onShare = (share: number): void => this.#set(id, { state: { kind: 'reading', share } });
    const done = hash === null ? Promise.reject(new Error('The file is not open.')) : hash(abort.signal, onShare);
    return { done, abort };
  }

  #set(id: number, change: Partial<Kept>): void {
    this.store.update((all) => new Map(all).set(id, { ...keptOf(all, id), ...change }));
  }
}

function stateOf(keeper: Keeper, remarks: Remarks): KeepState {
  if (isEmpty(remarks)) {
    return { kind: 'nothing' };
  }
  return keeper.refusal === null ? { kind: 'kept' } : { kind: 'here', reason: keeper.refusal };
}

function reasonOf(error: unknown): string {
  if (error instanceof DOMException && error.name === 'AbortError') {
    return STOPPED;
  }
  const detail = error instanceof Error ? error.message : String(error);
  return `It could not be kept: ${detail} What you write stays until the page is closed.`;
}
