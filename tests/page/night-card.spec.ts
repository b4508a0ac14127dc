import { cpSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

import { expect, test, type Page } from '@playwright/test';

import { makeCard, Night, removeCard, retold, SAMPLES, shortCard, wholeCard } from './card.ts';
import { told, type Told } from './command-line.ts';
import { fillIn, gate, SIDE_BY_SIDE } from './gate.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, pathOf } from './recordings.ts';
import { shapes } from './shapes.ts';

const GROUPS = { holds_pulses: 'Bat pulses', unsure: 'Unsure', probably_none: 'Probably none' };

/** What a line of the list must say by the command line's account: group, frequency, passes and buzzes. */
function lineOf({ summary, pulses }: Told): string[] {
  const passes = summary.sequences.filter((sequence) => sequence.pulses >= 2);
  const loudness = (number: number): number =>
    Math.max(...pulses.filter(({ sequence }) => sequence === number).map(({ snr_db }) => snr_db));
  const plainest = passes.toSorted((a, b) => loudness(b.number) - loudness(a.number))[0];
  const activity = [
    passes.length === 0 ? '' : `${passes.length} pass${passes.length === 1 ? '' : 'es'}`,
    summary.buzzes.length === 0 ? '' : `${summary.buzzes.length} buzz${summary.buzzes.length === 1 ? '' : 'es'}`,
  ];
  return [
    GROUPS[summary.verdict],
    plainest ? `${plainest.characteristic_khz.toFixed(1)} kHz` : '',
    activity.filter((text) => text !== '').join(', '),
  ];
}

test('a card is opened: nights, recorders, copies and broken files are told apart, by the numbers of the command line', async ({
  page,
}) => {
  const folder = makeCard(wholeCard());
  try {
    const night = await Night.open(page, folder, '&leaf=files');
    await expect(night.progress).toContainText('All 21 recordings examined.');
    await expect(night.progress).toContainText('2 other files passed over');
    const all = SAMPLES.map((file) => told(file));
    const holding = all.filter(({ summary }) => summary.verdict === 'holds_pulses').length;
    const [first, pond, second] = await night.nightTable();
    // The recordings of that night are the samples and the one without metadata: a copy counts once.
    expect(first).toMatchObject({
      Night: '14 – 15 June 2026',
      Recorder: 'LF-0001',
      Recordings: '14',
      'With bat pulses': String(holding + 1),
      Broken: '2 files',
    });
    // From 22:10:05 back to 22:01:05, and the seconds that the last one lasts.
    expect(pond).toMatchObject({ Recorder: 'LF-0002', Recordings: '2', 'On watch': '9 min', Broken: '0' });
    expect(second).toMatchObject({ Night: '15 – 16 June 2026', Recorder: 'LF-0001', Recordings: '2', 'On watch': '1 h 30 min' });
    await expect(night.nights).toHaveCount(3);

    // The largest night is looked at first.
    await expect(night.nights.nth(0).getByRole('checkbox')).toBeChecked();
    const lines = await night.lines();
    const times = lines.map(([time]) => time);
    expect(times).toEqual(times.toSorted());
    await night.place.getByRole('searchbox', { name: 'Name holds' }).fill('larkwater');
    await night.place.getByRole('button', { name: 'Copies' }).click();
    expect((await night.lines()).map((line) => line[5])).toEqual(['same content as card/100/again.wav']);
    await night.place.getByRole('button', { name: 'Copies' }).click();
    await expect(night.rows).toHaveCount(SAMPLES.length);
    const listed = (await night.lines()).map((line) => line.slice(1, 4));
    const copied = ['Copies', ...lineOf(all[2] as Told).slice(1)];
    expect(listed).toEqual(all.map((one, at) => (at === 2 ? copied : lineOf(one))));

    await night.place.getByRole('searchbox', { name: 'Name holds' }).fill('');
    await night.place.getByRole('button', { name: 'Broken' }).click();
    expect((await night.lines()).map(([time, , , , , reason]) => [time, reason])).toEqual([
      ['23:00:00', expect.stringContaining('not a WAV file')],
      ['23:15:00', 'the file is empty (0 bytes)'],
    ]);
    await night.only('14 – 15 June 2026', 'LF-0002');
    await expect(night.rows).toHaveCount(0);
    await night.place.getByRole('button', { name: 'Broken' }).click();
    await expect(night.rows).toHaveCount(2);

    await night.only('14 – 15 June 2026', 'LF-0001');
    await night.turnTo('Night check');
    const checks = night.place.locator('check-leaf li');
    const verdicts = await checks.locator('.verdict').allInnerTexts();
    const order = ['Trouble', 'Look at it', 'Cannot be told', 'Nothing unusual'];
    expect(verdicts).toEqual(verdicts.toSorted((a, b) => order.indexOf(a) - order.indexOf(b)));
    expect(new Set(verdicts).size).toBeGreaterThan(1);
    await expect(night.place.locator('check-leaf').getByText('Rule:')).toHaveCount(verdicts.length);
    await night.place.getByRole('button', { name: 'broken_20260614_230000.wav' }).first().click();
    await night.notebook.idle();
    await expect(page.locator('call-place')).toContainText('not a WAV file');
    expect(night.notebook.complaints).toEqual([]);
    // The card is as it was.
    expect(readFileSync(join(folder, '100', FIRST_PASS)).equals(readFileSync(pathOf(FIRST_PASS)))).toBe(true);
  } finally {
    removeCard(folder);
  }
});

const letThrough = (page: Page, count: number): Promise<void> => page.evaluate((n) => window.letThrough(n), count);

const askedFor = (page: Page): Promise<string[]> => page.evaluate(() => window.examined());

test('the work is paused, stopped, and cut off with the page, and goes on where it was: no file is examined twice', async ({
  page,
  context,
}) => {
  const folder = makeCard(shortCard());
  try {
    await gate(page);
    const night = new Night(await Notebook.open(page, '/', '#place=night&leaf=settings'));
    await fillIn(page, folder);
    const opener = night.place.getByRole('button', { name: /Open (?:a|another) folder/ });
    await opener.click();
    await letThrough(page, 12);
    await night.examined();
    await expect(night.progress).toContainText('All 12 recordings examined.');
    expect(await askedFor(page)).toHaveLength(12);
    const undisturbed = await night.nightTable();
    expect(undisturbed).toMatchObject([{ Recorder: 'LF-0009', Recordings: '12', 'On watch': '55 min' }]);
    const forget = night.place.getByRole('button', { name: 'Forget what was found' });
    await forget.click();
    await expect(night.place.getByText('Forgotten.')).toBeAttached();

    // Here no file is looked at beside being examined. Results are there before the end.
    await opener.click();
    await letThrough(page, 3);
    await expect(night.progress).toContainText('3 of 12 recordings');
    await expect(night.nights.locator('td').nth(2)).toHaveText('3');
    await night.place.getByRole('button', { name: 'Pause' }).click();
    // What was begun is brought to its end, and nothing is begun.
    await letThrough(page, 12);
    await expect(night.progress).toContainText(`Paused: ${3 + SIDE_BY_SIDE} of 12 recordings`);
    expect(await askedFor(page)).toHaveLength(3 + SIDE_BY_SIDE);
    await night.place.getByRole('button', { name: 'Go on' }).click();
    await night.examined();
    expect(await night.nightTable()).toEqual(undisturbed);
    expect(await askedFor(page)).toHaveLength(12);

    // All of it is known now.
    await opener.click();
    await night.examined();
    await expect(night.progress).toContainText('12 recordings known from before');
    expect(await askedFor(page)).toHaveLength(0);
    expect(await night.nightTable()).toEqual(undisturbed);

    await forget.click();
    await expect(night.place.getByText('Forgotten.')).toBeAttached();
    await opener.click();
    await letThrough(page, 4);
    await expect(night.progress).toContainText('4 of 12 recordings');
    await night.place.getByRole('button', { name: 'Stop' }).click();
    await letThrough(page, SIDE_BY_SIDE);
    await expect(night.progress).toContainText('Stopped: 4 of 12 recordings examined.');
    await opener.click();
    await letThrough(page, 2);
    await expect(night.progress).toContainText('6 of 12 recordings');
    await expect(night.progress).toContainText('4 recordings known from before');
    await page.close();

    const next = await context.newPage();
    await gate(next);
    const later = new Night(await Notebook.open(next, '/', '#place=night&leaf=settings'));
    await later.place.getByRole('button', { name: 'Open a folder' }).click();
    await letThrough(next, 6);
    await later.examined();
    await expect(later.progress).toContainText('All 12 recordings examined.');
    await expect(later.progress).toContainText('6 recordings known from before');
    expect(await askedFor(next)).toHaveLength(6);
    expect(await later.nightTable()).toEqual(undisturbed);
    expect(later.notebook.complaints).toEqual([]);
    expect(night.notebook.complaints).toEqual([]);
  } finally {
    removeCard(folder);
  }
});

/** How many entries the stores of what was found hold; the rows of pulses are taken out first where that is wanted. */
function kept(page: Page, withoutRows: boolean): Promise<{ seen: number; examined: number; rows: number }> {
  return page.evaluate(async (empties) => {
    // oxlint-disable-next-line unicorn/consistent-function-scoping -- the page gets this function alone
    const asked = <T>(request: IDBRequest<T>): Promise<T> =>
      new Promise((resolve, reject) => {
        request.addEventListener('success', () => resolve(request.result));
        request.addEventListener('error', () => reject(request.error));
      });
    const database = await asked(indexedDB.open('dusklens nights'));
    const stores = database.transaction(['seen', 'examined', 'rows'], 'readwrite');
    if (empties) {
      await asked(stores.objectStore('rows').clear());
    }
    const [seen, examined, rows] = await Promise.all(
      ['seen', 'examined', 'rows'].map((name) => asked(stores.objectStore(name).count())),
    );
    database.close();
    return { seen: seen ?? 0, examined: examined ?? 0, rows: rows ?? 0 };
  }, withoutRows);
}

for (const { name, address } of shapes) {
  test(`${name}: cards of two recorders that write the same names, sizes and dates are not taken for each other`, async ({ page }) => {
    const one = makeCard({ '20260614_220105.wav': retold(FIRST_PASS) });
    const other = makeCard({ '20260614_220105.wav': retold(FIRST_PASS, ['LF-0001', 'LF-0002']) });
    try {
      const night = await Night.open(page, one, '', address);
      expect(await night.nightTable()).toMatchObject([{ Recorder: 'LF-0001' }]);
      await expect(night.place.locator('plot-brush').first()).toBeVisible();
      await night.choose(other);
      expect(await night.nightTable()).toMatchObject([{ Recorder: 'LF-0002' }]);
      await expect(night.progress).not.toContainText('known from before');
      await night.choose(other);
      await expect(night.progress).toContainText('1 recording known from before');
      expect(await night.nightTable()).toMatchObject([{ Recorder: 'LF-0002' }]);
      expect(night.notebook.complaints).toEqual([]);
    } finally {
      removeCard(one);
      removeCard(other);
    }
  });
}

test('the same files in another folder are read and not measured again; a folder is dropped; one is empty', async ({ page }) => {
  const folder = makeCard(shortCard());
  const other = join(dirname(folder), 'copied card');
  try {
    cpSync(folder, other, { recursive: true });
    const night = await Night.open(page, folder, '&leaf=files');
    const before = await night.nightTable();
    // Measuring would bring the rows back.
    expect(await kept(page, true)).toEqual({ seen: 12, examined: 12, rows: 0 });
    await night.notebook.dropPaths(other);
    await expect(night.progress).toContainText('All 12 recordings examined.');
    expect(await night.nightTable()).toEqual(before);
    await expect(night.place.locator('files-leaf .path')).toHaveText(/^copied card\/night\//);
    expect(await kept(page, false)).toEqual({ seen: 24, examined: 12, rows: 0 });

    const empty = makeCard({ 'DCIM/readme.txt': Buffer.from('Nothing but words.') });
    try {
      await night.notebook.dropPaths(empty);
      await expect(night.progress).toContainText('There are no recordings in this folder.');
      await expect(night.progress).toContainText('1 other file passed over');
      await expect(night.nights).toHaveCount(0);
    } finally {
      removeCard(empty);
    }
    expect(night.notebook.complaints).toEqual([]);
  } finally {
    removeCard(folder);
  }
});
