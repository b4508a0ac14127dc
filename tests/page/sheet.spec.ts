import { expect, test, type Locator, type Page } from '@playwright/test';

import { expectNoBarriers, expectNoSidewaysScroll } from './barriers.ts';
import { told } from './command-line.ts';
import { Notebook } from './notebook.ts';
import { BUZZ, clicked, FIRST_PASS, HISS, named, sample, samplesOf, TWO_ANIMALS, wav } from './recordings.ts';

const cells = (page: Page): Locator => page.locator('sheet-grid [role="gridcell"]');
const names = (page: Page): Promise<string[]> => page.locator('sheet-grid .tick b').allInnerTexts();
const selectedCell = (page: Page): Locator => page.locator('sheet-grid [aria-selected="true"]');

/** The name of a pulse by its place. */
const nameOf = (at: number): string => String(at + 1);

/** Opens recordings with the sheet before one. */
async function opened(page: Page, fragment = '', ...files: Parameters<Notebook['choose']>): Promise<Notebook> {
  const notebook = await Notebook.open(page, '/', `#leaf=sheet${fragment}`);
  await notebook.choose(...files);
  return notebook;
}

/** A recording several times in a row. */
function repeated(file: string, times: number): ReturnType<typeof named> {
  const { samples, rate } = samplesOf(file);
  const all = new Int16Array(samples.length * times);
  for (let turn = 0; turn < times; turn += 1) {
    all.set(samples, turn * samples.length);
  }
  return named('repeated.wav', wav(all, { rate }));
}

test('what the sheet scrolls out of sight does not lengthen the page', async ({ page }) => {
  await opened(page, '', sample(BUZZ));
  const beyond = await page.evaluate(
    () => document.documentElement.scrollHeight - Math.ceil(document.body.getBoundingClientRect().bottom + scrollY),
  );
  expect(beyond).toBeLessThan(4);
});

test('every pulse has a cell with the numbers that the command line prints', async ({ page }) => {
  const notebook = await opened(page, '', sample(FIRST_PASS));
  const { pulses } = told(FIRST_PASS);
  await page.getByLabel('Cells').selectOption('small');
  await notebook.idle();
  await expect(cells(page)).toHaveCount(pulses.length);
  const shown = await page.locator('sheet-grid .numbers').allInnerTexts();
  const expected = pulses.map(
    ({ duration_ms: ms, peak_khz: peak, characteristic_khz: characteristic }) =>
      `${ms.toFixed(2)} ms,${peak.toFixed(1)} kHz,${characteristic.toFixed(1)} kHz`,
  );
  const numbers = shown.map((text) => text.split('\n').filter((line) => /\d/.test(line)).join(','));
  expect(numbers).toEqual(expected);
  const [first] = pulses;
  await expect(cells(page).first()).toHaveAccessibleName(
    new RegExp(`^Pulse 1, sequence 1, Duration ${first?.duration_ms.toFixed(2)} ms, Peak frequency `),
  );
  expect(notebook.complaints).toEqual([]);
});

test('cells have pictures, and all are loudest at the dotted line', async ({ page }) => {
  const notebook = await opened(page, '&map=grey&theme=hut', sample(FIRST_PASS));
  await expect(cells(page)).not.toHaveCount(0);
  await notebook.idle();
  const drawn = await page.locator('sheet-grid .plot').evaluateAll((plots) =>
    plots.map((plot) => {
      const canvas = plot.querySelector('canvas');
      const line = Number(plot.querySelector('.moment')?.getAttribute('x1'));
      const { width = 1, height = 1 } = canvas ?? {};
      const data = canvas?.getContext('2d')?.getImageData(0, 0, width, height).data ?? [];
      let loudest = { column: -1, sum: 0 };
      const colours = new Set<number>();
      for (let column = 0; column < width; column += 1) {
        let sum = 0;
        for (let row = 0; row < height; row += 1) {
          const value = data[(row * width + column) * 4] ?? 0;
          colours.add(value);
          // Grey is even in decibels: far above the others, a loud pixel counts alone.
          sum += 10 ** (value / 64);
        }
        loudest = sum > loudest.sum ? { column, sum } : loudest;
      }
      const share = (loudest.column + 0.5) / width;
      return { colours: colours.size, off: Math.abs(share - line / plot.clientWidth) };
    }),
  );
  expect(drawn.length).toBeGreaterThan(4);
  expect(Math.min(...drawn.map(({ colours }) => colours))).toBeGreaterThan(20);
  // A window of a millisecond, of ten that a cell shows.
  expect(Math.max(...drawn.map(({ off }) => off))).toBeLessThan(0.1);
});

