import { expect, type Page } from '@playwright/test';

import type { Notebook } from './notebook.ts';

/** Opens the leaf of labels. */
export async function turnToLabels(page: Page): Promise<void> {
  await page.getByRole('tab', { name: 'Labels' }).click();
  await expect(page.locator('labels-leaf')).toBeVisible();
}

/** Labels what is selected, else the recording, from the picture and by keys alone. */
export async function labelByKeys(notebook: Notebook, text: string): Promise<void> {
  const { page } = notebook;
  await notebook.picture.focus();
  await page.keyboard.press('n');
  await expect(page.getByRole('dialog', { name: 'Label' })).toBeVisible();
  await page.keyboard.type(text);
  await page.keyboard.press('Enter');
  await expect(page.getByRole('dialog', { name: 'Label' })).toBeHidden();
  await notebook.idle();
}

/** The words of all labels on the leaf, in their order. */
export async function labelsOf(page: Page): Promise<string[]> {
  return await page.locator('labels-leaf .labels b').allInnerTexts();
}
