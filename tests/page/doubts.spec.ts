import { expect, test, type Locator, type Page } from '@playwright/test';

import { expectNoBarriers, expectNoSidewaysScroll } from './barriers.ts';
import { Notebook } from './notebook.ts';
import { clicked, CLICKS_S, FIRST_PASS, RAIN, sample } from './recordings.ts';
import { linesOf, savedTable } from './tables.ts';

const PULSES = 15;

const button = (page: Page): Locator => page.getByRole('button', { name: /^Show \d+ doubted sounds?$/ });

const near = (a: number, b: number): boolean => Math.abs(a - b) < 0.003;

/** Number and start of every row. */
async function told(notebook: Notebook, startCell: number): Promise<{ name: string; start: number }[]> {
  return notebook.rows.evaluateAll(
    (rows, cell) =>
      rows.map((row) => ({
        name: row.querySelector('.number')?.textContent ?? '',
        start: Number.parseFloat(row.querySelectorAll('td')[cell]?.textContent ?? ''),
      })),
    startCell,
  );
}

test('doubted sounds stand among the pulses when asked for, and no pulse gets another number', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(clicked());
  await expect(notebook.rows).toHaveCount(PULSES);
  await expect(button(page)).toHaveAttribute('aria-pressed', 'false');
  const pulses = await told(notebook, 0);
  expect(pulses.map(({ name }) => name)).toEqual(Array.from({ length: PULSES }, (_, n) => String(n + 1)));

  await button(page).click();
  await notebook.idle();
  await expect(button(page)).toHaveAttribute('aria-pressed', 'true');
  const all = await told(notebook, 1);
  expect(all.filter(({ name }) => !name.startsWith('D'))).toEqual(pulses);
  const doubted = all.filter(({ name }) => name.startsWith('D'));
  expect(doubted.map(({ name }) => name)).toEqual(doubted.map((_, n) => `D${n + 1}`));
  // A click may count as two sounds, but all are clicks.
  expect(CLICKS_S.filter((click) => !doubted.some(({ start }) => near(start, click)))).toEqual([]);
  expect(doubted.filter(({ start }) => !CLICKS_S.some((click) => near(start, click)))).toEqual([]);
  const starts = all.map(({ start }) => start);
  expect(starts).toEqual([...starts].toSorted((a, b) => a - b));
  await expect(notebook.rows.filter({ hasText: 'click' })).toHaveCount(doubted.length);
  const count = doubted.length;
  await expect(button(page)).toHaveText(`Show ${count} doubted sounds`);
  await expect(notebook.picture).toHaveAccessibleName(new RegExp(`15 pulses, ${count} doubted sounds$`));
  await expect(page.locator('pulse-section .told')).toContainText(`${count} sounds are doubted: ${count} clicks.`, {
    useInnerText: true,
  });

  await button(page).click();
  await notebook.idle();
  expect(await told(notebook, 0)).toEqual(pulses);
  expect(notebook.complaints).toEqual([]);
});

test('keys go from sound to sound, and the note says the reason', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(clicked());
  await notebook.picture.focus();
  await page.keyboard.press('KeyD');
  await expect(button(page)).toHaveAttribute('aria-pressed', 'true');
  const names = (await told(notebook, 1)).map(({ name }) => name);
  const note = page.locator('pulse-note');
  const go = async (key: string): Promise<void> => {
    await page.keyboard.press(key);
    await notebook.idle();
  };
  const expectAt = async (index: number): Promise<void> => {
    const name = names[index] ?? '';
    await expect(notebook.selectedRow).toHaveAttribute('data-index', String(index));
    await expect(note.getByRole('heading')).toHaveText(
      name.startsWith('D') ? `Doubted sound ${name}` : `Pulse ${name}`,
    );
  };
  const first = names.indexOf('D1');
  await notebook.rows.nth(first).click();
  await notebook.idle();
  await expectAt(first);
  await expect(note).toContainText('click: its energy lies on all frequencies at once');
  await notebook.picture.focus();
  await go('Period');
  await expectAt(first + 1);
  await go('Comma');
  await expectAt(first);
  const { t } = notebook.view();
  expect(t[0]).toBeLessThan(CLICKS_S[0] ?? 0);
  expect(t[1]).toBeGreaterThan(CLICKS_S[0] ?? 0);
  // What is not shown is not selected either, until it is shown again.
  await go('KeyD');
  await expect(notebook.selectedRow).toHaveCount(0);
  await go('KeyD');
  await expectAt(first);
  // A pulse stays selected, wherever its row goes.
  const pulse = names.indexOf('7');
  await notebook.rows.nth(pulse).click();
  await notebook.idle();
  await expectAt(pulse);
  await notebook.picture.focus();
  await go('KeyD');
  await expect(notebook.selectedRow).toHaveAttribute('data-index', '6');
  await expect(note.getByRole('heading')).toHaveText('Pulse 7');
});

