import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';

import { expect, test, type Page } from '@playwright/test';

import type { Findings, Pulse } from '../../www/src/core/types.ts';
import type { Label } from '../../www/src/keep/label.ts';
import { labelled, spansOf } from '../../www/src/places/call/labels/labelled.ts';
import { soundsOf } from '../../www/src/places/call/sounds.ts';
import { expectNoBarriers, expectNoSidewaysScroll } from './barriers.ts';
import { labelByKeys, labelsOf, turnToLabels } from './labelling.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, named, sample, wav } from './recordings.ts';
import { shapes } from './shapes.ts';
import { linesOf, savedTable } from './tables.ts';

async function saved(page: Page, button: string): Promise<{ name: string; bytes: Buffer }> {
  const coming = page.waitForEvent('download');
  await page.getByRole('button', { name: button }).click();
  const download = await coming;
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

/** The chunks of a RIFF file, by the letter of the standard. */
function chunks(bytes: Buffer): Map<string, Buffer> {
  const all = new Map<string, Buffer>();
  expect(bytes.readUInt32LE(4)).toBe(bytes.length - 8);
  let at = 12;
  while (at < bytes.length) {
    const size = bytes.readUInt32LE(at + 4);
    all.set(bytes.toString('latin1', at, at + 4), bytes.subarray(at + 8, at + 8 + size));
    at += 8 + size + (size % 2);
  }
  return all;
}

/** Rows of a table as RFC 4180 has them. */
function rowsOf(csv: string): Record<string, string>[] {
  const lines = [...csv.matchAll(/((?:(?:"(?:[^"]|"")*"|[^",\r\n]*),)*(?:"(?:[^"]|"")*"|[^",\r\n]*))\r\n/g)];
  const rows = lines.map(([, line = '']) =>
    [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map(([, quoted, plain = '']) => quoted?.replaceAll('""', '"') ?? plain),
  );
  const [head = [], ...body] = rows;
  return body.map((cells) => Object.fromEntries(head.map((name, index) => [name, cells[index] ?? ''])));
}

/** As much of a pulse as its place needs. */
function pulseAt(start_s: number, end_s: number): Pulse {
  return { start_s, end_s, doubt: null } as unknown as Pulse;
}

/** As much of a recording as finding its pulses again needs. */
function recording(pulses: Pulse[], factor: number): Parameters<typeof labelled>[1] {
  return {
    findings: { pulses, doubted: [] } as unknown as Findings,
    channel: 0,
    opened: { facts: { expansion: { factor } } },
  };
}

test('a label has all that a person says of a pulse, and stands by it everywhere', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await notebook.rows.nth(1).click();
  await page.keyboard.press('n');
  const dialog = page.getByRole('dialog', { name: 'Label' });
  await expect(dialog.getByRole('radio', { name: 'Pulse 2' })).toBeChecked();
  await dialog.getByLabel('What it is').fill('fen bat');
  await dialog.getByRole('radio', { name: /^Sure/ }).check();
  await dialog.getByRole('radio', { name: 'These pulses:' }).check();
  await dialog.getByLabel('Numbers of pulses').fill('2-4, 6');
  await dialog.getByLabel('Note').fill('steep, then level');
  await dialog.getByLabel('Who says so').fill('Ann');
  await dialog.getByRole('button', { name: 'Keep the label' }).click();
  await notebook.idle();
  await expect(page.locator('pulse-note')).toContainText('Labelled fen bat, sure, by Ann');
  await expect(notebook.rows.nth(5).locator('th')).toContainText('labelled: fen bat (sure)');
  await expect(notebook.rows.nth(4).locator('th')).not.toContainText('labelled');
  await turnToLabels(page);
  const item = page.locator('labels-leaf li');
  await expect(item).toContainText('fen bat · sure · pulses 2-4, 6');
  await expect(item).toContainText('steep, then level');
  await expect(item).toContainText('Ann, ');
  // The next label knows the words and who made it.
  await page.getByRole('button', { name: 'Label the recording', exact: true }).click();
  await expect(dialog.getByLabel('Who says so')).toHaveValue('Ann');
  await expect(dialog.locator('datalist option')).toHaveAttribute('value', 'fen bat');
  await page.keyboard.press('Escape');
  // Change, remove, and have it back.
  await page.getByRole('button', { name: /^Change the label/ }).click();
  const change = page.getByRole('dialog', { name: 'Change the label' });
  await expect(change.getByRole('radio', { name: /^As before/ })).toBeChecked();
  await change.getByLabel('What it is').fill('other bat');
  await page.keyboard.press('Enter');
  await notebook.idle();
  await expect(item).toContainText('other bat · sure · pulses 2-4, 6');
  await page.getByRole('button', { name: /^Remove the label/ }).click();
  await notebook.idle();
  await expect(item).toHaveCount(0);
  await page.getByRole('button', { name: 'Undo: remove the label of pulses 2-4, 6' }).click();
  await notebook.idle();
  expect(await labelsOf(page)).toEqual(['other bat']);
});

