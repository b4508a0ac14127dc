import { expect, test, type Page } from '@playwright/test';

import { Notebook } from './notebook.ts';
import { FIRST_PASS, sample } from './recordings.ts';

async function opened(page: Page, fragment = ''): Promise<Notebook> {
  const notebook = await Notebook.open(page, '/', fragment);
  await notebook.choose(sample(FIRST_PASS));
  await page.getByRole('button', { name: 'View', exact: true }).click();
  return notebook;
}

const legend = (page: Page) => page.locator('level-legend .end');

/** Mean lightness of the picture, 0 to 255. */
function lightness(page: Page): Promise<number> {
  return page.locator('call-picture canvas.sound').evaluate((canvas) => {
    const { width, height } = canvas as HTMLCanvasElement;
    const data = (canvas as HTMLCanvasElement).getContext('2d')?.getImageData(0, 0, width, height).data ?? [];
    return [...data].filter((_, n) => n % 4 === 0).reduce((sum, value) => sum + value, 0) / (width * height);
  });
}

test('levels stay put while one moves about', async ({ page }) => {
  const notebook = await opened(page);
  await notebook.picture.focus();
  const press = async (key: string): Promise<void> => {
    await page.keyboard.press(key);
    await notebook.idle();
  };
  await press('Period');
  const before = await legend(page).allInnerTexts();
  // A stretch between two pulses, with nothing but hiss in it.
  await press('PageDown');
  expect(await legend(page).allInnerTexts()).toEqual(before);
  await press('End');
  expect(await legend(page).allInnerTexts()).toEqual(before);
});

test('floor and range are set, seen at once, kept in the address, and given back', async ({ page }) => {
  const notebook = await opened(page);
  const automatic = await legend(page).allInnerTexts();
  const before = await lightness(page);
  await expect(page.getByRole('button', { name: 'Back to automatic' })).toBeDisabled();
  await page.getByLabel('Floor, dB').fill('-110');
  await page.getByLabel('Floor, dB').press('Enter');
  await notebook.idle();
  await page.getByLabel('Range, dB').fill('60');
  await page.getByLabel('Range, dB').press('Enter');
  await notebook.idle();
  await expect(legend(page)).toHaveText(['−110', '−50']);
  expect(page.url()).toContain('floor=-110');
  expect(page.url()).toContain('range=60');
  // In ink, a lower floor shows more of the noise: darker.
  const darker = await lightness(page);
  expect(darker).toBeLessThan(before - 5);
  await page.getByRole('slider', { name: 'Floor' }).focus();
  await page.keyboard.press('ArrowRight');
  await notebook.idle();
  await expect(legend(page)).toHaveText(['−109', '−49']);
  await page.getByRole('button', { name: 'Back to automatic' }).click();
  await notebook.idle();
  expect(await legend(page).allInnerTexts()).toEqual(automatic);
  expect(page.url()).not.toContain('floor');
  expect(await lightness(page)).toBeCloseTo(before, 1);
});

test('levels in an address hold from the start', async ({ page }) => {
  await opened(page, '#floor=-90&range=45');
  await expect(legend(page)).toHaveText(['−90', '−45']);
  await expect(page.getByLabel('Floor, dB')).toHaveValue('-90');
});
