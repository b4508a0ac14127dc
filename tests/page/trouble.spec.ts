import { readFileSync } from 'node:fs';

import { expect, test } from '@playwright/test';

import { Notebook } from './notebook.ts';
import { dataStart, FIRST_PASS, named, pathOf, sample, samplesOf, wav } from './recordings.ts';
import { shapes } from './shapes.ts';

const whole = (): Buffer => readFileSync(pathOf(FIRST_PASS));

/** A header that promises a hundred times the samples that follow. */
function lying(): Buffer {
  const { samples, rate } = samplesOf(FIRST_PASS);
  const bytes = wav(samples, { rate });
  const size = dataStart(bytes) - 4;
  bytes.writeUInt32LE(bytes.readUInt32LE(size) * 100, size);
  return bytes;
}

const UNREADABLE = [
  named('empty.wav', Buffer.alloc(0)),
  named('one-byte.wav', Buffer.from('R')),
  named('shopping.wav', Buffer.from('Bread, milk, and batteries for the recorder.\n')),
];
const LAME = [
  named('lying-header.wav', lying()),
  named('cut-short.wav', whole().subarray(0, 400_001)),
];

for (const { name, address } of shapes) {
  test(`${name}: broken files say why, and the rest goes on`, async ({ page }) => {
    const notebook = await Notebook.open(page, address);
    await notebook.choose(...UNREADABLE, ...LAME, sample(FIRST_PASS));
    const entries = notebook.list.getByRole('button');
    await expect(entries).toHaveCount(6);
    const expectFailure = async (index: number, file: string): Promise<void> => {
      const entry = entries.nth(index);
      await expect(entry).toContainText('could not be read');
      await entry.click();
      await notebook.idle();
      await expect(page.getByRole('heading', { level: 1 })).toHaveText(file);
      const sentences = page.locator('recording-head .failure p');
      await expect(sentences).toHaveCount(2);
      // A sentence for a person, not a fault of a program.
      await expect(sentences.first()).not.toContainText(/undefined|NaN|Error|panicked|unreachable/);
      await expect(sentences.nth(1)).not.toBeEmpty();
    };
    await expectFailure(0, 'empty.wav');
    await expectFailure(1, 'one-byte.wav');
    await expectFailure(2, 'shopping.wav');
    await expect(entries.nth(3)).toContainText('15 pulses');
    await expect(entries.nth(4)).toContainText('pulse');
    await expect(entries.nth(5)).toContainText('15 pulses');
    await entries.nth(3).click();
    await expect(page.locator('recording-head .notices')).toBeVisible();
    expect(await notebook.colours()).toBeGreaterThan(50);
    expect(notebook.complaints).toEqual([]);
  });
}

test('what stands in a file stays text', async ({ page }) => {
  const { samples, rate } = samplesOf(FIRST_PASS);
  const attack = '<img src=x onerror="document.title=\'taken\'"><script>document.title="taken"</script>';
  const metadata = [
    'GUANO|Version: 1.0',
    'Timestamp: 2026-06-14T22:41:05+01:00',
    `Make: ${attack}`,
    `Note: ${attack}\\nsecond line`,
    `User|${attack.replaceAll(':', '')}: ${attack}`,
    'Loc Position: 52.61234 1.51234',
  ].join('\n');
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(named('<b>bold</b>.wav', wav(samples, { rate, metadata })));
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('<b>bold</b>.wav');
  await expect(page.locator('facts-panel .note')).toContainText(attack);
  await page.getByText('Everything else in the file').click();
  await expect(page.locator('call-place img, call-place script, call-place b b')).toHaveCount(0);
  await expect(page).toHaveTitle('Dusklens');
  expect(notebook.complaints).toEqual([]);
});

test('a position is shown only when asked for', async ({ page }) => {
  const { samples, rate } = samplesOf(FIRST_PASS);
  const metadata = 'GUANO|Version: 1.0\nTimestamp: 2026-06-14T22:41:05\nLoc Position: 52.61234 -1.51234\n';
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(named('placed.wav', wav(samples, { rate, metadata })));
  await expect(page.locator('facts-panel')).toContainText('time zone unknown');
  await expect(page.locator('facts-panel')).not.toContainText('52.6');
  await page.getByRole('button', { name: 'Show position' }).click();
  await expect(page.locator('facts-panel')).toContainText('52.61234° N, 1.51234° W');
  await page.getByRole('button', { name: 'Hide position' }).click();
  await expect(page.locator('facts-panel')).not.toContainText('52.6');
});

test('measuring a long recording can be cancelled and begun again', async ({ page }) => {
  const { samples, rate } = samplesOf(FIRST_PASS);
  test.slow();
  // Long enough that there is time to stop it, and short of the 50 MB that the test's browser takes.
  const times = 60;
  const long = new Int16Array(samples.length * times);
  for (let turn = 0; turn < times; turn += 1) {
    long.set(samples, turn * samples.length);
  }
  const notebook = await Notebook.open(page, '/');
  await page.getByLabel('Choose files').setInputFiles([named('long.wav', wav(long, { rate }))]);
  await page.getByRole('button', { name: 'Cancel' }).click();
  await notebook.idle();
  await expect(notebook.state).toContainText('Stopped');
  // The picture does not depend on the measurement.
  expect(await notebook.colours()).toBeGreaterThan(50);
  await page.getByRole('button', { name: 'Start again' }).click();
  await expect(page.getByRole('progressbar', { name: 'Measuring' })).toBeVisible();
  await expect(notebook.state).toContainText('so far');
  await notebook.idle();
  const all = Number(/(\d+) pulses/.exec(await page.locator('recording-head .state').innerText())?.[1]);
  // The seams between the repetitions may sound like something, too.
  expect(all).toBeGreaterThanOrEqual(15 * times);
  // Only the rows in and near sight exist, and the last of all can be reached.
  expect(await notebook.rows.count()).toBeLessThan(100);
  await notebook.rows.first().focus();
  await page.keyboard.press('End');
  await page.keyboard.press('Enter');
  await notebook.idle();
  await expect(notebook.selectedRow).toHaveAttribute('data-index', String(all - 1));
  await expect(notebook.selectedRow).toBeInViewport();
  expect(notebook.complaints).toEqual([]);
});
