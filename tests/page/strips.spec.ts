import { expect, test, type Page } from '@playwright/test';

import { expectNoSidewaysScroll } from './barriers.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, sample, samplesOf } from './recordings.ts';

/** The spectrum of the sound as it is and that of the followed pulse have their maxima this near, kHz. */
const SAME_PEAK_KHZ = 0.5;

async function opened(page: Page): Promise<Notebook> {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await notebook.picture.focus();
  return notebook;
}

test('the waveform of the view lies on the picture’s time axis and says how loud it is', async ({ page }) => {
  const notebook = await opened(page);
  await page.keyboard.press('KeyW');
  await notebook.idle();
  const strip = page.locator('wave-strip');
  const stage = strip.getByRole('img', { name: /^Waveform/ });
  const [wave, picture] = [await stage.boundingBox(), await notebook.picture.boundingBox()];
  expect(wave?.x).toBeCloseTo(picture?.x ?? 0, 0);
  expect(wave?.width).toBeCloseTo(picture?.width ?? 0, 0);
  // The largest of all samples, from the file itself.
  const { samples } = samplesOf(FIRST_PASS);
  const largest = samples.reduce((most, value) => Math.max(most, Math.abs(value)), 0) / 32_768;
  const level = (20 * Math.log10(largest)).toFixed(1).replace('-', '−');
  await expect(stage).toHaveAccessibleName(new RegExp(`loudest sample ${level} dB`));
  await expect(strip.locator('path.envelope')).toHaveCount(1);
  // A stretch without a pulse is quieter.
  const all = await strip.locator('path.envelope').getAttribute('d');
  expect(all?.length).toBeGreaterThan(1000);
});

test('close by, single samples are joined by lines', async ({ page }) => {
  const notebook = await Notebook.open(page, '/', '');
  await notebook.choose(sample(FIRST_PASS));
  await notebook.picture.focus();
  await page.keyboard.press('KeyW');
  await page.keyboard.press('Period');
  for (let n = 0; n < 12; n += 1) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- keys follow each other
    await page.keyboard.press('Equal');
  }
  await notebook.idle();
  const { rate } = samplesOf(FIRST_PASS);
  const { t } = notebook.view();
  const line = page.locator('wave-strip polyline.line');
  await expect(line).toHaveCount(1);
  const points = ((await line.getAttribute('points')) ?? '').split(' ').length;
  // All samples of the view and one or two more on either side.
  expect(Math.abs(points - (t[1] - t[0]) * rate)).toBeLessThanOrEqual(5);
});

test('the power spectrum has its maximum where the pulse has its peak', async ({ page }) => {
  const notebook = await opened(page);
  await page.keyboard.press('KeyP');
  const panel = page.locator('power-panel');
  await expect(panel).toContainText('Choose a pulse or mark a band');
  await notebook.rows.nth(6).click();
  await notebook.idle();
  await expect(panel).toContainText('Power spectrum of pulse 7');
  const peak = Number.parseFloat(await panel.locator('.peak').innerText());
  const [, , , , own] = (await notebook.rows.nth(6).locator('td').allInnerTexts()).map(Number.parseFloat);
  expect(Math.abs(peak - (own ?? 0))).toBeLessThanOrEqual(SAME_PEAK_KHZ);
  // The curve's own highest point lies on the picture's frequency axis there.
  const points = ((await panel.locator('polyline.curve').getAttribute('points')) ?? '').split(' ');
  const highest = points.map((point) => point.split(',').map(Number)).toSorted((a, b) => (b[0] ?? 0) - (a[0] ?? 0))[0];
  const box = await notebook.picture.boundingBox();
  const { f } = notebook.view();
  const khz = f[1] - ((highest?.[1] ?? 0) / (box?.height ?? 1)) * (f[1] - f[0]);
  expect(Math.abs(khz - peak)).toBeLessThanOrEqual((2 * (f[1] - f[0])) / (box?.height ?? 1) + 0.1);
  const plot = await panel.locator('svg.plot').boundingBox();
  expect(plot?.y).toBeCloseTo(box?.y ?? 0, 0);
});

test('strips are remembered, and can be put away with their boxes', async ({ page }) => {
  const notebook = await opened(page);
  await page.getByRole('checkbox', { name: 'Waveform' }).check({ force: true });
  await page.getByRole('checkbox', { name: 'Power spectrum' }).check({ force: true });
  await page.reload();
  await notebook.idle();
  await notebook.choose(sample(FIRST_PASS));
  await expect(page.locator('wave-strip')).toBeVisible();
  await expect(page.locator('power-panel')).toBeVisible();
  await page.getByRole('checkbox', { name: 'Waveform' }).uncheck({ force: true });
  await page.getByRole('checkbox', { name: 'Power spectrum' }).uncheck({ force: true });
  await expect(page.locator('wave-strip')).toHaveCount(0);
  await expect(page.locator('power-panel')).toHaveCount(0);
  expect(notebook.complaints).toEqual([]);
});

test('on a narrow screen the power spectrum lies below the picture with an axis of its own', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  const notebook = await opened(page);
  await page.keyboard.press('KeyP');
  await page.keyboard.press('Period');
  await notebook.idle();
  const panel = page.locator('power-panel');
  await expect(panel.locator('svg.plot')).toContainText('frequency, kHz');
  const [plot, picture] = [await panel.locator('svg.plot').boundingBox(), await notebook.picture.boundingBox()];
  expect(plot?.y).toBeGreaterThan((picture?.y ?? 0) + (picture?.height ?? 0));
  await expectNoSidewaysScroll(page);
});
