/** Long work in steps, so that the worker can answer in between. */

/** Ends a job whose end was asked for. */
export class Cancelled extends Error {
  override name = 'Cancelled';
}

/** Throws `Cancelled` once a job is not wanted any more. */
export type Check = () => void;

/** The jobs that are under way. */
export class Jobs {
  readonly #running = new Set<number>();

  /** Does work that asks `check` after every wait whether it is still wanted. */
  async run<T>(job: number, work: (check: Check) => Promise<T>): Promise<T> {
    this.#running.add(job);
    try {
      return await work(() => {
        if (!this.#running.has(job)) {
          throw new Cancelled();
        }
      });
    } finally {
      this.#running.delete(job);
    }
  }

  cancel(job: number): void {
    this.#running.delete(job);
  }
}

/** Takes steps until one says that it was the last; `between` is called between them. */
export async function inSteps(check: Check, step: () => boolean, between: () => void): Promise<void> {
  while (!step()) {
    between();
    // oxlint-disable-next-line eslint/no-await-in-loop -- steps follow each other
    await breath();
    check();
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
