/** What was found in files, kept in the browser, so that no file is examined twice. */

import { openDB, type DBSchema, type IDBPDatabase } from 'idb';

import { examinedForm, type ExamineOptions, type ExaminedFile } from '../../wasm/dusklens_web.js';

interface Shelves extends DBSchema {
  /** What a file of this path, size and date turned out to hold: the hash of its content. */
  seen: { key: string; value: string };
  /** What is left of a content. */
  examined: { key: string; value: string };
  /** Its rows of the table of pulses, apart: they are only wanted for the whole table. */
  rows: { key: string; value: string };
}

const NAME = 'dusklens nights';
const VERSION = 1;

/** What results depend on besides the content: options, and how this version examines, as it stands in keys. */
export function optionsKey({ expansion, channel }: ExamineOptions): string {
  return `${examinedForm()}|${expansion ?? ''}|${channel}`;
}

/** Where results are kept. */
export interface Shelf {
  /** Why nothing outlasts the page, as a sentence; null where it does. */
  readonly refusal: string | null;
  /** What is left of each of these files, as far as they were met before. */
  recall(keys: readonly string[], options: string): Promise<readonly (string | null)[]>;
  /** What is left of a content, wherever it lay. */
  find(sha256: string, options: string): Promise<string | null>;
  /** Keeps what was found; `key` is the file's. */
  put(key: string, file: ExaminedFile, options: string): Promise<void>;
  /** Keeps that a file holds a content that is known. */
  meet(key: string, sha256: string, options: string): Promise<void>;
  rows(sha256: string, options: string): Promise<string | null>;
  /** Forgets everything. */
  clear(): Promise<void>;
}

const REFUSED =
  'This browser keeps nothing for this page, as in a private window. What is found stays until the page is closed; a card that is opened again is worked through anew.';
const FULL =
  'The browser has no more room for this page. What is found from here on stays until the page is closed.';

/** The browser's own shelf; where it has none, one that lasts as long as the worker. */
export async function openShelf(): Promise<Shelf> {
  try {
    const database = await openDB<Shelves>(NAME, VERSION, {
      upgrade(fresh) {
        fresh.createObjectStore('seen');
        fresh.createObjectStore('examined');
        fresh.createObjectStore('rows');
      },
      blocking(_current, _next, event) {
        (event.target as IDBDatabase).close();
      },
    });
    return new BrowserShelf(database);
  } catch {
    return new MemoryShelf(REFUSED);
  }
}

/** Results under other options are others. */
function keyOf(name: string, options: string): string {
  return `${options}|${name}`;
}

class BrowserShelf implements Shelf {
  readonly #database: IDBPDatabase<Shelves>;
  /** What found no room. */
  #spare: MemoryShelf | null = null;

  constructor(database: IDBPDatabase<Shelves>) {
    this.#database = database;
  }

  get refusal(): string | null {
    return this.#spare?.refusal ?? null;
  }

  async recall(keys: readonly string[], options: string): Promise<readonly (string | null)[]> {
    const transaction = this.#database.transaction(['seen', 'examined']);
    const seen = transaction.objectStore('seen');
    const examined = transaction.objectStore('examined');
    return await Promise.all(
      keys.map(async (key) => {
        const sha256 = await seen.get(keyOf(key, options));
        return sha256 === undefined ? null : ((await examined.get(keyOf(sha256, options))) ?? null);
      }),
    );
  }

  async find(sha256: string, options: string): Promise<string | null> {
    return (await this.#database.get('examined', keyOf(sha256, options))) ?? null;
  }

  async put(key: string, file: ExaminedFile, options: string): Promise<void> {
    await this.#orSpare(
      async () => {
        const transaction = this.#database.transaction(['seen', 'examined', 'rows'], 'readwrite');
        const content = keyOf(file.sha256, options);
        await Promise.all([
          transaction.objectStore('seen').put(file.sha256, keyOf(key, options)),
          transaction.objectStore('examined').put(file.examined, content),
          transaction.objectStore('rows').put(file.rows, content),
          transaction.done,
        ]);
      },
      (spare) => spare.put(key, file, options),
    );
  }

  async meet(key: string, sha256: string, options: string): Promise<void> {
    await this.#orSpare(
      async () => {
        await this.#database.put('seen', sha256, keyOf(key, options));
      },
      (spare) => spare.meet(key, sha256, options),
    );
  }

  async rows(sha256: string, options: string): Promise<string | null> {
    const kept = await this.#database.get('rows', keyOf(sha256, options));
    return kept ?? (await this.#spare?.rows(sha256, options)) ?? null;
  }

  async clear(): Promise<void> {
    const transaction = this.#database.transaction(['seen', 'examined', 'rows'], 'readwrite');
    await Promise.all([
      transaction.objectStore('seen').clear(),
      transaction.objectStore('examined').clear(),
      transaction.objectStore('rows').clear(),
      transaction.done,
    ]);
    this.#spare = null;
  }

  async #orSpare(work: () => Promise<void>, instead: (spare: Shelf) => Promise<void>): Promise<void> {
    if (this.#spare === null) {
      try {
        await work();
        return;
      } catch {
        this.#spare = new MemoryShelf(FULL);
      }
    }
    await instead(this.#spare);
  }
}

class MemoryShelf implements Shelf {
  readonly refusal: string;
  readonly #seen = new Map<string, string>();
  readonly #files = new Map<string, ExaminedFile>();

  constructor(refusal: string) {
    this.refusal = refusal;
  }

  async recall(keys: readonly string[], options: string): Promise<readonly (string | null)[]> {
    return await Promise.all(
      keys.map(async (key) => {
        const sha256 = this.#seen.get(keyOf(key, options));
        return sha256 === undefined ? null : await this.find(sha256, options);
      }),
    );
  }

  async find(sha256: string, options: string): Promise<string | null> {
    return this.#files.get(keyOf(sha256, options))?.examined ?? null;
  }

  async put(key: string, file: ExaminedFile, options: string): Promise<void> {
    this.#seen.set(keyOf(key, options), file.sha256);
    this.#files.set(keyOf(file.sha256, options), file);
  }

  async meet(key: string, sha256: string, options: string): Promise<void> {
    this.#seen.set(keyOf(key, options), sha256);
  }

  async rows(sha256: string, options: string): Promise<string | null> {
    return this.#files.get(keyOf(sha256, options))?.rows ?? null;
  }

  async clear(): Promise<void> {
    this.#seen.clear();
    this.#files.clear();
  }
}
