import { readFileSync } from 'node:fs';

import { expect, test, type Locator, type Page } from '@playwright/test';

import type { Measure } from '../../www/src/core/types.ts';
import { quantile, told } from './command-line.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, sample, TWO_ANIMALS } from './recordings.ts';

const panel = (page: Page): Locator => page.locator('compare-panel');
const count = (page: Page): Locator => page.locator('pulse-sheet .count');
const row = (page: Page, measure: Measure): Locator => panel(page).locator(`tr[data-measure="${measure}"] td`);

const spread = (values: number[]): number => Math.max(...values) - Math.min(...values);

async function opened(page: Page, file: string): Promise<Notebook> {
  const notebook = await Notebook.open(page, '/', '#leaf=sheet');
  await notebook.choose(sample(file));
  return notebook;
}

/** A number as the page writes it. */
const written = (value: number, decimals: number): string => value.toFixed(decimals).replace('-', '−');

test('the numbers of what is picked are those of the command line', async ({ page }) => {
  const notebook = await opened(page, TWO_ANIMALS);
  await expect(panel(page)).toContainText('Pick pulses to lay their contours over one another');
  await page.locator('sheet-grid [data-at="1"] .plot').click();
  await page.getByRole('button', { name: 'Pick all of sequence 2' }).click();
  await notebook.idle();
  const own = told(TWO_ANIMALS).pulses.filter(({ sequence }) => sequence === 2);
  await expect(count(page)).toHaveText(`${own.length} picked`);
  for (const [measure, decimals] of [['duration_ms', 2], ['peak_khz', 2], ['sweep_khz_per_ms', 2], ['snr_db', 1]] as const) {
    const values = own.map((pulse) => pulse[measure]);
    const at = (share: number): string => written(quantile(values, share), decimals);
    // oxlint-disable-next-line eslint/no-await-in-loop -- one row after the other
    expect(await row(page, measure).allInnerTexts()).toEqual([
      at(0.5),
      `${at(0.25)} to ${at(0.75)}`,
      `${at(0)} to ${at(1)}`,
      String(own.length),
    ]);
  }
  // An interval that spans missed pulses is none of the animal's.
  const intervals = own.filter(({ interval_ms: ms, flags }) => (ms ?? null) !== null && !flags.includes('missed_before'));
  await expect(row(page, 'interval_ms').last()).toHaveText(String(intervals.length));
  const coming = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save these numbers (CSV)' }).click();
  const saved = readFileSync(await (await coming).path(), 'utf8');
  const peaks = own.map(({ peak_khz: khz }) => khz);
  expect(saved).toContain(`\npeak_khz,${own.length},${quantile(peaks, 0.5).toFixed(3)},${quantile(peaks, 0.25).toFixed(3)},`);
  await page.getByRole('button', { name: 'Pick none' }).click();
  await notebook.idle();
  await expect(panel(page).locator('overlay-plot')).toHaveCount(0);
  expect(notebook.complaints).toEqual([]);
});

test('a pulse that stands out is told with its reason, and leads to its cell', async ({ page }) => {
  const notebook = await opened(page, TWO_ANIMALS);
  const { pulses } = told(TWO_ANIMALS);
  await page.locator('sheet-grid [data-at="0"] .plot').click();
  await page.getByRole('button', { name: 'Pick all of sequence 1' }).click();
  await notebook.idle();
  // Iglewicz & Hoaglin 1993: farther from the median than 3.5 times 1.4826 median absolute deviations.
  const peaks = pulses.filter(({ sequence }) => sequence === 1).map(({ peak_khz: khz }) => khz);
  const median = quantile(peaks, 0.5);
  const mad = quantile(peaks.map((khz) => Math.abs(khz - median)), 0.5);
  const striking = pulses.flatMap(({ sequence, peak_khz: khz }, at) =>
    sequence === 1 && Math.abs(khz - median) > 3.5 * 1.4826 * mad ? [at] : [],
  );
  expect(striking).not.toEqual([]);
  for (const at of striking) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- one after the other
    await expect(panel(page).getByRole('button', { name: `Pulse ${at + 1}`, exact: true })).toHaveCount(1);
  }
  await expect(panel(page).locator('li').first()).toContainText(/\d kHz|ms (above|below) the others’ /);
  const [first = 0] = striking;
  await panel(page).getByRole('button', { name: `Pulse ${first + 1}`, exact: true }).click();
  await notebook.idle();
  await expect(page.locator('sheet-grid [aria-selected="true"]')).toHaveAttribute('data-at', String(first));
});

test('picked by the box, by V in a cell and in the picture, and kept over the leaves', async ({ page }) => {
  const notebook = await opened(page, FIRST_PASS);
  await page.getByRole('checkbox', { name: 'Pick pulse 1 for comparing' }).check();
  await page.locator('sheet-grid [data-at="1"] .plot').click();
  await page.keyboard.press('KeyV');
  await expect(count(page)).toHaveText('2 picked');
  await notebook.picture.focus();
  await page.keyboard.press('Period');
  await page.keyboard.press('KeyV');
  await notebook.idle();
  await expect(count(page)).toHaveText('3 picked');
  await expect(panel(page).locator('overlay-plot .line')).toHaveCount(3);
  await page.keyboard.press('Digit1');
  await notebook.idle();
  await page.keyboard.press('Digit2');
  await notebook.idle();
  await expect(count(page)).toHaveText('3 picked');
  await page.keyboard.press('KeyV');
  await expect(count(page)).toHaveText('2 picked');
});

test('contours are laid over one another at the moment that a person chooses', async ({ page }) => {
  const notebook = await opened(page, FIRST_PASS);
  await page.getByRole('button', { name: 'Pick all on the sheet' }).click();
  await notebook.idle();
  const begins = (): Promise<number[]> =>
    panel(page).locator('overlay-plot .line').evaluateAll((lines) =>
      lines.map((line) => Number.parseFloat((line.getAttribute('d') ?? '').slice(1))),
    );
  expect(spread(await begins())).toBeGreaterThan(3);
  await page.getByRole('combobox', { name: /^Line up at/ }).selectOption('start');
  await notebook.idle();
  expect(spread(await begins())).toBeLessThan(0.2);
  await expect(panel(page).getByRole('img')).toHaveAccessibleName(/15 sounds laid over one another at the start/);
});