test('what cannot be a label is told, and nothing is lost', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await notebook.picture.focus();
  await page.keyboard.press('n');
  const dialog = page.getByRole('dialog', { name: 'Label' });
  await page.keyboard.press('Enter');
  await expect(dialog.getByRole('alert')).toContainText('Write what it is');
  await dialog.getByLabel('What it is').fill('fen bat');
  await dialog.getByLabel('Numbers of pulses').fill('3, 999');
  await page.keyboard.press('Enter');
  await expect(dialog.getByRole('alert')).toContainText('There is no pulse 999 here.');
  await dialog.getByLabel('Numbers of pulses').fill('three');
  await page.keyboard.press('Enter');
  await expect(dialog.getByRole('alert')).toContainText('no number of a pulse');
  await expect(dialog.getByLabel('What it is')).toHaveValue('fen bat');
});

test('a label keeps to its pulses when the time expansion is another, and says where none is any more', () => {
  const before = recording([pulseAt(1, 1.01), pulseAt(1.1, 1.11), pulseAt(1.2, 1.21)], 1);
  const about = spansOf(soundsOf(before.findings, true).slice(1), before);
  const label: Label = { id: 'a', when: '2026-06-14T22:41:05Z', about, text: 'x', certainty: 'sure', note: '', who: '' };
  expect(labelled([label], before).about(label)).toBe('pulses 2, 3');
  // Ten times slowed down: a tenth of the time at the microphone. Its second pulse is not found again, but a new one before.
  const after = recording([pulseAt(0.05, 0.051), pulseAt(0.1, 0.101), pulseAt(0.12, 0.121)], 10);
  const laid = labelled([label], after);
  expect(laid.about(label)).toBe('pulse 3, and what was pulse 2 at 1.100 s, where none is found now');
  expect([...laid.byPulse.keys()]).toEqual([after.findings.pulses[2]]);
  // In another channel it is another sound.
  expect(labelled([label], { ...before, channel: 1 }).byPulse.size).toBe(0);
});

test('the table of labels is RFC 4180, with times and hash, and runs no formula', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await labelByKeys(notebook, '=SUM(A1), "quoted"');
  await notebook.rows.nth(1).click();
  await labelByKeys(notebook, 'fen bat');
  await turnToLabels(page);
  const { name, bytes } = await saved(page, 'Save labels (CSV)');
  expect(name).toBe(FIRST_PASS.replace('.wav', '-labels.csv'));
  const rows = rowsOf(bytes.toString('utf8'));
  expect(rows).toHaveLength(2);
  const [whole, pulse] = rows;
  expect(whole).toMatchObject({ file: FIRST_PASS, pulse: '', start_s: '', label: `'=SUM(A1), "quoted"`, certainty: 'probable' });
  expect(whole?.['sha256']).toBe(createHash('sha256').update(sample(FIRST_PASS).buffer).digest('hex'));
  expect(whole?.['when']).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d$/);
  expect(whole?.['version']).toMatch(/^\d+\.\d+\.\d+$/);
  await page.getByRole('tab', { name: 'Table' }).click();
  const table = rowsOf(linesOf(await savedTable(page)).map((line) => `${line}\r\n`).join(''));
  expect(pulse).toMatchObject({ pulse: '2', channel: '1', start_s: table[1]?.['start_s'], end_s: table[1]?.['end_s'], label: 'fen bat' });
});

