import { expect, test, type Page } from '@playwright/test';

import { makeCard, Night, removeCard, shortCard } from './card.ts';
import { labelByKeys, labelsOf, turnToLabels } from './labelling.ts';

let folder = '';

test.beforeAll(() => {
  folder = makeCard(shortCard());
});

test.afterAll(() => removeCard(folder));

/** What people said of the files in sight, by the names of the files, which are minutes here. */
async function saidOf(night: Night): Promise<Record<string, string>> {
  const lines = await night.lines();
  return Object.fromEntries(lines.filter((line) => line[4] !== '').map(([time = '', , , , said = '']) => [time.slice(3, 5), said]));
}

const inCall = (page: Page): ReturnType<Page['getByRole']> => page.getByRole('button', { name: 'Back to the night' });

test('files are narrowed down, put in order and decided about by keys; labels are there in Call and after the page was left', async ({
  page,
  context,
}) => {
  const night = await Night.open(page, folder, '&leaf=files');
  const { place, notebook } = night;
  const order = place.getByLabel('Order');
  await order.selectOption('Frequency');
  await expect(place.getByLabel('Largest first')).toBeChecked();
  const falling = (await night.lines()).map((line) => Number.parseFloat(line[2] || '-1'));
  expect(falling).toHaveLength(12);
  expect(falling).toEqual(falling.toSorted((a, b) => b - a));
  expect(new Set(falling).size).toBeGreaterThan(5);
  await place.getByLabel('Largest first').uncheck();
  expect((await night.lines()).map((line) => Number.parseFloat(line[2] || '-1'))).toEqual(falling.toSorted((a, b) => a - b));
  await order.selectOption('Name');
  await expect(night.file()).toHaveText('00.wav');
  await place.getByRole('searchbox', { name: 'Name holds' }).fill('NIGHT/1');
  await expect(night.rows).toHaveCount(2);
  await place.getByRole('searchbox', { name: 'Name holds' }).fill('');
  const none = place.getByRole('button', { name: 'Probably none' });
  await none.click();
  const empty = (await night.lines()).map((line) => line[1]);
  expect(empty.length).toBeGreaterThan(0);
  expect(new Set(empty)).toEqual(new Set(['Probably none']));
  await expect(none).toContainText(String(empty.length));
  await none.click();
  await order.selectOption('Time');
  await expect(night.rows).toHaveCount(12);

  // By keys alone; each decision leads on.
  await night.list.focus();
  await night.press('b', 'o', 'u', 'Space');
  await expect(night.file()).toHaveText('20.wav');
  await night.press('n');
  await expect(place.locator('decide-tools').getByLabel('Label', { exact: true })).toBeFocused();
  await page.keyboard.type('near water');
  await night.press('Enter');
  await expect(night.list).toBeFocused();
  await expect(night.file()).toHaveText('25.wav');
  await night.press('r', 'r');
  expect(await saidOf(night)).toEqual({
    '00': 'Bat',
    '05': 'No bat',
    '10': 'Cannot tell',
    '20': 'near water',
    '25': 'near water',
    '30': 'near water',
  });
  const undo = place.getByRole('button', { name: 'Undo the last' });
  await undo.click();
  await notebook.idle();
  await expect(night.file()).toHaveText('30.wav');
  expect((await saidOf(night))['30']).toBeUndefined();
  await expect(place.getByText('Taken back for card/night/30.wav')).toBeAttached();

  // What leaves the list by being decided about does not lead past the next file.
  const label = place.locator('file-filter').getByRole('combobox', { name: 'Label' });
  await label.selectOption({ label: 'none' });
  await expect(night.rows).toHaveCount(10);
  await expect(night.file()).toHaveText('00.wav');
  await night.list.focus();
  await night.press('r');
  await expect(night.file()).toHaveText('05.wav');
  await expect(night.rows).toHaveCount(9);
  await label.selectOption({ label: 'near water (3)' });
  expect(Object.keys(await saidOf(night)).toSorted()).toEqual(['00', '20', '25']);
  await label.selectOption({ label: 'any' });

  // In Call, and back where it was.
  await night.list.focus();
  await night.press('End', 'Home', 'ArrowDown', 'ArrowDown', 'ArrowDown', 'ArrowDown', 'Enter');
  await expect(notebook.state).toContainText('20.wav');
  await expect(notebook.picture).toBeFocused();
  await turnToLabels(page);
  expect(await labelsOf(page)).toEqual(['near water']);
  await labelByKeys(notebook, 'said in Call');
  await inCall(page).click();
  await notebook.idle();
  await expect(night.list).toBeFocused();
  await expect(night.file()).toHaveText('20.wav');
  await expect(night.turnedTo).toHaveAttribute('aria-posinset', '5');
  await expect(night.turnedTo).toContainText('near water, said in Call');
  const said = await saidOf(night);
  expect(notebook.complaints).toEqual([]);
  await page.close();

  const next = await context.newPage();
  const later = await Night.open(next, folder, '&leaf=files');
  await expect(later.progress).toContainText('12 recordings known from before');
  expect(await saidOf(later)).toEqual(said);
  expect(said).toEqual({
    '00': 'near water, Bat',
    '05': 'No bat',
    '10': 'Cannot tell',
    '20': 'near water, said in Call',
    '25': 'near water',
  });
  expect(later.notebook.complaints).toEqual([]);
});

