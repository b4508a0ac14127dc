import { expect, test, type Page } from '@playwright/test';

import { Notebook } from './notebook.ts';
import { FIRST_PASS, sample } from './recordings.ts';

/** Half the sampling rate of the first pass, and what lies six octaves below it, kHz. */
const HIGH = 128;
const LOW = 2;

async function opened(page: Page, fragment = ''): Promise<Notebook> {
  const notebook = await Notebook.open(page, '/', fragment);
  await notebook.choose(sample(FIRST_PASS));
  await notebook.picture.focus();
  return notebook;
}

async function press(notebook: Notebook, key: string): Promise<void> {
  await notebook.page.keyboard.press(key);
  await notebook.idle();
}

test('G turns the axis, which the address keeps', async ({ page }) => {
  const notebook = await opened(page);
  await press(notebook, 'KeyG');
  expect(page.url()).toContain('scale=log');
  expect(notebook.view().f).toEqual([LOW, HIGH]);
  await press(notebook, 'KeyG');
  expect(page.url()).not.toContain('scale');
  expect(notebook.view().f).toEqual([0, HIGH]);
  await page.getByRole('button', { name: 'View', exact: true }).click();
  await page.getByLabel('Logarithmic').check();
  await notebook.idle();
  expect(page.url()).toContain('scale=log');
  expect(notebook.complaints).toEqual([]);
});

test('on a logarithmic axis octaves are equally high', async ({ page }) => {
  await opened(page, '#scale=log');
  const ticks = await page.locator('call-picture .axes text').evaluateAll((texts) =>
    texts
      .filter((text) => text.getAttribute('text-anchor') === 'end' && !text.classList.contains('unit'))
      .map((text) => ({ khz: Number(text.textContent), y: Number(text.getAttribute('y')) })),
  );
  const box = await page.locator('call-picture .stage').boundingBox();
  const height = box?.height ?? 0;
  expect(ticks.length).toBeGreaterThan(4);
  for (const { khz, y } of ticks) {
    const share = Math.log2(HIGH / khz) / Math.log2(HIGH / LOW);
    expect(Math.abs(y / height - share), `${khz} kHz`).toBeLessThan(0.01);
  }
});

test('a pulse is clicked, moved to and zoomed at its place on a logarithmic axis', async ({ page }) => {
  const notebook = await opened(page, '#scale=log');
  await press(notebook, 'Digit0');
  const cells = await notebook.rows.nth(6).locator('td').allInnerTexts();
  const [start, end, , , peak] = cells.map(Number.parseFloat);
  await notebook.picture.scrollIntoViewIfNeeded();
  const box = await notebook.picture.boundingBox();
  if (start === undefined || end === undefined || peak === undefined || box === null) {
    throw new Error('there is no such pulse in sight');
  }
  const { t } = notebook.view();
  const share = Math.log(HIGH / peak) / Math.log(HIGH / LOW);
  await page.mouse.click(
    box.x + (((start + end) / 2 - t[0]) / (t[1] - t[0])) * box.width,
    box.y + share * box.height,
  );
  await notebook.idle();
  await expect(notebook.selectedRow).toHaveAttribute('data-index', '6');
  // What lies under the pointer stays there.
  await page.mouse.move(box.x + box.width / 2, box.y + share * box.height);
  await page.keyboard.down('Shift');
  await page.mouse.wheel(0, -300);
  await page.keyboard.up('Shift');
  await notebook.idle();
  const { f } = notebook.view();
  expect(f[1] / f[0]).toBeLessThan(HIGH / LOW / 2);
  expect(Math.log(f[1] / peak) / Math.log(f[1] / f[0])).toBeCloseTo(share, 2);
  // An arrow moves by ratios: the same number of octaves stays in view.
  await press(notebook, 'ArrowUp');
  const higher = notebook.view().f;
  expect(higher[0]).toBeGreaterThan(f[0]);
  expect(higher[1] / higher[0]).toBeCloseTo(f[1] / f[0], 0);
});

test('S sharpens the picture, and S again leaves it as it was', async ({ page }) => {
  const notebook = await opened(page);
  const pixels = () =>
    page.locator('call-picture canvas.sound').evaluate((canvas) => (canvas as HTMLCanvasElement).toDataURL());
  await press(notebook, 'Period');
  const plain = await pixels();
  await press(notebook, 'KeyS');
  expect(page.url()).toContain('sharpened=yes');
  expect(await pixels()).not.toBe(plain);
  await press(notebook, 'KeyS');
  expect(page.url()).not.toContain('sharpened');
  expect(await pixels()).toBe(plain);
  expect(notebook.complaints).toEqual([]);
});
