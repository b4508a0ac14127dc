import { expect, test, type Page } from '@playwright/test';

import { Notebook } from './notebook.ts';
import { FIRST_PASS, sample } from './recordings.ts';

interface Read {
  time: number;
  khz: number;
  db: number;
}

function read(words: string): Read {
  const match = /([\d.]+) s · ([\d.]+) kHz · ([−\d.]+) dB/.exec(words);
  const [time, khz, db] = (match ?? []).slice(1).map((text) => Number(text.replace('−', '-')));
  return { time: time ?? Number.NaN, khz: khz ?? Number.NaN, db: db ?? Number.NaN };
}

const shown = (page: Page) => page.locator('cross-hair .words');
const told = (page: Page) => page.locator('cross-hair [role="status"]');

test('the pointer reads off time, frequency and level', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await notebook.picture.focus();
  await page.keyboard.press('Digit0');
  await notebook.idle();
  await notebook.picture.scrollIntoViewIfNeeded();
  const place = await notebook.placeOf(7);
  await page.mouse.move(place.x, place.y);
  const loud = read(await shown(page).innerText());
  const cells = await notebook.rows.nth(7).locator('td').allInnerTexts();
  const [start, end, , , peak] = cells.map(Number.parseFloat);
  expect(loud.time).toBeCloseTo(((start ?? 0) + (end ?? 0)) / 2, 2);
  expect(Math.abs(loud.khz - (peak ?? 0))).toBeLessThan(0.5);
  await page.mouse.move(place.x, place.y - 80);
  const beside = read(await shown(page).innerText());
  expect(beside.db).toBeLessThan(loud.db);
  await page.mouse.move(place.x + 40, place.y);
  const hiss = read(await shown(page).innerText());
  expect(hiss.db).toBeLessThan(loud.db - 20);
  await page.mouse.move(2, 2);
  await expect(shown(page)).toHaveText('');
});

test('a cross-hair reads off by keys, and is announced', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await notebook.picture.focus();
  await page.keyboard.press('Digit0');
  await notebook.idle();
  const view = notebook.view();
  await page.keyboard.press('KeyC');
  await expect(told(page)).toContainText('Cross-hair on.');
  const middle = read(await told(page).innerText());
  expect(middle.time).toBeCloseTo((view.t[0] + view.t[1]) / 2, 2);
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowUp');
  const moved = read(await told(page).innerText());
  expect(moved.time).toBeGreaterThan(middle.time);
  expect(moved.khz).toBeGreaterThan(middle.khz);
  expect(moved.db).toBeLessThan(0);
  await page.keyboard.press('Shift+ArrowRight');
  const farther = read(await told(page).innerText());
  expect(farther.time - moved.time).toBeGreaterThan(10 * (moved.time - middle.time));
  // The view stays, and arrow keys move it again afterwards.
  expect(notebook.view()).toEqual(view);
  await page.keyboard.press('Escape');
  await expect(told(page)).toHaveText('Cross-hair off.');
  await expect(page.getByRole('button', { name: 'Cross-hair' })).toHaveAttribute('aria-pressed', 'false');
  await page.getByRole('button', { name: 'Cross-hair' }).click();
  await expect(told(page)).toContainText('Cross-hair on.');
  expect(notebook.complaints).toEqual([]);
});
