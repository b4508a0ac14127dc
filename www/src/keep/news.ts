/** What one page tells the others that are open at the same time. */
export interface Change {
  /** Whose remarks changed; null: what is kept for all recordings. */
  readonly hash: string | null;
  /** The size of that file, for pages that do not know its content yet. */
  readonly bytes: number;
}

/** Tells other open pages of changes, and hears theirs. Where a browser cannot, each page only knows its own. */
export class News {
  readonly #channel: BroadcastChannel | null;

  constructor(heard: (change: Change) => void) {
    this.#channel = typeof BroadcastChannel === 'function' ? new BroadcastChannel('dusklens-keep') : null;
    this.#channel?.addEventListener('message', ({ data }: MessageEvent<Change>) => heard(data));
  }

  tell(change: Change): void {
    this.#channel?.postMessage(change);
  }
}
