/** Long work in steps, so that the worker can answer in between. */

/** Ends a job whose end was asked for. */
export class Cancelled extends Error {
  override name = 'Cancelled';
}

/** The jobs that are under way. */
export class Jobs {
  readonly #running = new Set<number>();

  /** Runs steps until one says that it was the last; `between` is called between steps. */
  async run(job: number, step: () => boolean, between: () => void): Promise<void> {
    this.#running.add(job);
    try {
      while (!step()) {
        between();
        // oxlint-disable-next-line eslint/no-await-in-loop -- steps follow each other
        await breath();
        if (!this.#running.has(job)) {
          throw new Cancelled();
        }
      }
    } finally {
      this.#running.delete(job);
    }
  }

  cancel(job: number): void {
    this.#running.delete(job);
  }
}

const channel = new MessageChannel();

/** Lets waiting messages in. A timer would do it too, but browsers stretch short ones. */
function breath(): Promise<void> {
  return new Promise((resolve) => {
    channel.port1.addEventListener('message', () => resolve(), { once: true });
    channel.port1.start();
    channel.port2.postMessage(null);
  });
}

/** Lets something through at most once in so many milliseconds. */
export class Throttle {
  readonly #every: number;
  #last = performance.now();

  constructor(everyMs: number) {
    this.#every = everyMs;
  }

  /** Does `work` if it is due. Work that takes long is done less often. */
  pass(work: () => void): void {
    const begun = performance.now();
    if (begun - this.#last < this.#every) {
      return;
    }
    work();
    const ended = performance.now();
    this.#last = ended + 4 * (ended - begun);
  }
}
