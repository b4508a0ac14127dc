import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';

import { expect, test, type Page } from '@playwright/test';

import { labelByKeys, labelsOf, turnToLabels } from './labelling.ts';
import { Notebook } from './notebook.ts';
import { BUZZ, FIRST_PASS, named, pathOf, sample } from './recordings.ts';
import { shapes } from './shapes.ts';

/** What these tests look at in a keep file. */
interface KeepFile {
  recordings: { hash: string; name: string; remarks: { labels: { text: string; when: string }[] } }[];
}

/** The keep file as the page saves it. */
async function savedKeepFile(page: Page): Promise<KeepFile & { text: string }> {
  const coming = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save a keep file' }).click();
  const text = readFileSync(await (await coming).path(), 'utf8');
  return { text, ...(JSON.parse(text) as KeepFile) };
}

async function openKeepFile(notebook: Notebook, text: string): Promise<void> {
  await notebook.page
    .getByLabel('Open a keep file')
    .setInputFiles({ name: 'keep.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await notebook.idle();
}

for (const { name, address } of shapes) {
  test(`${name}: labels are there again when the same recording comes under another name`, async ({ page }) => {
    const notebook = await Notebook.open(page, address);
    await notebook.choose(sample(FIRST_PASS));
    await notebook.rows.nth(2).click();
    await labelByKeys(notebook, 'fen bat');
    await turnToLabels(page);
    await expect(page.locator('keep-line')).toContainText('Kept in this browser');

    await page.goto('about:blank');
    const again = await Notebook.open(page, address);
    await again.choose(named('renamed.wav', sample(FIRST_PASS).buffer));
    await turnToLabels(page);
    expect(await labelsOf(page)).toEqual(['fen bat']);
    await expect(page.locator('labels-leaf li')).toContainText('pulse 3');
    await page.getByRole('tab', { name: 'Table' }).click();
    await expect(again.rows.nth(2).locator('th')).toContainText('labelled: fen bat (probable)');
    await expect(again.rows.nth(1).locator('th')).not.toContainText('labelled');
    expect(again.complaints).toEqual([]);
  });
}

test('a recording of the same length with another content has none of its labels', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await labelByKeys(notebook, 'fen bat');
  const other = Buffer.from(sample(FIRST_PASS).buffer);
  other.writeUInt8(other.readUInt8(other.length - 1) ^ 1, other.length - 1);
  await notebook.drop(named(FIRST_PASS, other));
  await turnToLabels(page);
  expect(await labelsOf(page)).toEqual([]);
});

test('undo and redo go through all that was decided, by keys and by buttons', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  const undo = page.getByRole('button', { name: 'Undo' });
  const redo = page.getByRole('button', { name: 'Redo' });
  await expect(undo).toBeDisabled();
  await expect(redo).toBeDisabled();
  await labelByKeys(notebook, 'one');
  await notebook.rows.nth(0).click();
  await labelByKeys(notebook, 'two');
  await expect(undo).toHaveAccessibleName('Undo: label pulse 1');
  await turnToLabels(page);
  await page.keyboard.press('Control+z');
  await notebook.idle();
  expect(await labelsOf(page)).toEqual(['one']);
  await expect(undo).toHaveAccessibleName('Undo: label the recording');
  await expect(page.locator('undo-buttons [aria-live]')).toHaveText('Undone: label pulse 1');
  await undo.click();
  await notebook.idle();
  expect(await labelsOf(page)).toEqual([]);
  await page.keyboard.press('Control+Shift+z');
  await page.keyboard.press('Control+y');
  await notebook.idle();
  expect(await labelsOf(page)).toEqual(['one', 'two']);
  await expect(redo).toBeDisabled();
  // What was undone and done again is what is kept.
  await page.reload();
  await notebook.idle();
  await notebook.choose(sample(FIRST_PASS));
  expect(await labelsOf(page)).toEqual(['one', 'two']);
});

test('keys in a text undo the text and not a label', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await labelByKeys(notebook, 'one');
  await turnToLabels(page);
  await page.getByText('My list of words').click();
  await page.getByLabel('Words, one a line').focus();
  await page.keyboard.press('Control+z');
  await notebook.idle();
  expect(await labelsOf(page)).toEqual(['one']);
});

