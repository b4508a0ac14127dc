/** One worker, from its start to its end. */

import { wrap, type Remote } from 'comlink';

import type { CoreModule } from './module.ts';
import { isThrown, Problem } from './problem.ts';
import { NEEDS_BYTES, type Engine, type Facts, type OpenOptions, type Rehearsed } from './types.ts';
// oxlint-disable-next-line import/default -- Vite makes it
import EngineWorker from './worker/worker.ts?worker&inline';

/** A recording that any worker can open. */
export interface Source {
  readonly id: number;
  readonly file: File;
  readonly options: OpenOptions;
}

/** The worker was ended while it had something to do. */
export class Lost extends Error {
  override name = 'Lost';
}

/** A promise that can only fail, and be told to. */
class Failure {
  reject: (reason: unknown) => void = () => undefined;
  readonly promise = new Promise<never>((_, reject) => {
    this.reject = reject;
  });

  constructor() {
    // Nobody may be waiting when it fails.
    this.promise.catch(() => undefined);
  }
}

/** How long a worker may take to heed a cancelled job before it is ended. */
const PATIENCE_MS = 1000;

/** A worker with its instance of the core. Once it is ended, or failed, it is never used again. */
export class Hand {
  readonly #worker = new EngineWorker({ name: 'dusklens' });
  readonly #engine: Remote<Engine> = wrap<Engine>(this.#worker);
  readonly #opened = new Map<number, Promise<Facts>>();
  readonly #ended = new Failure();
  readonly #ready: Promise<void>;
  #usable = true;

  constructor(core: CoreModule) {
    this.#worker.addEventListener('error', (event) => {
      this.#fail(new Problem(
        `A background task of the page failed. (${event.message || 'no reason given'})`,
        'Load the page again.',
      ));
    });
    this.#ready = this.#race(this.#start(core));
    this.#ready.catch((error: unknown) => this.#fail(error));
  }

  /** Whether it can still be given work. */
  get usable(): boolean {
    return this.#usable;
  }

  /** Practises, so that what this worker (in some browsers: any worker) is given first goes as quickly as the rest. */
  async rehearse(): Promise<Rehearsed> {
    await this.#ready;
    return this.#race(this.#engine.rehearse());
  }

  /** The worker's engine, once the core is ready. */
  async engine(): Promise<Remote<Engine>> {
    await this.#ready;
    return this.#engine;
  }

  /** Another side of the worker, which speaks by a way of its own. */
  async side<T>(open: (engine: Remote<Engine>) => Promise<MessagePort>): Promise<Remote<T>> {
    await this.#ready;
    return wrap<T>(await open(this.#engine));
  }

  /**
   * Has work done on a recording, which is opened first if need be. Both are asked for in one go: a busy page need
   * not come back in between.
   */
  async workOn<T>(source: Source, work: (engine: Remote<Engine>) => Promise<T>): Promise<T> {
    await this.#ready;
    const opened = this.#open(source);
    const done = work(this.#engine);
    // Work on what could not be opened fails too; that says nothing new.
    done.catch(() => undefined);
    await opened;
    return done;
  }

  /** Opens a recording here, unless it is open already. */
  async open(source: Source): Promise<Facts> {
    await this.#ready;
    return this.#open(source);
  }

  /** Closes a recording here, if it is open. */
  close(source: Source): void {
    if (this.#opened.delete(source.id) && this.#usable) {
      this.#engine.close(source.id).catch(() => undefined);
    }
  }

  /**
   * Waits for work that this worker does.
   *
   * When the signal is aborted it rejects at once, and the job is cancelled; a worker that does not heed that in time
   * is ended. It is also ended when the core failed in it.
   */
  async wait<T>(signal: AbortSignal, job: number, work: Promise<T>): Promise<T> {
    const aborted = new Failure();
    const onAbort = () => {
      aborted.reject(signal.reason);
      this.#cancel(job, work);
    };
    signal.addEventListener('abort', onAbort, { once: true });
    try {
      return await Promise.race([work, this.#ended.promise, aborted.promise]);
    } catch (error) {
      if (isThrown(error) && error.kind === 'fault') {
        this.end();
      }
      throw error;
    } finally {
      signal.removeEventListener('abort', onAbort);
    }
  }

  /** Ends the worker; whoever waits for it gets `Lost`. */
  end(): void {
    this.#fail(new Lost('the worker was ended'));
  }

  #open(source: Source): Promise<Facts> {
    const known = this.#opened.get(source.id);
    if (known !== undefined) {
      return known;
    }
    const facts = this.#engine.open(source.id, source.file, source.options);
    this.#opened.set(source.id, facts);
    facts.catch(() => this.#opened.delete(source.id));
    return facts;
  }

  async #start(core: CoreModule): Promise<void> {
    const refused = new Promise<void>((resolve) => {
      this.#worker.addEventListener('message', (event) => event.data === NEEDS_BYTES && resolve());
    });
    const taken = this.#engine.start(await core.compiled()).then(() => true);
    if (!(await Promise.race([taken, refused]))) {
      await this.#engine.start(await core.bytes());
    }
  }

  #race<T>(work: Promise<T>): Promise<T> {
    return Promise.race([work, this.#ended.promise]);
  }

  #cancel(job: number, work: Promise<unknown>): void {
    if (!this.#usable) {
      return;
    }
    const backstop = setTimeout(() => this.end(), PATIENCE_MS);
    const heeded = () => clearTimeout(backstop);
    work.then(heeded, heeded);
    this.#engine.cancel(job).catch(() => undefined);
  }

  #fail(reason: unknown): void {
    if (this.#usable) {
      this.#usable = false;
      this.#worker.terminate();
      this.#ended.reject(reason);
    }
  }
}
