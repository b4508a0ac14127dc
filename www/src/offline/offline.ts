import { IS_SITE } from '../shape.ts';
import { Store } from '../store.ts';
import type { TakeOver } from './take-over.ts';

/** Has the site kept for visits without a network, and knows of a newer build that was fetched meanwhile. */
export class Offline {
  /** The worker of a newer build, whose files are all there; null: there is none. */
  readonly next = new Store<ServiceWorker | null>(null);

  /** Begins once the page has nothing better to do: it fetches every file of the build. */
  async start(): Promise<void> {
    if (!IS_SITE || !('serviceWorker' in navigator)) {
      return;
    }
    try {
      this.#follow(await navigator.serviceWorker.register('./service-worker.js', { updateViaCache: 'none' }));
    } catch {
      // A private window, or a host without https. The page then needs its host on every visit, as any page does.
    }
  }

  /** Loads the newer build into this page. */
  async load(): Promise<void> {
    const next = this.next.value;
    if (next) {
      await tookOver(next);
      location.reload();
    }
  }

  #follow(registration: ServiceWorkerRegistration): void {
    if (registration.waiting && registration.active) {
      this.#offer(registration.waiting);
    }
    this.#expect(registration);
    registration.addEventListener('updatefound', () => this.#expect(registration));
  }

  /** Waits for a worker that is being installed. The first of all brings nothing newer than the page itself. */
  #expect({ installing, active }: ServiceWorkerRegistration): void {
    if (installing && active) {
      installing.addEventListener('statechange', () => {
        // Where no page uses the build before, it takes over at once.
        if (installing.state === 'installed' || installing.state === 'activated') {
          this.#offer(installing);
        }
      });
    }
  }

  #offer(worker: ServiceWorker): void {
    this.next.update(() => worker);
  }
}

/** Waits until a worker has taken over, be it for the sake of another page, or was replaced by a still newer one. */
async function tookOver(worker: ServiceWorker): Promise<void> {
  const isOver = (): boolean => worker.state === 'activated' || worker.state === 'redundant';
  if (isOver()) {
    return;
  }
  const over = new Promise<void>((resolve) => {
    worker.addEventListener('statechange', () => {
      if (isOver()) {
        resolve();
      }
    });
  });
  // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a worker is no window and has no such parameter
  worker.postMessage('take over' satisfies TakeOver);
  await over;
}