test('the sheet is sorted by a number, both ways, and what has none comes last', async ({ page }) => {
  const notebook = await opened(page, '', sample(FIRST_PASS));
  const { pulses } = told(FIRST_PASS);
  await page.getByLabel('Cells').selectOption('small');
  await page.getByLabel('Sort by').selectOption('interval_ms');
  await notebook.idle();
  const interval = (at: number): number | null => pulses[at]?.interval_ms ?? null;
  const all = pulses.map((_, at) => at);
  const ordered = all.filter((at) => interval(at) !== null).toSorted((a, b) => (interval(a) ?? 0) - (interval(b) ?? 0));
  const without = all.filter((at) => interval(at) === null);
  expect(await names(page)).toEqual([...ordered, ...without].map(nameOf));
  await page.getByRole('button', { name: 'Ascending' }).click();
  await notebook.idle();
  expect(await names(page)).toEqual([...ordered.toReversed(), ...without].map(nameOf));
});

test('the sheet holds one sequence alone if a person wants that', async ({ page }) => {
  const notebook = await opened(page, '', sample(TWO_ANIMALS));
  const { pulses } = told(TWO_ANIMALS);
  await page.getByLabel('Cells').selectOption('small');
  await page.getByRole('combobox', { name: /^Show/ }).selectOption('2');
  await notebook.idle();
  const own = pulses.flatMap(({ sequence }, at) => (sequence === 2 ? [String(at + 1)] : []));
  expect(own.length).toBeGreaterThan(5);
  expect(await names(page)).toEqual(own);
  await page.getByRole('combobox', { name: /^Show/ }).selectOption('picked');
  await notebook.idle();
  await expect(page.locator('pulse-sheet .empty')).toBeVisible();
});

test('a person chooses the numbers below the pulses', async ({ page }) => {
  const notebook = await opened(page, '', sample(FIRST_PASS));
  await page.getByText('Numbers below each pulse').first().click();
  await page.getByRole('checkbox', { name: 'Duration' }).uncheck();
  await page.getByRole('checkbox', { name: 'Signal-to-noise' }).check();
  await notebook.idle();
  const numbers = page.locator('sheet-grid .numbers').first();
  await expect(numbers).toContainText('S/N');
  await expect(numbers).not.toContainText('Duration');
  await expect(cells(page).first()).toHaveAccessibleName(/Signal-to-noise \d+\.\d dB/);
});

test('by keyboard: from cell to cell, selecting, picking, and on to the picture', async ({ page }) => {
  const notebook = await opened(page, '', sample(TWO_ANIMALS));
  await page.getByRole('tab', { selected: true }).focus();
  const inCell = (): Promise<boolean> =>
    page.evaluate(() => {
      let element = document.activeElement;
      while (element?.shadowRoot?.activeElement) {
        element = element.shadowRoot.activeElement;
      }
      return element?.getAttribute('role') === 'gridcell';
    });
  const tabToCell = async (most: number): Promise<void> => {
    if (most > 0 && !(await inCell())) {
      await page.keyboard.press('Tab');
      await tabToCell(most - 1);
    }
  };
  await tabToCell(30);
  await expect(cells(page).first()).toBeFocused();
  const columns = Number(await page.getByRole('grid', { name: 'Pulses side by side' }).getAttribute('aria-colcount'));
  expect(columns).toBeGreaterThan(2);
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowDown');
  const at = columns + 1;
  await expect(page.locator(`sheet-grid [data-at="${at}"]`)).toBeFocused();
  await page.keyboard.press('Enter');
  await notebook.idle();
  await expect(selectedCell(page)).toHaveAttribute('data-at', String(at));
  await page.keyboard.press('KeyV');
  await notebook.idle();
  await expect(selectedCell(page)).toHaveAccessibleName(/picked$/);
  await expect(page.locator('pulse-sheet .count')).toHaveText('1 picked');
  const before = notebook.view();
  await page.keyboard.press('Shift+Enter');
  await notebook.idle();
  const { t } = notebook.view();
  expect(t[1] - t[0]).toBeLessThan(before.t[1] - before.t[0] || 1);
  const start = told(TWO_ANIMALS).pulses[at]?.start_s ?? Number.NaN;
  expect(t[0]).toBeLessThan(start);
  expect(t[1]).toBeGreaterThan(start);
  await expect(selectedCell(page)).toBeFocused();
  await page.keyboard.press('Control+End');
  await notebook.idle();
  await expect(cells(page).last()).toBeFocused();
  await expect(cells(page).last()).toBeInViewport();
  // What is selected here is selected everywhere.
  await page.keyboard.press('Digit1');
  await notebook.idle();
  await expect(notebook.selectedRow).toHaveAttribute('data-index', String(at));
  expect(notebook.complaints).toEqual([]);
});

