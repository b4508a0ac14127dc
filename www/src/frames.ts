/**
 * The page's one scheduler of frames. It also knows of work that goes on
 * elsewhere (drawing, measuring, reading), and tells through
 * `document.documentElement.dataset.idle` whether anything is still to come:
 * tests wait for that and not for a timer.
 */
class Frames {
  readonly #tasks = new Map<object, () => void>();
  #held = 0;
  #scheduled = false;

  constructor() {
    this.#tell();
  }

  /** Runs `task` in the next frame; a later task of the same owner replaces it. */
  request(owner: object, task: () => void): void {
    this.#tasks.set(owner, task);
    if (!this.#scheduled) {
      this.#scheduled = true;
      requestAnimationFrame(() => this.#run());
    }
    this.#tell();
  }

  /** Drops what an owner asked for, such as when it leaves the page. */
  drop(owner: object): void {
    this.#tasks.delete(owner);
    this.#tell();
  }

  /** Counts work as going on until it settles. */
  async during<T>(work: Promise<T>): Promise<T> {
    this.#held += 1;
    this.#tell();
    try {
      return await work;
    } finally {
      // One frame later, so that what the work's result sets off is counted
      // before the page calls itself idle.
      requestAnimationFrame(() => {
        this.#held -= 1;
        this.#tell();
      });
    }
  }

  #run(): void {
    this.#scheduled = false;
    const tasks = [...this.#tasks.values()];
    this.#tasks.clear();
    for (const task of tasks) {
      task();
    }
    this.#tell();
  }

  #tell(): void {
    const idle = this.#held === 0 && this.#tasks.size === 0;
    document.documentElement.dataset['idle'] = String(idle);
  }
}

export const frames = new Frames();
