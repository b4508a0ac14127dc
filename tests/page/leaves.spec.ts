import { expect, test, type Page } from '@playwright/test';

import { expectNoBarriers, expectNoSidewaysScroll } from './barriers.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, sample } from './recordings.ts';

const tabs = (page: Page) => page.getByRole('tablist', { name: 'What was found' }).getByRole('tab');
const chosen = (page: Page) => page.getByRole('tab', { selected: true });
const leafInAddress = (page: Page): string | null =>
  new URLSearchParams(new URL(page.url()).hash.slice(1)).get('leaf');

// What is checked here is the tabs pattern of the WAI-ARIA Authoring Practices Guide (W3C):
// https://www.w3.org/WAI/ARIA/apg/patterns/tabs/

test('the first leaf is the table, and the panel is named after its tab', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await expect(chosen(page)).toHaveText('Table');
  await expect(page.getByRole('tabpanel', { name: 'Table' })).toBeVisible();
  const controls = await chosen(page).getAttribute('aria-controls');
  await expect(page.getByRole('tabpanel')).toHaveAttribute('id', controls ?? '');
  expect(leafInAddress(page)).toBeNull();
  // One stop for Tab, whichever leaf is seen.
  const stops = await tabs(page).evaluateAll((all) => all.filter((tab) => tab.getAttribute('tabindex') === '0').length);
  expect(stops).toBe(1);
  expect(notebook.complaints).toEqual([]);
});

test('arrows, Home and End go round the tabs, and the focus goes along', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  const names = await tabs(page).allInnerTexts();
  const expectAt = async (index: number): Promise<void> => {
    await expect(chosen(page)).toHaveText(names.at(index) ?? '');
    await expect(chosen(page)).toBeFocused();
    await expect(page.getByRole('tabpanel', { name: names.at(index) ?? '' })).toBeVisible();
  };
  await chosen(page).focus();
  for (const [key, index] of [
    ['ArrowLeft', -1],
    ['ArrowRight', 0],
    ['End', -1],
    ['Home', 0],
    ['ArrowRight', 1 % names.length],
  ] as const) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- one key after the other
    await page.keyboard.press(key);
    // oxlint-disable-next-line eslint/no-await-in-loop -- as above
    await expectAt(index);
  }
});

test('a digit turns to a leaf from anywhere in the recording, but not while one writes', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  const names = await tabs(page).allInnerTexts();
  const last = names.length;
  await notebook.picture.focus();
  await page.keyboard.press(`Digit${last}`);
  await expect(chosen(page)).toHaveText(names.at(-1) ?? '');
  // The keyboard stays in the picture.
  await expect(notebook.picture).toBeFocused();
  await page.keyboard.press('Digit1');
  await expect(chosen(page)).toHaveText('Table');
  await page.getByRole('button', { name: 'View' }).click();
  await page.getByLabel('Colours').focus();
  await page.keyboard.press(`Digit${last}`);
  await expect(chosen(page)).toHaveText('Table');
});

test('the address keeps the leaf, over a reload and beside another recording', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.trySample('A bat flies past');
  await tabs(page).last().click();
  await notebook.idle();
  const name = await chosen(page).innerText();
  const kept = leafInAddress(page);
  await page.reload();
  await notebook.idle();
  await expect(chosen(page)).toHaveText(name);
  expect(leafInAddress(page)).toBe(kept);
  await page.goto('/#leaf=no-such-leaf');
  await page.reload();
  await notebook.choose(sample(FIRST_PASS));
  await expect(chosen(page)).toHaveText('Table');
  expect(notebook.complaints).toEqual([]);
});

for (const theme of ['paper', 'night']) {
  test(`no barrier among the tabs that a machine can find: ${theme}, 390 px`, async ({ page }) => {
    await page.setViewportSize({ width: 390, height: 900 });
    const notebook = await Notebook.open(page, '/', `#theme=${theme}`);
    await notebook.choose(sample(FIRST_PASS));
    await tabs(page).last().click();
    await notebook.idle();
    await expectNoBarriers(page);
    // The tabs scroll by themselves, never the page.
    await expectNoSidewaysScroll(page);
    await expect(chosen(page)).toBeInViewport();
  });
}
