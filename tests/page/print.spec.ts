import { expect, test, type Page } from '@playwright/test';

import { expectNoSidewaysScroll } from './barriers.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, sample } from './recordings.ts';

/** What a browser does when it is told to print: it says so, then lays the page out for paper (HTML Standard, "printing"). */
async function printed(page: Page): Promise<void> {
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
  await page.emulateMedia({ media: 'print' });
}

for (const theme of ['paper', 'hut', 'night']) {
  test(`what is printed is a record in black on white: ${theme}`, async ({ page }) => {
    const notebook = await Notebook.open(page, '/', `#theme=${theme}`);
    await notebook.choose(sample(FIRST_PASS));
    const rows = Number(await page.locator('pulse-table table').getAttribute('aria-rowcount')) - 2;
    await printed(page);
    const record = page.locator('print-record');
    await expect(record.getByRole('heading', { level: 1 })).toHaveText(FIRST_PASS);
    await expect(record).toContainText('Holds bat pulses');
    await expect(record.locator('tbody tr')).toHaveCount(rows);
    await expect(record.getByRole('img', { name: 'Spectrogram' })).toBeVisible();
    await expect(record).toContainText('Hann window');
    await expect(record).toContainText('edges 20 dB below the maximum');
    await expect(record).toContainText('Measured by Dusklens', { ignoreCase: true });
    await expect(record).toContainText('Numbers are no identification');
    // No control is left.
    expect(await page.getByRole('button').filter({ visible: true }).count()).toBe(0);
    // White is what most of it is, and nothing has a hue: the theme is not to be seen.
    const shot = (await page.screenshot({ fullPage: true })).toString('base64');
    const seen = await page.evaluate(async (text) => {
      const image = new Image();
      image.src = `data:image/png;base64,${text}`;
      await image.decode();
      const canvas = document.createElement('canvas');
      canvas.width = image.naturalWidth;
      canvas.height = image.naturalHeight;
      const context = canvas.getContext('2d');
      context?.drawImage(image, 0, 0);
      const { data } = context?.getImageData(0, 0, canvas.width, canvas.height) ?? { data: [] };
      const count = { white: 0, black: 0, hued: 0, all: data.length / 4 };
      for (let at = 0; at < data.length; at += 4) {
        const [red = 0, green = 0, blue = 0] = [data[at], data[at + 1], data[at + 2]];
        const [least, most] = [Math.min(red, green, blue), Math.max(red, green, blue)];
        count.white += least > 235 ? 1 : 0;
        count.black += most < 90 ? 1 : 0;
        count.hued += most - least > 60 ? 1 : 0;
      }
      return count;
    }, shot);
    expect(seen.white / seen.all).toBeGreaterThan(0.6);
    expect(seen.black).toBeGreaterThan(2000);
    expect(seen.hued / seen.all).toBeLessThan(0.01);
    await page.emulateMedia({ media: 'screen' });
    await expect(page.getByRole('button', { name: 'Save table (CSV)' })).toBeVisible();
    expect(notebook.complaints).toEqual([]);
  });
}

test('the dialogue prints the page, and the table is cut nowhere', async ({ page }) => {
  await page.addInitScript(() => {
    window.print = () => {
      document.documentElement.dataset['printed'] = String(document.querySelector('dialog[open]') === null);
    };
  });
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await page.getByRole('button', { name: 'Take along' }).click();
  await notebook.idle();
  await page.getByRole('dialog', { name: 'Take along' }).getByRole('button', { name: 'Print' }).click();
  await expect(page.locator('html')).toHaveAttribute('data-printed', 'true');
  await expect(page.getByRole('dialog', { name: 'Take along' })).toBeHidden();
  // A sheet of A4 lying has 273 mm between its margins.
  await page.setViewportSize({ width: 1032, height: 700 });
  await printed(page);
  await expectNoSidewaysScroll(page);
  const table = await page.locator('print-record table').boundingBox();
  expect((table?.x ?? 0) + (table?.width ?? 1e4)).toBeLessThanOrEqual(1032);
});
