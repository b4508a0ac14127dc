import { readFileSync } from 'node:fs';

import { expect, test } from '@playwright/test';

import { unzipped } from './archive.ts';
import { makeCard, Night, removeCard, retold } from './card.ts';
import { BUZZ, FIRST_PASS, RAIN, TWO_ANIMALS } from './recordings.ts';
import { linesOf } from './tables.ts';

const HIGH_AND_LOW = 'larkwater-fen-02-high-and-low.wav';

let folder = '';

test.beforeAll(() => {
  folder = makeCard({
    'a.wav': retold(FIRST_PASS),
    'b.wav': retold(TWO_ANIMALS),
    'c.wav': retold(RAIN),
    'd.wav': retold(BUZZ, ['2026-06-14T22:03:05', '2026-06-15T01:00:00']),
    'e.wav': retold(HIGH_AND_LOW, ['2026-06-14T22:02:05', '2026-06-15T03:00:00']),
    'f_20260615_033000.wav': Buffer.from('broken'),
  });
});

test.afterAll(() => removeCard(folder));

const namesOf = async (night: Night): Promise<string[]> => (await night.lines()).map(([time = '']) => time);

/** Minutes from noon on to a time of the clock: nights run from noon to noon. */
function sinceNoon(clock: string): number {
  return ((Number(clock.slice(0, 2)) + 12) % 24) * 60 + Number(clock.slice(3, 5));
}

function sum(values: readonly string[]): number {
  return values.reduce((total, value) => total + Number(value), 0);
}

test('a night at a glance: plots with sun and totals, and a stretch that is marked by dragging or by typing narrows the files', async ({
  page,
}) => {
  const night = await Night.open(page, folder);
  const { place, notebook } = night;
  // Sunset 20:17:37, sunrise 03:22:19 UTC by the Python package astral 3.2; algorithms differ by seconds.
  const total = place.locator('glance-leaf .total');
  await expect(total).toContainText(/sunset 21:1[78] · sunrise 04:2[23]/);
  await expect(total).toContainText('5 recordings, 4 hold bat pulses');
  const plots = place.locator('plot-brush');
  await expect(plots.first()).toBeVisible();
  expect(await plots.count()).toBeGreaterThanOrEqual(2);
  for (const plot of await plots.all()) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- a few
    await expect(plot.getByRole('img')).toHaveAccessibleName(/\w+/);
  }
  const show = place.getByRole('button', { name: 'Show its files' });
  await expect(show).toBeDisabled();

  // From the left end to the middle of the first plot: the evening.
  await plots.first().scrollIntoViewIfNeeded();
  const box = await plots.first().locator('.plot').boundingBox();
  expect(box).not.toBeNull();
  const { x, y, width, height } = box ?? { x: 0, y: 0, width: 0, height: 0 };
  await page.mouse.move(x + width * 0.02, y + height / 2);
  await page.mouse.down();
  await page.mouse.move(x + width * 0.5, y + height / 2, { steps: 4 });
  await page.mouse.up();
  await expect(plots.first().locator('.mark')).toBeVisible();
  const fields = place.locator('stretch-fields');
  const [from, to] = [fields.locator('input[type=time]').first(), fields.locator('input[type=time]').last()];
  const until = await to.inputValue();
  expect(until).toMatch(/^\d\d:\d\d$/);
  await show.click();
  await notebook.idle();
  await expect(page.getByRole('tab', { name: 'Files' })).toHaveAttribute('aria-selected', 'true');
  const all = ['22:01:05', '22:06:05', '22:10:05', '01:00:00', '03:00:00', '03:30:00'];
  const marked = all.filter((clock) => sinceNoon(clock) < sinceNoon(until));
  expect(marked.length).toBeGreaterThan(0);
  expect(marked.length).toBeLessThan(all.length);
  expect(await namesOf(night)).toEqual(marked);
  await expect(place.locator('file-filter')).toContainText(`to ${until}`);

  await night.turnTo('Glance');
  await from.fill('00:30');
  await to.fill('03:00');
  await fields.getByRole('button', { name: 'Mark it' }).click();
  await show.click();
  // Up to and not with the end.
  expect(await namesOf(night)).toEqual(['01:00:00']);
  await night.turnTo('Glance');
  await from.fill('03:00');
  await to.fill('00:30');
  await fields.getByRole('button', { name: 'Mark it' }).click();
  await expect(fields.getByRole('alert')).toHaveText('The end lies before the beginning.');
  await from.fill('');
  await to.fill('');
  // Only one of them has a pass whose characteristic frequency lies there: 25.7 kHz.
  await fields.locator('input[type=number]').first().fill('20');
  await fields.locator('input[type=number]').last().fill('30');
  await fields.getByRole('button', { name: 'Mark it' }).click();
  await show.click();
  expect(await namesOf(night)).toEqual(['03:00:00']);
  await place.getByRole('button', { name: 'All of the night' }).click();
  expect(await namesOf(night)).toEqual(all);
  expect(notebook.complaints).toEqual([]);
});

