import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

import { expect, test, type Page } from '@playwright/test';

import { Notebook } from './notebook.ts';
import { FIRST_PASS, sample } from './recordings.ts';

const picture = (page: Page) => page.locator('call-picture canvas.sound');

/** How many different colours the picture has in the frame after a key. */
function frameAfter(page: Page, key: { readonly key: string; readonly code: string }): Promise<{ colours: number }> {
  return page.locator('call-picture .stage').evaluate(async (stage, details) => {
    stage.dispatchEvent(new KeyboardEvent('keydown', { ...details, bubbles: true, composed: true }));
    await new Promise(requestAnimationFrame);
    await new Promise(requestAnimationFrame);
    const canvas = stage.querySelector<HTMLCanvasElement>('canvas.sound');
    const data = canvas?.getContext('2d')?.getImageData(0, 0, canvas.width, canvas.height).data ?? [];
    const seen = new Set<number>();
    for (let at = 0; at < data.length; at += 4) {
      seen.add(((data[at] ?? 0) << 16) | ((data[at + 1] ?? 0) << 8) | (data[at + 2] ?? 0));
    }
    return { colours: seen.size };
  }, key);
}

test('old pixels are stretched at once, and sharp ones follow', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await expect(picture(page)).toHaveAttribute('data-sharp', 'true');
  for (const key of [
    { key: '+', code: 'Equal' },
    { key: '+', code: 'Equal' },
    { key: 'ArrowRight', code: 'ArrowRight' },
    { key: '0', code: 'Digit0' },
  ]) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- one key after the other
    const { colours } = await frameAfter(page, key);
    expect(colours, key.code).toBeGreaterThan(20);
    // oxlint-disable-next-line eslint/no-await-in-loop -- as above
    await notebook.idle();
    // oxlint-disable-next-line eslint/no-await-in-loop -- as above
    await expect(picture(page)).toHaveAttribute('data-sharp', 'true');
  }
});

test('a view is drawn alike, whatever way led there', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await notebook.picture.focus();
  const pixels = () => picture(page).evaluate((canvas) => (canvas as HTMLCanvasElement).toDataURL());
  const press = async (key: string): Promise<void> => {
    await page.keyboard.press(key);
    await notebook.idle();
  };
  await press('Digit0');
  await press('Period');
  await press('Period');
  const first = await pixels();
  await press('End');
  await press('Minus');
  await press('Shift+Equal');
  expect(await pixels()).not.toBe(first);
  await press('Digit0');
  await press('Comma');
  await press('Period');
  expect(await pixels()).toBe(first);
});

test('the picture is the one that was looked at', async ({ page }) => {
  await page.setViewportSize({ width: 480, height: 600 });
  // A floor above the noise leaves few pixels, and a small file to compare with.
  const notebook = await Notebook.open(page, '/', '#theme=paper&map=magma&floor=-60&range=40');
  await notebook.choose(sample(FIRST_PASS));
  await notebook.picture.focus();
  await page.keyboard.press('Digit0');
  await notebook.idle();
  const file = fileURLToPath(new URL('../data/pictures/page.png', import.meta.url));
  const kept = readFileSync(file).toString('base64');
  const { size, keptSize, off } = await picture(page).evaluate(async (canvas, base64) => {
    const image = new Image();
    image.src = `data:image/png;base64,${base64}`;
    await image.decode();
    const other = new OffscreenCanvas(image.width, image.height);
    const context = other.getContext('2d');
    context?.drawImage(image, 0, 0);
    const wanted = context?.getImageData(0, 0, image.width, image.height).data ?? [];
    const { width, height } = canvas as HTMLCanvasElement;
    const got = (canvas as HTMLCanvasElement).getContext('2d')?.getImageData(0, 0, width, height).data ?? [];
    let different = 0;
    for (let at = 0; at < got.length; at += 1) {
      different += Math.abs((got[at] ?? 0) - (wanted[at] ?? 0)) > 8 ? 1 : 0;
    }
    return { size: [width, height], keptSize: [image.width, image.height], off: different / got.length };
  }, kept);
  expect(size).toEqual(keptSize);
  // Browsers stretch by filters of their own: a thousandth may be off by more than 8 of 255.
  expect(off).toBeLessThan(1e-3);
  expect(notebook.complaints).toEqual([]);
});
