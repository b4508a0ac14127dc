/** Cards as recorders bring them home, made of the sample recordings: small, and with all that goes wrong. */

import { mkdirSync, mkdtempSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';

import { expect, type Locator, type Page } from '@playwright/test';

import { Notebook } from './notebook.ts';
import { BUZZ, FIRST_PASS, pathOf, RAIN, samplesOf, TWO_ANIMALS, wav } from './recordings.ts';

/** All sample recordings, in order of time: a minute after each other, the first at 22:01:05. */
export const SAMPLES = [
  FIRST_PASS,
  'larkwater-fen-02-high-and-low.wav',
  BUZZ,
  'larkwater-fen-04-steep-sweeps.wav',
  'larkwater-fen-05-level-calls.wav',
  TWO_ANIMALS,
  'larkwater-fen-07-quiet-sweeps.wav',
  'larkwater-fen-08-over-open-water.wav',
  'larkwater-fen-09-bush-crickets.wav',
  RAIN,
  'larkwater-fen-11-nothing-but-hiss.wav',
  'larkwater-fen-12-time-expanded.wav',
  'larkwater-fen-13-power-lost.wav',
] as const;

/** The contents of files by their paths below the card. */
export type Files = Readonly<Record<string, Buffer>>;

/** When all files of a card were last written to. */
const WRITTEN = new Date('2026-06-14T21:30:00Z');

/** A folder that is there as long as a test needs it. */
export function makeCard(files: Files): string {
  const folder = join(mkdtempSync(join(tmpdir(), 'dusklens-')), 'card');
  mkdirSync(folder);
  for (const [path, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), content);
    utimesSync(join(folder, path), WRITTEN, WRITTEN);
  }
  return folder;
}

export function removeCard(folder: string): void {
  rmSync(dirname(folder), { recursive: true });
}

const plain = (file: string): Buffer => readFileSync(pathOf(file));

/** A sample recording whose metadata say something else in as many letters. */
export function retold(file: string, ...changes: readonly (readonly [string, string])[]): Buffer {
  let text = plain(file).toString('latin1');
  for (const [before, after] of changes) {
    if (!text.includes(before) || before.length !== after.length) {
      throw new Error(`${file} does not say “${before}”, or “${after}” is not as long`);
    }
    text = text.replace(before, after);
  }
  return Buffer.from(text, 'latin1');
}

/** The beginning of a sample recording, without metadata unless some are given. */
export function cutting(file: string, durationS: number, metadata?: string): Buffer {
  const { samples, rate } = samplesOf(file);
  return wav(samples.slice(0, Math.round(durationS * rate)), { rate, ...(metadata === undefined ? {} : { metadata }) });
}

/** Files that can be examined, or are found broken, in `wholeCard`. */
export const RECORDINGS = 21;

/**
 * A card with two nights of a recorder and one of another, a copy, a broken file, an empty one, one whose time stands in
 * its name only, and two files that are no recordings.
 */
export function wholeCard(): Files {
  return {
    ...Object.fromEntries(SAMPLES.map((file) => [`100/${file}`, plain(file)])),
    '100/again.wav': plain(BUZZ),
    '100/broken_20260614_230000.wav': Buffer.from('RIFF and nothing that a recorder writes after it'),
    '100/empty_20260614_231500.wav': Buffer.alloc(0),
    '100/named_20260614_234500.wav': cutting(TWO_ANIMALS, 0.6),
    '100/deeper/night two a.wav': retold(FIRST_PASS, ['2026-06-14T22:01:05', '2026-06-15T23:30:00']),
    '100/deeper/night two b.wav': retold(BUZZ, ['2026-06-14T22:03:05', '2026-06-16T01:00:00']),
    'pond/pond a.wav': retold(FIRST_PASS, ['LF-0001', 'LF-0002']),
    'pond/pond b.wav': retold(RAIN, ['LF-0001', 'LF-0002']),
    'notes.txt': Buffer.from('Gate was open.'),
    [`100/._${FIRST_PASS}`]: Buffer.from('a shadow'),
  };
}

