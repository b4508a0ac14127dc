import { expect, test } from '@playwright/test';

import { expectNoBarriers, expectNoSidewaysScroll } from './barriers.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, named, sample } from './recordings.ts';

for (const [theme, width] of [['paper', 390], ['hut', 1280], ['night', 390]] as const) {
  test(`no barrier that a machine can find: ${theme}, ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height: 900 });
    const notebook = await Notebook.open(page, '/', `#theme=${theme}`);
    await expectNoBarriers(page);
    await expectNoSidewaysScroll(page);
    const broken = named('broken.wav', Buffer.from('no sound'));
    await notebook.choose(sample(FIRST_PASS), broken);
    await notebook.rows.nth(1).click();
    await notebook.idle();
    await expectNoBarriers(page);
    await expectNoSidewaysScroll(page);
    await notebook.list.getByRole('button').nth(1).click();
    await notebook.idle();
    await expectNoBarriers(page);
    await page.getByRole('button', { name: 'Keys' }).click();
    await expectNoBarriers(page);
  });
}

test('at twice the size everything is still there', async ({ page }) => {
  // 200 % zoom of a 1280 px window leaves 640 CSS pixels at twice the density.
  await page.setViewportSize({ width: 640, height: 400 });
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await expectNoSidewaysScroll(page);
  await expect(page.getByRole('button', { name: 'Save table (CSV)' })).toBeVisible();
});

test('everything can be done with the keyboard alone', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  const { keyboard } = page;
  await keyboard.press('Tab');
  await expect(page.getByRole('button', { name: 'Skip to the content' })).toBeFocused();
  await keyboard.press('Enter');
  await keyboard.press('Tab');
  await expect(page.getByLabel('Choose files')).toBeFocused();
  await keyboard.press('Tab');
  await keyboard.press('Enter');
  await expect(notebook.rows.first()).toBeVisible();
  await notebook.idle();
  // The focus waits in the picture, so that its keys work at once.
  await expect(notebook.picture).toBeFocused();
  await keyboard.press('Period');
  await expect(notebook.selectedRow).toHaveAttribute('data-index', '0');
  const focused = async (): Promise<string> =>
    page.evaluate(() => {
      let element = document.activeElement;
      while (element?.shadowRoot?.activeElement) {
        element = element.shadowRoot.activeElement;
      }
      return element?.localName ?? '';
    });
  const tabToRow = async (most: number): Promise<void> => {
    if (most > 0 && (await focused()) !== 'tr') {
      await keyboard.press('Tab');
      await tabToRow(most - 1);
    }
  };
  await tabToRow(40);
  await keyboard.press('ArrowDown');
  await keyboard.press('ArrowDown');
  await keyboard.press('Enter');
  await notebook.idle();
  await expect(notebook.selectedRow).toHaveAttribute('data-index', '2');
  await expect(notebook.selectedRow).toBeFocused();
});

test('a definition shows on focus, and goes with Escape', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  const word = page.locator('term-tip').filter({ hasText: 'Duration' });
  await word.getByRole('button').focus();
  await expect(word.getByRole('tooltip')).toBeVisible();
  await expect(word.getByRole('tooltip')).toContainText('End minus start.');
  await page.keyboard.press('Escape');
  await expect(word.getByRole('tooltip')).toBeHidden();
});
