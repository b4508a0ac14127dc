import { expect, test } from '@playwright/test';

import { Notebook } from './notebook.ts';
import { FIRST_PASS, named, sample, samplesOf, TWO_ANIMALS, wav } from './recordings.ts';

test('a row leads to its pulse in the picture', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await notebook.rows.nth(4).click();
  await notebook.idle();
  await expect(notebook.selectedRow).toHaveAttribute('data-index', '4');
  const start = Number(await notebook.rows.nth(4).locator('td').first().innerText());
  const { t } = notebook.view();
  expect(t[0]).toBeLessThan(start);
  expect(t[1]).toBeGreaterThan(start);
  expect(t[1] - t[0]).toBeLessThan(0.2);
  await expect(page.locator('pulse-note')).toContainText('Pulse 5');
});

test('a pulse in the picture leads to its row, and brings it into sight', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(TWO_ANIMALS));
  const last = (await notebook.rows.count()) - 1;
  // The address has to speak of the whole view before a place can be told from it.
  await notebook.picture.press('Digit0');
  await notebook.idle();
  const place = await notebook.placeOf(last);
  await page.locator('pulse-table .scroll').evaluate((table) => table.scrollTo(0, 0));
  await page.mouse.click(place.x, place.y);
  await notebook.idle();
  await expect(notebook.selectedRow).toHaveAttribute('data-index', String(last));
  const inSight = await notebook.selectedRow.evaluate((row) => {
    const table = row.closest('.scroll')?.getBoundingClientRect();
    const { top, bottom } = row.getBoundingClientRect();
    return table !== undefined && top >= table.top && bottom <= table.bottom;
  });
  expect(inSight).toBe(true);
});

test('buttons go from pulse to pulse', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await page.getByRole('button', { name: 'Next pulse' }).click();
  await expect(notebook.selectedRow).toHaveAttribute('data-index', '0');
  await page.getByRole('button', { name: 'Next pulse' }).click();
  await expect(notebook.selectedRow).toHaveAttribute('data-index', '1');
  await page.getByRole('button', { name: 'Previous pulse' }).click();
  await expect(notebook.selectedRow).toHaveAttribute('data-index', '0');
});

test('several recordings make a list to move through', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS), sample(TWO_ANIMALS));
  const entries = notebook.list.getByRole('button');
  await expect(entries).toHaveCount(2);
  await expect(entries.first()).toHaveAttribute('aria-current', 'true');
  await expect(entries.first()).toContainText('15 pulses');
  await expect(entries.nth(1)).toContainText('pulses');
  await entries.nth(1).click();
  await notebook.idle();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(TWO_ANIMALS);
  // More can be dropped at any time, onto whatever the page shows.
  await notebook.drop(sample(FIRST_PASS));
  await expect(entries).toHaveCount(3);
  await expect(entries.nth(2)).toHaveAttribute('aria-current', 'true');
});

test('another channel is drawn and measured on its own', async ({ page }) => {
  const { samples, rate } = samplesOf(FIRST_PASS);
  const both = new Int16Array(samples.length * 2);
  // Calls in the second channel alone.
  samples.forEach((value, frame) => {
    both[frame * 2 + 1] = value;
  });
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(named('stereo.wav', wav(both, { rate, channels: 2 })));
  await expect(page.getByText('No bat pulses were found.')).toBeVisible();
  await page.getByLabel('Channel').selectOption('2 of 2');
  await notebook.idle();
  await expect(notebook.rows).toHaveCount(15);
});

test('a time expansion is offered with its reason, and only a person applies it', async ({ page }) => {
  const { samples, rate } = samplesOf(FIRST_PASS);
  const notebook = await Notebook.open(page, '/');
  // Bat calls in a header that says a tenth of the true rate.
  await notebook.choose(named('slow.wav', wav(samples, { rate: rate / 10 })));
  const offer = page.getByRole('note').filter({ hasText: 'slowed down 10 times' });
  await expect(offer).toBeVisible();
  await expect(notebook.state).toContainText('25.6 kHz');
  await offer.getByRole('button', { name: 'Apply ×10' }).click();
  await notebook.idle();
  await expect(notebook.state).toContainText('256.0 kHz');
  await expect(notebook.rows).toHaveCount(15);
  await expect(page.locator('expansion-choice')).toContainText('as you said');
  await page.getByRole('combobox', { name: 'Time expansion' }).selectOption('another …');
  await page.getByLabel('Slowed down by').fill('none');
  await page.getByLabel('Slowed down by').press('Enter');
  await expect(page.getByRole('alert')).toContainText('number above 0');
  await page.getByLabel('Slowed down by').fill('12,5');
  await page.getByLabel('Slowed down by').press('Enter');
  await notebook.idle();
  await expect(notebook.state).toContainText('320.0 kHz');
  await page.getByRole('button', { name: 'As the file says' }).click();
  await notebook.idle();
  await expect(notebook.state).toContainText('25.6 kHz');
});