/** A dozen short recordings of one night and one recorder, five minutes after each other, the first at 23:00:00. */
export function shortCard(): Files {
  const sources = SAMPLES.filter((file) => !file.includes('power-lost') && !file.includes('expanded'));
  const files = Array.from({ length: 12 }, (_, at) => {
    const minute = String(at * 5).padStart(2, '0');
    const metadata = `GUANO|Version: 1.0\nTimestamp: 2026-06-14T23:${minute}:00+01:00\nSerial: LF-0009\n`;
    return [`night/${minute}.wav`, cutting(sources[at % sources.length] ?? FIRST_PASS, 0.4, metadata)] as const;
  });
  return Object.fromEntries(files);
}

/** The Night place of a page. */
export class Night {
  readonly notebook: Notebook;
  readonly page: Page;
  readonly place: Locator;
  readonly nights: Locator;
  readonly progress: Locator;
  readonly rows: Locator;
  readonly turnedTo: Locator;
  readonly list: Locator;

  constructor(notebook: Notebook) {
    this.notebook = notebook;
    this.page = notebook.page;
    this.place = this.page.locator('night-place');
    this.nights = this.place.getByRole('region', { name: 'Nights' }).locator('tbody tr');
    this.progress = this.place.locator('card-progress');
    this.list = this.place.getByRole('listbox', { name: 'Files' });
    this.rows = this.list.getByRole('option');
    this.turnedTo = this.list.getByRole('option', { selected: true });
  }

  static async open(page: Page, folder: string, fields = '', address = '/'): Promise<Night> {
    const night = new Night(await Notebook.open(page, address, `#place=night${fields}`));
    await night.choose(folder);
    return night;
  }

  /** Opens a folder through the folder field, as browsers without a picker of folders do. */
  async choose(folder: string): Promise<void> {
    await this.place.getByLabel('Folder of recordings').setInputFiles(folder);
    await this.examined();
  }

  /** Waits until everything is examined. */
  async examined(): Promise<void> {
    await expect(this.progress.getByText(/examined\.$|no recordings/).first()).toBeVisible();
    await this.notebook.idle();
  }

  async turnTo(leaf: string): Promise<void> {
    await this.page.getByRole('tab', { name: leaf, exact: true }).click();
    await this.notebook.idle();
  }

  /** Looks at one night only. */
  async only(night: string, recorder: string): Promise<void> {
    await this.place.getByRole('button', { name: `Only the night ${night}, recorder ${recorder}` }).click();
    await this.notebook.idle();
  }

  /** The table of nights, cell by cell, by the headings of its columns. */
  async nightTable(): Promise<Record<string, string>[]> {
    const heads = await this.place.getByRole('region', { name: 'Nights' }).locator('thead th').allInnerTexts();
    const rows = await this.nights.evaluateAll((all) =>
      all.map((row) => [...row.children].map((cell) => (cell.querySelector('label') ?? cell).textContent?.trim() ?? '')),
    );
    return rows.map((cells) => Object.fromEntries(cells.map((cell, at) => [heads[at] ?? '', cell])));
  }

  /** The lines of the list in sight: time, group, frequency, activity, what people said, notes. */
  async lines(): Promise<string[][]> {
    await this.notebook.idle();
    return await this.rows.evaluateAll((all) =>
      all.map((row) => [...row.children].map((cell) => cell.textContent?.trim() ?? '')),
    );
  }

  /** The name of the file that is turned to. */
  file(): Locator {
    return this.place.locator('files-leaf section[aria-label="The file that is turned to"] h2');
  }

  async press(...keys: string[]): Promise<void> {
    for (const key of keys) {
      // oxlint-disable-next-line eslint/no-await-in-loop -- one after the other
      await this.page.keyboard.press(key);
    }
    await this.notebook.idle();
  }

  /** Writes into a field of the settings and leaves it. */
  async say(field: string, text: string): Promise<void> {
    const input = this.place.getByLabel(field, { exact: true });
    await input.fill(text);
    await input.blur();
    await this.notebook.idle();
  }
}