test('tables, Darwin Core and report are handed in, and files taken along', async ({ page, context }) => {
  const night = await Night.open(page, folder, '&leaf=hand-in');
  const { place, notebook } = night;
  const saved = async (button: string): Promise<{ name: string; bytes: Buffer }> => {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      place.getByRole('button', { name: button, exact: true }).click(),
    ]);
    await notebook.idle();
    return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
  };
  const recordings = await saved('Recordings (CSV)');
  expect(recordings.name).toBe('2026-06-14-LF-0001-recordings.csv');
  const [head = '', ...rows] = linesOf(recordings.bytes.toString('utf8'));
  const columns = head.split(',');
  expect(rows).toHaveLength(6);
  const column = (name: string): string[] => rows.map((row) => row.split(',')[columns.indexOf(name)] ?? '');
  expect(column('path').map((path) => path.replace(/^card\//, ''))).toEqual([
    'a.wav', 'b.wav', 'c.wav', 'd.wav', 'e.wav', 'f_20260615_033000.wav',
  ]);
  expect(column('start')[3]).toBe('2026-06-15T01:00:00+01:00');
  const [first] = await night.nightTable();
  expect(sum(column('passes'))).toBe(Number(first?.['Passes']));
  expect(sum(column('buzzes'))).toBe(Number(first?.['Buzzes']));
  const passes = linesOf((await saved('Passes (CSV)')).bytes.toString('utf8'));
  expect(passes.length - 1).toBe(Number(first?.['Passes']));
  const pulses = linesOf((await saved('Pulses (CSV)')).bytes.toString('utf8'));
  // Doubted sounds stand in it too, each with its reason in the last column.
  expect(pulses.slice(1).filter((row) => row.endsWith(','))).toHaveLength(sum(column('pulses')));

  // Three parts that fit each other: every field of meta.xml is a column (Darwin Core text guide, TDWG).
  const archive = unzipped((await saved('Darwin Core (ZIP)')).bytes);
  expect([...archive.keys()].toSorted()).toEqual(['event.csv', 'meta.xml', 'occurrence.csv']);
  const meta = archive.get('meta.xml')?.toString('utf8') ?? '';
  for (const [part, named] of [['core', 'event.csv'], ['extension', 'occurrence.csv']] as const) {
    const described = meta.slice(meta.indexOf(`<${part} `), meta.indexOf(`</${part}>`));
    expect(described).toContain(`<location>${named}</location>`);
    const indices = [...described.matchAll(/index="(\d+)"/g)].map((match) => Number(match[1]));
    const header = archive.get(named)?.toString('utf8').split(/\r?\n/)[0]?.split(',') ?? [];
    expect(new Set(indices)).toEqual(new Set(header.keys()));
  }

  // The list of paths is that of the leaf “Files”, narrowed down.
  await night.turnTo('Files');
  await place.getByRole('button', { name: 'Bat pulses' }).click();
  await night.turnTo('Hand in');
  const paths = await saved('Save a list of paths');
  expect(paths.bytes.toString('utf8').trim().split('\n')).toEqual(['a', 'b', 'd', 'e'].map((name) => `card/${name}.wav`));
  // Browsers that let a person choose where to write are asked there; the others are given the archive.
  await page.evaluate(() => Object.assign(window, { showSaveFilePicker: undefined }));
  const taken = unzipped((await saved('Save as ZIP')).bytes);
  expect([...taken.keys()]).toEqual(['a', 'b', 'd', 'e'].map((name) => `card/${name}.wav`));
  expect(taken.get('card/a.wav')?.equals(retold(FIRST_PASS))).toBe(true);

  const report = await saved('Save the report');
  expect(report.name).toBe('2026-06-14-LF-0001-report.html');
  const text = report.bytes.toString('utf8');
  expect(text).not.toMatch(/<script|\bon\w+=|https?:\/\/[^"]*\.(?:js|css)/i);
  const paper = await context.newPage();
  const asked: string[] = [];
  paper.on('request', (request) => asked.push(request.url()));
  await paper.setContent(text);
  await expect(paper.getByRole('heading', { level: 1 })).toBeVisible();
  await expect(paper.locator('body')).toContainText('not a number of animals');
  expect(await paper.locator('svg').count()).toBeGreaterThan(0);
  expect(asked).toEqual([]);
  expect(notebook.complaints).toEqual([]);
});