test('two pages of the same recording do not overwrite each other', async ({ page, context }) => {
  const one = await Notebook.open(page, '/');
  await one.choose(sample(FIRST_PASS));
  const two = await Notebook.open(await context.newPage(), '/');
  await two.choose(named('other-name.wav', sample(FIRST_PASS).buffer));
  await labelByKeys(one, 'from one');
  await labelByKeys(two, 'from two');
  await turnToLabels(one.page);
  await turnToLabels(two.page);
  for (const { page: open } of [one, two]) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- one page after the other
    await expect.poll(() => labelsOf(open)).toEqual(['from one', 'from two']);
  }
  // Undo takes back one's own, and leaves the other's.
  await one.page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(() => labelsOf(two.page)).toEqual(['from two']);
  await expect.poll(() => labelsOf(one.page)).toEqual(['from two']);
});

test('where the browser keeps nothing, the page works and says so', async ({ page }) => {
  await page.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException('The operation is insecure.', 'SecurityError');
    };
  });
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await labelByKeys(notebook, 'fen bat');
  await turnToLabels(page);
  expect(await labelsOf(page)).toEqual(['fen bat']);
  await expect(page.locator('keep-line')).toContainText('Not kept.');
  await expect(page.locator('keep-line')).toContainText('until the page is closed');
  const { recordings } = await savedKeepFile(page);
  expect(recordings[0]?.remarks.labels[0]?.text).toBe('fen bat');
  expect(notebook.complaints).toEqual([]);
});

test('a keep file brings everything to another browser, and says what it did', async ({ page, browser }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await labelByKeys(notebook, 'fen bat <b>&');
  await notebook.drop(sample(BUZZ));
  await labelByKeys(notebook, '=hunting()');
  await turnToLabels(page);
  const { text, recordings } = await savedKeepFile(page);
  const hashes = [FIRST_PASS, BUZZ].map((file) => createHash('sha256').update(readFileSync(pathOf(file))).digest('hex'));
  expect(recordings.map(({ hash }) => hash).toSorted()).toEqual(hashes.toSorted());

  const fresh = await browser.newContext();
  const other = await Notebook.open(await fresh.newPage(), new URL(page.url()).origin);
  await other.choose(sample(FIRST_PASS));
  await turnToLabels(other.page);
  await openKeepFile(other, text);
  const said = other.page.locator('keep-tools [aria-live]');
  await expect(said).toContainText('2 entries for 2 recordings: 2 added, 0 brought up to date, 0 left as here');
  await expect(said).toContainText('2 words were put on your list.');
  expect(await labelsOf(other.page)).toEqual(['fen bat <b>&']);
  await openKeepFile(other, text);
  await expect(said).toContainText('0 added, 0 brought up to date, 2 left as here');

  // What was changed later wins, and is told.
  const later = JSON.parse(text) as KeepFile;
  const first = later.recordings.find(({ hash }) => hash === hashes[0])?.remarks.labels[0];
  Object.assign(first ?? {}, { text: 'another', when: '2099-01-01T00:00:00Z' });
  await openKeepFile(other, JSON.stringify(later));
  await expect(said).toContainText('1 brought up to date, 1 left as here');
  expect(await labelsOf(other.page)).toEqual(['another']);
  // Everything that was saved comes out again.
  const back = await savedKeepFile(other.page);
  expect(back.recordings).toEqual(later.recordings);
  await fresh.close();
});

test('what is no keep file is refused in a sentence, and changes nothing', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await labelByKeys(notebook, 'fen bat');
  await turnToLabels(page);
  const { text } = await savedKeepFile(page);
  const alert = page.locator('keep-tools [role=alert]');
  const bad: [string, string][] = [
    ['{"format":', 'no JSON'],
    ['{"format":"other"}', 'no keep file of Dusklens'],
    [text.replace('"version": 1', '"version": 2'), 'newer version'],
    [text.replace('"probable"', '"__proto__"'), 'none of "sure", "probable", "possible"'],
    [text.replace(/"hash": "[0-9a-f]+"/, '"hash": "../../etc"'), 'no SHA-256'],
  ];
  for (const [content, words] of bad) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- one after the other
    await openKeepFile(notebook, content);
    // oxlint-disable-next-line eslint/no-await-in-loop -- one after the other
    await expect(alert).toContainText(words);
    // oxlint-disable-next-line eslint/no-await-in-loop -- one after the other
    await expect(alert).toContainText('Nothing was changed here.');
  }
  expect(await labelsOf(page)).toEqual(['fen bat']);
});
