import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** One value that several components look at; it changes by replacement only. */
export class Store<T> {
  readonly #listeners = new Set<() => void>();
  #value: T;

  constructor(initial: T) {
    this.#value = initial;
  }

  get value(): T {
    return this.#value;
  }

  update(change: (value: T) => T): void {
    const next = change(this.#value);
    if (next === this.#value) {
      return;
    }
    this.#value = next;
    for (const listener of this.#listeners) {
      listener();
    }
  }

  /** Calls `listener` after every change; the result ends that. */
  listen(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }
}

/** Renders a component anew whenever a store changes. */
export class Watch<T> implements ReactiveController {
  readonly #host: ReactiveControllerHost;
  readonly #store: Store<T>;
  #stop: (() => void) | null = null;

  constructor(host: ReactiveControllerHost, store: Store<T>) {
    this.#host = host;
    this.#store = store;
    host.addController(this);
  }

  get value(): T {
    return this.#store.value;
  }

  hostConnected(): void {
    this.#stop = this.#store.listen(() => this.#host.requestUpdate());
  }

  hostDisconnected(): void {
    this.#stop?.();
  }
}

/** Anything that tells of its changes. */
interface Telling {
  listen(listener: () => void): () => void;
}

const WATCHED = new WeakMap<ReactiveControllerHost, Set<Telling>>();

/** Renders a component anew whenever one of these stores changes. Called again with the same ones it does nothing. */
export function watch(host: ReactiveControllerHost, ...stores: readonly Telling[]): void {
  const watched = WATCHED.get(host) ?? new Set<Telling>();
  WATCHED.set(host, watched);
  for (const store of stores) {
    if (!watched.has(store)) {
      watched.add(store);
      let stop: (() => void) | null = null;
      host.addController({
        hostConnected() {
          stop = store.listen(() => host.requestUpdate());
        },
        hostDisconnected() {
          stop?.();
        },
      });
    }
  }
}