test('by pointer: a click selects, a double click and the arrow lead to the picture', async ({ page }) => {
  const notebook = await opened(page, '', sample(FIRST_PASS));
  await page.locator('sheet-grid [data-at="2"] .plot').click();
  await notebook.idle();
  await expect(selectedCell(page)).toHaveAttribute('data-at', '2');
  // The view stays: who clicks only looks.
  await expect(notebook.picture).toHaveAccessibleName(/, 15 pulses$/);
  await page.locator('sheet-grid [data-at="3"] .plot').dblclick();
  await notebook.idle();
  const { pulses } = told(FIRST_PASS);
  const expectInView = (at: number): void => {
    const { t } = notebook.view();
    const start = pulses[at]?.start_s ?? Number.NaN;
    expect(t[0]).toBeLessThan(start);
    expect(t[1]).toBeGreaterThan(start);
  };
  expectInView(3);
  await page.getByRole('button', { name: 'Show pulse 1 in the picture' }).click();
  await notebook.idle();
  expectInView(0);
  await expect(selectedCell(page)).toHaveAttribute('data-at', '0');
});

test('doubted sounds are on the sheet only where they are shown', async ({ page }) => {
  const notebook = await opened(page, '', clicked());
  await page.getByLabel('Cells').selectOption('small');
  await notebook.idle();
  expect((await names(page)).filter((name) => name.startsWith('D'))).toEqual([]);
  await page.getByRole('button', { name: /^Show \d+ doubted sounds?$/ }).click();
  await notebook.idle();
  expect((await names(page)).filter((name) => name.startsWith('D'))).not.toEqual([]);
  await expect(cells(page).filter({ hasText: 'D1' }).first()).toHaveAccessibleName(/^Doubted sound D1, click/);
});

test('of hundreds of pulses only those in and near sight have cells, and all can be reached', async ({ page }) => {
  const notebook = await opened(page, '', repeated(BUZZ, 14));
  const grid = page.getByRole('grid', { name: 'Pulses side by side' });
  const columns = Number(await grid.getAttribute('aria-colcount'));
  const rows = Number(await grid.getAttribute('aria-rowcount'));
  expect(columns * rows).toBeGreaterThan(600);
  expect(await cells(page).count()).toBeLessThan(80);
  await cells(page).first().focus();
  await page.keyboard.press('Control+End');
  await notebook.idle();
  const last = cells(page).last();
  await expect(last).toBeFocused();
  expect(Number(await last.getAttribute('data-at'))).toBeGreaterThan(600);
  expect(await cells(page).count()).toBeLessThan(80);
  const isDrawn = await last.locator('canvas').evaluate((canvas) => (canvas as HTMLCanvasElement).width > 1);
  expect(isDrawn).toBe(true);
  expect(notebook.complaints).toEqual([]);
});

test('a sheet of one pulse, and of none', async ({ page }) => {
  const { samples, rate } = samplesOf(FIRST_PASS);
  // The first pulse ends at 36 ms, the second begins after 100 ms.
  const one = named('one.wav', wav(samples.slice(0, Math.round(0.08 * rate)), { rate }));
  const notebook = await opened(page, '', one, sample(HISS));
  await expect(cells(page)).toHaveCount(1);
  await cells(page).press('KeyV');
  await notebook.idle();
  await expect(page.locator('compare-panel tbody tr').first()).toContainText('1');
  await notebook.list.getByRole('button').nth(1).click();
  await notebook.idle();
  await expect(page.locator('pulse-sheet')).toContainText('There are no pulses to lay side by side.');
  expect(notebook.complaints).toEqual([]);
});

// Wider ones, and the third theme, are walked in states.spec.ts.
for (const [theme, width] of [['paper', 390], ['night', 390]] as const) {
  test(`no barrier on the sheet that a machine can find: ${theme}, ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height: 900 });
    const notebook = await opened(page, `&theme=${theme}`, sample(TWO_ANIMALS));
    await page.getByText('Numbers below each pulse').first().click();
    await page.getByRole('button', { name: 'Pick all on the sheet' }).click();
    await page.locator('sheet-grid [data-at="1"] .plot').click();
    await notebook.idle();
    await expectNoBarriers(page);
    await expectNoSidewaysScroll(page);
  });
}
