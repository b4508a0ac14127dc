import { readFileSync } from 'node:fs';

import type { Page } from '@playwright/test';

/** The lines of a table that are its header and rows, without those in which it says what it holds. */
export function linesOf(table: string): string[] {
  return table
    .trim()
    .split('\n')
    .filter((line) => !line.startsWith('#'));
}

/** What the leaf of the table saves as its pulses, word by word. */
export async function savedTable(page: Page): Promise<string> {
  const coming = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save table (CSV)' }).click();
  return readFileSync(await (await coming).path(), 'utf8');
}