for (const { name, address } of shapes) {
  test(`${name}: a copy with labels gives them back where they are not kept, and is else the original`, async ({ page, browser }) => {
    const notebook = await Notebook.open(page, address);
    await notebook.choose(sample(FIRST_PASS));
    await labelByKeys(notebook, 'low one, maybe | 蝙蝠');
    await notebook.rows.nth(1).click();
    await labelByKeys(notebook, 'fen bat');
    await turnToLabels(page);
    const copy = await saved(page, 'Download a copy with labels (WAV)');
    expect(copy.name).toBe(FIRST_PASS.replace('.wav', '-labelled.wav'));
    await expect(page.locator('keep-tools [aria-live]')).toContainText('the original is untouched');
    const was = chunks(sample(FIRST_PASS).buffer);
    const is = chunks(copy.bytes);
    const guano = is.get('guan')?.toString('utf8') ?? '';
    expect(guano).toContain('Species Manual ID: low one; maybe | 蝙蝠, fen bat\n');
    for (const line of was.get('guan')?.toString('utf8').trim().split('\n') ?? []) {
      expect(guano).toContain(line);
    }
    was.delete('guan');
    is.delete('guan');
    expect([...is]).toEqual([...was]);

    const fresh = await browser.newContext();
    const other = await Notebook.open(await fresh.newPage(), address);
    await other.choose(named('from-ann.wav', copy.bytes));
    await expect(other.page.locator('carried-labels')).toContainText('This file carries 2 labels: low one, maybe | 蝙蝠, fen bat.');
    await other.page.getByRole('button', { name: 'Take over' }).click();
    await other.idle();
    await expect(other.page.locator('carried-labels').getByRole('button')).toHaveCount(0);
    await turnToLabels(other.page);
    expect(await labelsOf(other.page)).toEqual(['low one, maybe | 蝙蝠', 'fen bat']);
    await expect(other.page.locator('labels-leaf li').nth(1)).toContainText('pulse 2');
    // The same labels again make the same copy again.
    const again = await saved(other.page, 'Download a copy with labels (WAV)');
    expect(again.bytes.equals(copy.bytes)).toBe(true);
    expect(other.complaints).toEqual([]);
    await fresh.close();
  });
}

test('labels of a file that are none are not taken over, and shown as text alone', async ({ page }) => {
  const label = { id: 'a', when: 'never', about: [], text: '<img src=x onerror=alert(1)>', certainty: 'sure', note: '', who: '' };
  const metadata = `GUANO|Version: 1.0\nDusklens|Labels: ${JSON.stringify([label])}\n`;
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(named('hostile.wav', wav(new Int16Array(40_000), { rate: 384_000, metadata })));
  await expect(page.locator('carried-labels')).toContainText('<img src=x onerror=alert(1)>');
  await page.getByRole('button', { name: 'Take over' }).click();
  await expect(page.locator('carried-labels')).toContainText('no moment such as');
  await page.getByRole('button', { name: 'Leave' }).click();
  await expect(page.locator('carried-labels')).not.toContainText('carries');
  expect(notebook.complaints).toEqual([]);
});

test('the own list is kept, comes from a text file and goes into one', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await turnToLabels(page);
  await page.getByText(/^My list of words/).click();
  await page.getByLabel('Add from a text file').setInputFiles({
    name: 'words.txt',
    mimeType: 'text/plain',
    buffer: Buffer.from('fen bat\r\n\r\n  low one \r\nfen bat\r\n'),
  });
  await notebook.idle();
  await expect(page.getByText('My list of words (2)')).toBeVisible();
  await page.reload();
  await notebook.idle();
  await notebook.choose(sample(FIRST_PASS));
  await page.getByText('My list of words (2)').click();
  expect((await saved(page, 'Save as text')).bytes.toString('utf8')).toBe('fen bat\nlow one\n');
});

// Wider ones, and the third theme, are walked in states.spec.ts.
for (const [theme, width] of [['paper', 390], ['night', 390]] as const) {
  test(`no barrier among labels that a machine can find: ${theme}, ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height: 900 });
    const notebook = await Notebook.open(page, '/', `#theme=${theme}`);
    await notebook.choose(sample(FIRST_PASS));
    await notebook.rows.nth(1).click();
    await labelByKeys(notebook, 'fen bat');
    await turnToLabels(page);
    await page.getByText(/^My list of words/).click();
    await expectNoBarriers(page);
    await expectNoSidewaysScroll(page);
    await page.getByRole('button', { name: 'Label pulse 2', exact: true }).click();
    await expectNoBarriers(page);
  });
}
