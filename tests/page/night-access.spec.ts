import { expect, test, type Page } from '@playwright/test';

import { expectNoBarriers, expectNoSidewaysScroll } from './barriers.ts';
import { makeCard, Night, removeCard, shortCard } from './card.ts';
import { fillIn, gate } from './gate.ts';
import { Notebook } from './notebook.ts';

let folder = '';

test.beforeAll(() => {
  folder = makeCard(shortCard());
});

test.afterAll(() => removeCard(folder));

test('no barrier that a machine can find on any leaf, however narrow', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 800 });
  const night = new Night(await Notebook.open(page, '/', '#place=night&theme=night'));
  await expectNoBarriers(page);
  await expectNoSidewaysScroll(page);
  await night.choose(folder);
  for (const leaf of ['Glance', 'Night check', 'Hand in', 'Settings', 'Files']) {
    /* oxlint-disable eslint/no-await-in-loop -- one leaf after the other */
    await night.turnTo(leaf);
    await expectNoBarriers(page);
    await expectNoSidewaysScroll(page);
    /* oxlint-enable eslint/no-await-in-loop */
  }
  const check = night.place.locator('double-check');
  await check.getByText('Double-check a group').click();
  await check.getByRole('combobox', { name: 'Group' }).selectOption('Bat pulses');
  await check.getByRole('button', { name: /^Draw from/ }).click();
  await expect(night.place.getByRole('region', { name: 'Double-check' })).toBeVisible();
  await night.list.focus();
  await night.press('b');
  await expectNoBarriers(page);
  await expectNoSidewaysScroll(page);
  expect(night.notebook.complaints).toEqual([]);
});

/** Goes on by the Tab key until something of this role and name has the focus. */
async function tabTo(page: Page, role: 'button' | 'tab' | 'listbox', name: string): Promise<void> {
  const goal = page.getByRole(role, { name, exact: true });
  for (let step = 0; step < 60; step += 1) {
    /* oxlint-disable eslint/no-await-in-loop -- one press after the other */
    await page.keyboard.press('Tab');
    if (await goal.evaluate((element) => element.matches(':focus'))) {
      return;
    }
    /* oxlint-enable eslint/no-await-in-loop */
  }
  throw new Error(`the Tab key does not lead to “${name}”`);
}

test('a card is opened, its files gone through and one decided about without a mouse', async ({ page }) => {
  await gate(page);
  const night = new Night(await Notebook.open(page, '/', '#place=night'));
  await fillIn(page, folder);
  await tabTo(page, 'button', 'Open a folder');
  await page.keyboard.press('Enter');
  // The pictures of files that are turned to are read too.
  await page.evaluate(() => window.letThrough(1000));
  await night.examined();
  await tabTo(page, 'tab', 'Glance');
  await night.press('ArrowRight', 'ArrowRight');
  await expect(page.getByRole('tab', { name: 'Files' })).toBeFocused();
  await tabTo(page, 'listbox', 'Files');
  await night.press('Home', 'ArrowDown', 'b');
  await expect(night.rows.nth(1)).toContainText('Bat');
  await expect(night.turnedTo).toHaveAttribute('aria-posinset', '3');
  await expect(night.place.getByText('Kept for card/night/05.wav')).toBeAttached();
  // Undone and turned to other leaves by keys as well.
  await tabTo(page, 'button', 'Undo the last');
  await night.press('Enter');
  await expect(night.turnedTo).toHaveAttribute('aria-posinset', '2');
  await expect(night.rows.nth(1).locator('.said')).toHaveText('');
  await night.press('2');
  await expect(page.getByRole('tab', { name: 'Night check' })).toHaveAttribute('aria-selected', 'true');
  expect(night.notebook.complaints).toEqual([]);
});
