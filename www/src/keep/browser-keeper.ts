import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import { afterChange, MemoryKeeper, NOTHING_OWN, type FileIdentity, type Keeper, type KeptRecording, type Own } from './keeper.ts';
import { filledUp, NO_REMARKS, type Remarks } from './remarks.ts';

/** Where remarks lie in the browser. */
interface Shelves extends DBSchema {
  recordings: { key: string; value: KeptRecording; indexes: { bytes: number } };
  own: { key: 'own'; value: Own };
}

const NAME = 'dusklens';
/**
 * Raised when what is kept takes another form; `upgrade` then brings the old form to the new one. A new list of
 * remarks needs none: see `filledUp`.
 */
const VERSION = 1;

const REFUSED =
  'This browser keeps nothing for this page, as in a private window. What you write stays until the page is closed: save it as a keep file before.';
const NEWER =
  'A newer version of this page has kept something here, which this one cannot read. What you write stays until the page is closed: load the page again, or save a keep file before.';

/** The browser's own keeping place; where it has none, one that lasts as long as the page. */
export async function openKeeper(): Promise<Keeper> {
  try {
    return new BrowserKeeper(await opened());
  } catch (error) {
    const newer = error instanceof DOMException && error.name === 'VersionError';
    return new MemoryKeeper(newer ? NEWER : REFUSED);
  }
}

function opened(): Promise<IDBPDatabase<Shelves>> {
  return openDB<Shelves>(NAME, VERSION, {
    upgrade(database, from) {
      if (from < 1) {
        database.createObjectStore('recordings', { keyPath: 'hash' }).createIndex('bytes', 'bytes');
        database.createObjectStore('own');
      }
    },
    blocking(_current, _next, event) {
      // A newer page waits for this one; it may have the place, and this one opens it again when it needs it.
      (event.target as IDBDatabase).close();
    },
  });
}

/** Keeps in the browser's database, on this machine alone. */
class BrowserKeeper implements Keeper {
  readonly refusal = null;
  #database: IDBPDatabase<Shelves>;
  #asked = false;

  constructor(database: IDBPDatabase<Shelves>) {
    this.#database = database;
  }

  async mayKnow(bytes: number): Promise<boolean> {
    return (await this.#on((database) => database.countFromIndex('recordings', 'bytes', bytes))) > 0;
  }

  async load(hash: string): Promise<Remarks | null> {
    const kept = await this.#on((database) => database.get('recordings', hash));
    return kept === undefined ? null : filledUp(kept.remarks);
  }

  async apply(file: FileIdentity, before: Remarks, after: Remarks): Promise<Remarks> {
    this.#askToStay();
    return await this.#on(async (database) => {
      const transaction = database.transaction('recordings', 'readwrite');
      const next = afterChange(await transaction.store.get(file.hash), file, before, after);
      await (next ? transaction.store.put(next) : transaction.store.delete(file.hash));
      await transaction.done;
      return next?.remarks ?? NO_REMARKS;
    });
  }

  async all(): Promise<readonly KeptRecording[]> {
    const kept = await this.#on((database) => database.getAll('recordings'));
    return kept.map(({ hash, bytes, name, remarks }) => ({ hash, bytes, name, remarks: filledUp(remarks) }));
  }

  async own(): Promise<Own> {
    return { ...NOTHING_OWN, ...(await this.#on((database) => database.get('own', 'own'))) };
  }

  async changeOwn(change: (own: Own) => Own): Promise<Own> {
    return await this.#on(async (database) => {
      const transaction = database.transaction('own', 'readwrite');
      const next = change({ ...NOTHING_OWN, ...(await transaction.store.get('own')) });
      await transaction.store.put(next, 'own');
      await transaction.done;
      return next;
    });
  }

  /** Works on the database, which is opened once more where it was closed in the meantime. */
  async #on<T>(work: (database: IDBPDatabase<Shelves>) => Promise<T>): Promise<T> {
    try {
      return await work(this.#database);
    } catch (error) {
      if (!(error instanceof DOMException && error.name === 'InvalidStateError')) {
        throw error;
      }
    }
    this.#database = await opened();
    return await work(this.#database);
  }

  /** Asks the browser not to clear this up when space is short, or after some days as some do. */
  #askToStay(): void {
    if (!this.#asked && typeof navigator.storage?.persist === 'function') {
      this.#asked = true;
      navigator.storage.persist().catch(() => undefined);
    }
  }
}
