import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname } from 'node:path';

import { expect, test } from '@playwright/test';

import { COMMAND_LINE } from './build-command-line.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, pathOf, sample, TWO_ANIMALS } from './recordings.ts';
import { shapes } from './shapes.ts';

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
    await expect(page.getByRole('status')).toContainText(`${found} pulses`);
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
      const native = execFileSync(COMMAND_LINE, ['measure', '--csv', file], { cwd });
      expect(saved).toBe(native.toString('utf8'));
      // Rows out of sight are not in the document: the table itself says how many it has.
      const rows = await page.locator('pulse-table table').getAttribute('aria-rowcount');
      const headerRows = await page.locator('pulse-table thead tr').count();
      expect(saved.trim().split('\n').length).toBe(Number(rows) - headerRows + 1);
    });
  }
}