test('a double-check draws files and tells what its answers say of all, with exact intervals', async ({ page }) => {
  const night = await Night.open(page, folder, '&leaf=files');
  const { place } = night;
  const of = Number(await place.getByRole('button', { name: 'Bat pulses' }).locator('.count').innerText());
  await place.getByText('Double-check a group').click();
  await place.locator('double-check').getByRole('combobox', { name: 'Group' }).selectOption('Bat pulses');
  await place.getByLabel('How many').fill('4');
  await place.getByRole('button', { name: `Draw from ${of} files` }).click();
  const check = place.getByRole('region', { name: 'Double-check' });
  await expect(check.getByRole('heading')).toHaveText(`Double-check: 4 files of ${of} in “Bat pulses”, drawn at random`);
  await expect(check.getByRole('status')).toHaveText(/^Look at each file/);
  await expect(night.rows).toHaveCount(4);
  expect(new Set((await night.lines()).map((line) => line[1]))).toEqual(new Set(['Bat pulses']));
  const drawn = (await night.lines()).map(([time]) => time);
  expect(new Set(drawn).size).toBe(4);

  // Shares: scipy.stats.beta.ppf, the interval of Clopper and Pearson (1934). Numbers of files: all those for which
  // scipy.stats.hypergeom gives either tail more than 2.5 %. Both by SciPy 1.
  expect(of).toBe(10);
  await night.list.focus();
  await night.press('o');
  await expect(check.getByRole('status')).toHaveText(
    '1 file looked at, 0 hold a bat. So 0.0 % (0.0 to 98 %) of all 10 in “Bat pulses” hold one: 0 to 9 files (95 % interval).',
  );
  await night.press('b');
  await expect(check.getByRole('status')).toHaveText(
    '2 files looked at, 1 holds a bat. So 50 % (1.3 to 99 %) of all 10 in “Bat pulses” hold one: 1 to 9 files (95 % interval).',
  );
  await night.press('u');
  await expect(check.getByRole('status')).toHaveText(
    '3 files looked at, 1 holds a bat. So 33 % (0.8 to 91 %) of all 10 in “Bat pulses” hold one: 1 to 8 files (95 % interval).' +
      ' 1 file could not be told; if all of them hold one, 67 % (9.4 to 99 %).',
  );
  await expect(check.getByRole('progressbar')).toHaveJSProperty('value', 3);
  // It stays as it was drawn, whatever is answered.
  expect((await night.lines()).map(([time]) => time)).toEqual(drawn);
  await check.getByRole('button', { name: 'Leave the double-check' }).click();
  await expect(night.rows).toHaveCount(12);
  expect(night.notebook.complaints).toEqual([]);
});
