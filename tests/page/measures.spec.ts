import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname } from 'node:path';

import { expect, test } from '@playwright/test';

import { COMMAND_LINE } from './build-command-line.ts';
import { Notebook } from './notebook.ts';
import { BUZZ, FIRST_PASS, HISS, pathOf, sample, TWO_ANIMALS } from './recordings.ts';
import { shapes } from './shapes.ts';
import { linesOf } from './tables.ts';

for (const { name, address } of shapes) {
  test(`${name}: a sample shows its picture, its pulses and its facts`, async ({ page }) => {
    const notebook = await Notebook.open(page, address);
    await notebook.trySample('A bat flies past');
    expect(await notebook.colours()).toBeGreaterThan(50);
    const found = await notebook.rows.count();
    // The truth of the synthesiser, which made the recording.
    const truth = JSON.parse(
      readFileSync(pathOf(FIRST_PASS.replace('.wav', '.truth.json')), 'utf8'),
    ) as { pulses: unknown[] };
    expect(found).toBe(truth.pulses.length);
    await expect(notebook.picture).toHaveAccessibleName(
      new RegExp(`^Spectrogram, 0 to [0-9.]+ s, 0 to [0-9.]+ kHz, ${found} pulses$`),
    );
    await expect(page.locator('call-place').getByRole('status').first()).toHaveText(
      `${FIRST_PASS}: Holds bat pulses: ${found} pulses, 1 sequence.`,
    );
    await expect(notebook.state).toContainText('Holds bat pulses');
    await expect(page.locator('facts-panel')).toContainText('UTC+1:00');
    expect(notebook.complaints).toEqual([]);
  });

  test(`${name}: a dropped recording is measured`, async ({ page }) => {
    const notebook = await Notebook.open(page, address);
    await notebook.drop(sample(FIRST_PASS));
    await expect(notebook.rows.first()).toBeVisible();
    expect(await notebook.colours()).toBeGreaterThan(50);
    expect(notebook.complaints).toEqual([]);
  });

  for (const file of [FIRST_PASS, TWO_ANIMALS]) {
    test(`${name}: the saved table of ${file} is the command line's`, async ({ page }) => {
      const notebook = await Notebook.open(page, address);
      await notebook.choose(sample(file));
      const coming = page.waitForEvent('download');
      await page.getByRole('button', { name: 'Save table (CSV)' }).click();
      const download = await coming;
      expect(download.suggestedFilename()).toBe(file.replace('.wav', '.csv'));
      const saved = readFileSync(await download.path(), 'utf8');
      const cwd = dirname(pathOf(file));
      const native = execFileSync(COMMAND_LINE, ['measure', '--csv', '--about', file], { cwd });
      expect(saved).toBe(native.toString('utf8'));
      // What is doubted is saved as well.
      const doubted = page.getByRole('button', { name: /^Show \d+ doubted/ });
      if ((await doubted.count()) > 0) {
        await doubted.click();
      }
      // Rows out of sight are not in the document: the table itself says how many it has.
      const rows = await page.locator('pulse-table table').getAttribute('aria-rowcount');
      const headerRows = await page.locator('pulse-table thead tr').count();
      const lines = linesOf(saved);
      expect(lines.length).toBe(Number(rows) - headerRows + 1);
    });
  }
}

test('a recording is summed up in its head and in the list', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(BUZZ), sample(HISS));
  await expect(notebook.state.locator('.state')).toContainText(/Holds bat pulses.*45 pulses.*1 sequence.*1 feeding buzz/s, {
    useInnerText: true,
  });
  const entries = notebook.list.getByRole('button');
  await expect(entries.first()).toContainText('holds 45 pulses');
  await expect(entries.nth(1)).toContainText('probably no bat pulses');
  await entries.nth(1).click();
  await notebook.idle();
  await expect(notebook.state.locator('.state')).toContainText(/Probably no bat pulses.*constant tone at \d+\.\d kHz taken out/s, {
    useInnerText: true,
  });
  const verdict = notebook.state.locator('term-tip');
  await verdict.getByRole('button').focus();
  await expect(verdict.getByRole('tooltip')).toContainText('too faint');
});

test('a buzz and its pulses are named in the table', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(BUZZ));
  await expect(notebook.rows.first()).not.toContainText('buzz');
  await notebook.rows.first().focus();
  await page.keyboard.press('End');
  await notebook.idle();
  await expect(notebook.rows.last()).toContainText('1 · buzz');
});

test('numbers have their uncertainty beside them, unless a person hides it', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS), sample(BUZZ));
  const duration = notebook.rows.first().locator('td').nth(2);
  await expect(duration).toHaveText(/^\d+\.\d+ ±\s\d+\.\d+$/);
  const decimals = (await duration.innerText()).split('±').map((text) => text.trim().split('.')[1]?.length);
  expect(decimals[0]).toBe(decimals[1]);
  await page.getByLabel('Uncertainty').uncheck();
  await expect(page.locator('pulse-table tbody')).not.toContainText('±');
  await expect(duration).toHaveText(/^\d+\.\d\d$/);
  // It is the person's choice, and not the recording's.
  await notebook.list.getByRole('button').nth(1).click();
  await notebook.idle();
  await expect(page.locator('pulse-table tbody')).not.toContainText('±');
});
