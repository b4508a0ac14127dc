import { mkdtempSync, rmSync } from 'node:fs';
import { cp, mkdir } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { expect, test, type Locator, type Page } from '@playwright/test';

import { expectNoBarriers, expectNoSidewaysScroll } from './barriers.ts';
import { Notebook, type TestFile } from './notebook.ts';
import { BUZZ, FIRST_PASS, named, pathOf, sample, wav } from './recordings.ts';

/** As many recordings from Night as stay open. */
const MOST_FROM_NIGHT = 20;

const link = (page: Page, name: string): Locator =>
  page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name, exact: true });

const back = (page: Page): Locator => page.getByRole('button', { name: 'Back to the night' });

async function expectAt(page: Page, name: 'Call' | 'Night'): Promise<void> {
  await expect(link(page, name)).toHaveAttribute('aria-current', 'page');
  await expect(link(page, name === 'Call' ? 'Night' : 'Call')).not.toHaveAttribute('aria-current');
  await expect(page.locator(name === 'Call' ? 'call-place' : 'night-place').getByRole('main')).toBeVisible();
  await expect(page.getByRole('main')).toHaveCount(1);
}

/** Asks for files as the Night place does, one after the other. */
async function openFromNight(notebook: Notebook, ...files: TestFile[]): Promise<void> {
  const carried = files.map(({ name, buffer }) => ({ name, text: buffer.toString('base64') }));
  await notebook.page.locator('night-place').evaluate((place, all) => {
    for (const { name, text } of all) {
      const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
      const event = new Event('open-in-call', { bubbles: true, composed: true });
      place.dispatchEvent(Object.assign(event, { files: [new File([bytes], name, { lastModified: 1 })], from: name }));
    }
  }, carried);
  await notebook.idle();
}

const scrolled = (page: Page): Promise<number> => page.evaluate(() => Math.round(scrollY));

test('another place is looked at and Call stays as it was, with mouse, keys, and Back', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(BUZZ));
  await notebook.rows.nth(3).click();
  await notebook.picture.focus();
  await page.keyboard.press('Equal');
  await notebook.idle();
  const address = page.url();
  const view = notebook.view();

  await link(page, 'Night').click();
  await notebook.idle();
  await expectAt(page, 'Night');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('A whole night’s card');
  await expect(notebook.picture).toBeHidden();
  expect(page.url()).toContain('#place=night');
  await page.keyboard.press('Shift+Tab');
  await expect(link(page, 'Call')).toBeFocused();

  await page.goBack();
  await notebook.idle();
  await expectAt(page, 'Call');
  expect(page.url()).toBe(address);
  expect(notebook.view()).toEqual(view);
  await expect(notebook.selectedRow).toHaveAttribute('data-index', '3');
  expect(await notebook.colours()).toBeGreaterThan(50);

  await page.evaluate(() => scrollTo(0, 333));
  await page.goForward();
  await notebook.idle();
  await expectAt(page, 'Night');
  expect(await scrolled(page)).toBe(0);
  await page.goBack();
  await notebook.idle();
  expect(await scrolled(page)).toBe(333);
  await page.goForward();
  await notebook.idle();
  await page.getByLabel('Hut').check();
  await notebook.idle();
  expect(page.url()).toMatch(/#place=night&theme=hut$/);
  await link(page, 'Call').focus();
  await page.keyboard.press('Enter');
  await notebook.idle();
  await expectAt(page, 'Call');
  expect(notebook.view()).toEqual(view);
  expect(page.url()).toContain('theme=hut');

  // A dialogue does not hold a page that has gone elsewhere.
  await page.getByRole('button', { name: 'Take along' }).click();
  await page.goBack();
  await notebook.idle();
  await expectAt(page, 'Night');
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await link(page, 'Call').click();
  await notebook.idle();
  await expectAt(page, 'Call');
  expect(notebook.complaints).toEqual([]);
});

test('the address leads to Night, and from there to an untouched Call', async ({ page }) => {
  const notebook = await Notebook.open(page, '/', '#place=night&theme=hut');
  await expectAt(page, 'Night');
  await page.getByRole('button', { name: 'Skip to the content' }).focus();
  await page.keyboard.press('Enter');
  await expect(page.locator('night-place').getByRole('main')).toBeFocused();
  await link(page, 'Call').click();
  await notebook.idle();
  await expectAt(page, 'Call');
  await expect(page.getByText('Drop WAV recordings anywhere on this page')).toBeVisible();
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'hut');
  await notebook.choose(sample(FIRST_PASS));
  await expect(notebook.rows.first()).toBeVisible();
  expect(await notebook.colours()).toBeGreaterThan(50);
});