test('a doubted sound in the picture leads to its row', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(clicked());
  await button(page).click();
  await notebook.picture.press('Digit0');
  await notebook.idle();
  const names = (await told(notebook, 1)).map(({ name }) => name);
  const index = names.indexOf('D3');
  const cells = await notebook.rows.nth(index).locator('td').allInnerTexts();
  const [, start = 0, end = 0, , , peak = 0] = cells.map(Number.parseFloat);
  const box = await notebook.picture.boundingBox();
  const { t, f } = notebook.view();
  await notebook.picture.click({
    position: {
      x: (((start + end) / 2 - t[0]) / (t[1] - t[0])) * (box?.width ?? 0),
      y: ((f[1] - peak) / (f[1] - f[0])) * (box?.height ?? 0),
    },
  });
  await notebook.idle();
  await expect(notebook.selectedRow).toHaveAttribute('data-index', String(index));
  await expect(page.locator('pulse-note')).toContainText('Doubted sound D3');
});

test('a saved table holds doubted sounds, whether they are shown or not', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(clicked());
  const lines = linesOf(await savedTable(page));
  const doubted = lines.filter((line) => line.startsWith('clicked.wav,D'));
  expect(doubted.length).toBeGreaterThanOrEqual(CLICKS_S.length);
  expect(lines).toHaveLength(1 + PULSES + doubted.length);
  expect(doubted.every((line) => line.endsWith(',click'))).toBe(true);
});

test('a recording with doubted sounds alone says what they are', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(RAIN));
  await expect(notebook.state).toContainText('Probably no bat pulses');
  const sentence = page.locator('pulse-section .told');
  await expect(sentence).toContainText(
    /^No bat pulses were found\. \d+ sounds are doubted: \d+ clicks, \d+ insect-like ones\.$/,
    { useInnerText: true },
  );
  await expect(notebook.rows).toHaveCount(0);
  await expect(page.getByRole('button', { name: 'Next pulse' })).toBeDisabled();
  await expect(page.getByRole('status').filter({ hasText: RAIN })).toHaveText(
    new RegExp(`^${RAIN}: Probably no bat pulses: \\d+ doubted sounds\\.$`),
  );
  await button(page).click();
  await notebook.idle();
  await expect(notebook.rows.first()).toContainText('D1');
  await expect(sentence).toContainText('none is deleted');
  await page.getByRole('button', { name: 'Next pulse' }).click();
  await notebook.idle();
  await expect(page.locator('pulse-note')).toContainText('Doubted sound D1');
  expect(notebook.complaints).toEqual([]);
});

test('what is shown stays shown: beside another recording, and after reading', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(clicked(), sample(FIRST_PASS));
  await button(page).click();
  await notebook.list.getByRole('button').nth(1).click();
  await notebook.idle();
  // Nothing is doubted here.
  await expect(button(page)).toHaveCount(0);
  await expect(notebook.rows).toHaveCount(PULSES);
  await notebook.list.getByRole('button').first().click();
  await notebook.idle();
  await page.getByRole('link', { name: 'What the numbers mean' }).click();
  await notebook.idle();
  await page.goBack();
  await notebook.idle();
  await expect(button(page)).toHaveAttribute('aria-pressed', 'true');
  await expect(notebook.rows.filter({ hasText: 'click' })).not.toHaveCount(0);
});

// Every theme is walked in states.spec.ts.
for (const [theme, width] of [['paper', 390], ['night', 1280]] as const) {
  test(`no barrier among doubted sounds that a machine can find: ${theme}, ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height: 900 });
    const notebook = await Notebook.open(page, '/', `#theme=${theme}`);
    await notebook.choose(sample(RAIN));
    await button(page).click();
    await notebook.rows.nth(1).click();
    await notebook.idle();
    await expectNoBarriers(page);
    await expectNoSidewaysScroll(page);
  });
}
