import { frames } from '../../../frames.ts';
import { Store } from '../../../store.ts';
import { fetchBeside, type Arrived } from './fetch.ts';
import { placeOf } from './path.ts';

/** How it stands with the recording that a link asks for. */
export type Errand =
  | { readonly kind: 'none' }
  | { readonly kind: 'fetching'; readonly path: string; readonly name: string; readonly arrived: Arrived }
  | { readonly kind: 'cancelled'; readonly path: string; readonly name: string };

const NOTHING_YET: Arrived = { bytes: 0, of: null };

/** Fetches recordings that lie beside the page, one at a time: a new link takes the place of the one before. */
export class Errands {
  readonly store = new Store<Errand>({ kind: 'none' });
  #controller = new AbortController();

  /**
   * The recording at a path as a file; null if it was cancelled or another was asked for meanwhile.
   *
   * @throws Problem where it cannot be had
   */
  async run(path: string): Promise<File | null> {
    this.#controller.abort();
    this.#controller = new AbortController();
    const { signal } = this.#controller;
    const place = placeOf(path, location);
    const { name } = place;
    const tell = (arrived: Arrived): void => this.#set({ kind: 'fetching', path, name, arrived });
    tell(NOTHING_YET);
    try {
      const file = await fetchBeside(signal, place, (arrived) => frames.request(this, () => tell(arrived)));
      return signal.aborted ? null : file;
    } catch (error) {
      if (!signal.aborted) {
        throw error;
      }
      return null;
    } finally {
      // What a later errand says stands.
      if (this.#controller.signal === signal) {
        frames.drop(this);
        this.#set(signal.aborted ? { kind: 'cancelled', path, name } : { kind: 'none' });
      }
    }
  }

  cancel(): void {
    this.#controller.abort();
  }

  #set(errand: Errand): void {
    this.store.update(() => errand);
  }
}
