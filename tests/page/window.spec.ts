import { expect, test, type Page } from '@playwright/test';

import { Notebook } from './notebook.ts';
import { FIRST_PASS, sample } from './recordings.ts';

interface Words {
  ms: number;
  time: number;
  frequency: number;
}

/** The numbers that the window's control says. */
async function said(page: Page): Promise<Words> {
  const text = await page.locator('view-settings [role="status"]').innerText();
  const match = /([\d.]+) ms: clicks show apart from ([\d.]+) ms on, tones from ([\d.]+) kHz on\./.exec(text);
  const [ms, time, frequency] = (match ?? []).slice(1).map(Number);
  return { ms: ms ?? Number.NaN, time: time ?? Number.NaN, frequency: frequency ?? Number.NaN };
}

const slider = (page: Page) =>
  page.getByRole('slider', { name: 'Window, from sharper in time to sharper in frequency' });

test('the window says what it gains and what it loses', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await page.getByRole('button', { name: 'View', exact: true }).click();
  await slider(page).focus();
  const put = async (key: string): Promise<Words> => {
    await page.keyboard.press(key);
    await notebook.idle();
    return said(page);
  };
  const shortest = await put('Home');
  const longest = await put('End');
  expect(shortest.ms).toBeLessThan(longest.ms);
  for (const { ms, time, frequency } of [shortest, longest]) {
    // Hann's window is at half its height over half its length, its transform over two bins (Harris 1978).
    expect(time / ms).toBeCloseTo(0.5, 1);
    expect(frequency * ms).toBeCloseTo(2, 1);
  }
  expect(longest.ms).toBeCloseTo(8, 5);
  expect(page.url()).toContain('length=8');
  await page.getByLabel('Shape').selectOption({ label: 'Gaussian' });
  await notebook.idle();
  expect(page.url()).toContain('window=gaussian');
  const gaussian = await said(page);
  expect(gaussian.time).toBeLessThan(longest.time);
  expect(gaussian.frequency).toBeGreaterThan(longest.frequency);
  await page.getByLabel('Suits the zoom').check();
  await notebook.idle();
  expect(page.url()).not.toContain('length');
  expect(notebook.complaints).toEqual([]);
});

test('a longer window draws another picture of the same sound', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  const pixels = () =>
    page.locator('call-picture canvas.sound').evaluate((canvas) => (canvas as HTMLCanvasElement).toDataURL());
  const before = await pixels();
  await page.getByRole('button', { name: 'View', exact: true }).click();
  await slider(page).focus();
  await page.keyboard.press('End');
  await notebook.idle();
  expect(await pixels()).not.toBe(before);
  await expect(notebook.rows).toHaveCount(15);
});