test('a recording of the night is opened in Call, and the way back leads to where it was', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 260 });
  const notebook = await Notebook.open(page, '/', '#place=night');
  const content = page.locator('night-place').getByRole('main');
  await page.getByRole('button', { name: 'Skip to the content' }).focus();
  await page.keyboard.press('Enter');
  await page.evaluate(() => scrollTo(0, 70));
  await openFromNight(notebook, sample(FIRST_PASS));
  await expectAt(page, 'Call');
  await expect(notebook.picture).toBeFocused();
  await expect(notebook.rows.first()).toBeVisible();
  await back(page).click();
  await notebook.idle();
  await expectAt(page, 'Night');
  await expect(content).toBeFocused();
  expect(await scrolled(page)).toBe(70);
  // By Back as well.
  await page.goBack();
  await notebook.idle();
  await expectAt(page, 'Call');
  await page.goBack();
  await notebook.idle();
  await expectAt(page, 'Night');
  await expect(content).toBeFocused();
  // What is open already is shown, and not opened once more.
  await openFromNight(notebook, sample(FIRST_PASS));
  await expectAt(page, 'Call');
  await expect(notebook.picture).toBeFocused();
  await expect(notebook.list).toHaveCount(0);
  expect(notebook.complaints).toEqual([]);
});

test('the latest recordings of the night stay open, and what came otherwise', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.drop(sample(FIRST_PASS));
  await expect(back(page)).toBeHidden();
  await link(page, 'Night').click();
  const silence = wav(new Int16Array(2560), { rate: 256_000 });
  await openFromNight(notebook, ...Array.from({ length: MOST_FROM_NIGHT + 3 }, (_, at) => named(`night-${at + 1}.wav`, silence)));
  const names = await notebook.list.locator('.name').allInnerTexts();
  const latest = Array.from({ length: MOST_FROM_NIGHT }, (_, at) => `night-${at + 4}.wav`);
  expect(names).toEqual([FIRST_PASS, ...latest]);
  await expect(notebook.state).toContainText(`night-${MOST_FROM_NIGHT + 3}.wav`);
  await expect(back(page)).toBeVisible();
  await notebook.list.getByRole('button', { name: FIRST_PASS }).click();
  await notebook.idle();
  await expect(back(page)).toBeHidden();
  await expect(notebook.rows.first()).toBeVisible();
});

test('folders and many files go to Night, a few recordings to Call', async ({ page }) => {
  const folder = mkdtempSync(join(tmpdir(), 'dusklens-card-'));
  try {
    await mkdir(join(folder, 'card'));
    await cp(pathOf(FIRST_PASS), join(folder, 'card', 'one.wav'));
    const notebook = await Notebook.open(page, '/');
    await notebook.dropPaths(pathOf(FIRST_PASS));
    await expectAt(page, 'Call');
    await expect(notebook.state).toContainText(FIRST_PASS);
    await notebook.dropPaths(join(folder, 'card'));
    await expectAt(page, 'Night');
    await expect(page.getByText('A folder is looked through here, in Night.')).toBeVisible();
    await link(page, 'Call').click();
    await expect(page.getByText('A folder is looked through here, in Night.')).toBeHidden();
    await expect(notebook.list).toHaveCount(0);
    const silence = wav(new Int16Array(256), { rate: 256_000 });
    await notebook.drop(...Array.from({ length: 21 }, (_, at) => named(`${at}.wav`, silence)));
    await expectAt(page, 'Night');
    await expect(page.getByText('21 files are looked through here, in Night.')).toBeVisible();
    expect(notebook.complaints).toEqual([]);
  } finally {
    rmSync(folder, { recursive: true });
  }
});

test('no barrier that a machine can find in either place, however narrow', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 800 });
  const notebook = await Notebook.open(page, '/', '#place=night&theme=night');
  await expectNoBarriers(page);
  await expectNoSidewaysScroll(page);
  await openFromNight(notebook, sample(FIRST_PASS));
  await expectNoBarriers(page);
  await expectNoSidewaysScroll(page);
  await back(page).click();
  await notebook.idle();
  await expectNoBarriers(page);
});
