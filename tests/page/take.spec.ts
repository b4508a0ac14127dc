import { expect, test, type Download, type Page } from '@playwright/test';
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname } from 'node:path';

import { expectNoBarriers } from './barriers.ts';
import { COMMAND_LINE } from './build-command-line.ts';
import { labelByKeys } from './labelling.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, named, pathOf, sample } from './recordings.ts';
import { shapes } from './shapes.ts';

const dialogue = (page: Page) => page.getByRole('dialog', { name: 'Take along' });
const said = (page: Page) => dialogue(page).getByRole('status');

/** Opens the dialogue on a recording. */
async function opened(page: Page, address = '/', file = sample(FIRST_PASS), fragment = ''): Promise<Notebook> {
  const notebook = await Notebook.open(page, address, fragment);
  await notebook.choose(file);
  await page.getByRole('button', { name: 'Take along' }).click();
  await notebook.idle();
  return notebook;
}

async function saved(page: Page, button: string): Promise<Download> {
  const coming = page.waitForEvent('download');
  await dialogue(page).getByRole('button', { name: button, exact: true }).click();
  return coming;
}

/** What the browser's own XML parser finds in a figure. */
async function parsed(page: Page, svg: string) {
  return page.evaluate((text) => {
    const document = new DOMParser().parseFromString(text, 'image/svg+xml');
    const root = document.documentElement;
    const texts = (of: string): string[] =>
      [...document.querySelectorAll(`.${of} text:not([aria-hidden])`)].map((node) => node.textContent ?? '');
    return {
      failed: document.querySelector('parsererror') !== null,
      scripts: document.querySelectorAll('script, foreignObject').length,
      width: root.getAttribute('width'),
      viewBox: (root.getAttribute('viewBox') ?? '').split(' ').map(Number),
      time: texts('time-axis'),
      frequency: texts('frequency-axis'),
      levels: texts('level-legend'),
      numbers: texts('numbers'),
      words: texts('words').join(' '),
      title: texts('title'),
      contours: document.querySelectorAll('.contours path').length,
    };
  }, svg);
}

/** Width, height, and dots per metre as a PNG file states them (W3C PNG, sections 11.2.1 and 11.3.4.3). */
function pngFacts(bytes: Buffer): { width: number; height: number; perMetre: number | null } {
  expect(bytes.subarray(0, 8)).toEqual(Buffer.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10]));
  const at = bytes.indexOf('pHYs', 0, 'latin1');
  const isMetres = at > 0 && bytes[at + 12] === 1;
  return {
    width: bytes.readUInt32BE(16),
    height: bytes.readUInt32BE(20),
    perMetre: isMetres ? bytes.readUInt32BE(at + 4) : null,
  };
}

for (const { name, address } of shapes) {
  test(`${name}: a figure is saved as SVG and as PNG`, async ({ page }) => {
    const notebook = await opened(page, address);
    await dialogue(page).getByLabel('Title').fill('A <first> pass & more');
    await dialogue(page).getByLabel('Note').fill('Heard at the fen.');
    const file = await saved(page, 'Save SVG');
    await notebook.idle();
    await expect(said(page)).toHaveText('The figure is saved as SVG.');
    expect(file.suggestedFilename()).toBe(FIRST_PASS.replace('.wav', '.svg'));
    const figure = await parsed(page, readFileSync(await file.path(), 'utf8'));
    expect(figure.failed).toBe(false);
    expect(figure.scripts).toBe(0);
    expect(figure.width).toBe('160mm');
    expect(figure.time.at(-1)).toBe('Time, s');
    expect(figure.frequency.at(-1)).toBe('Frequency, kHz');
    expect(figure.levels.at(-1)).toBe('Level, dB re full scale');
    expect(figure.title).toEqual(['A <first> pass & more']);
    for (const part of ['Heard at the fen.', `${FIRST_PASS}: `, 'window of', '% overlap', 'dB re full scale', 'Dusklens ']) {
      expect(figure.words).toContain(part);
    }
    const rows = await notebook.rows.count();
    // So narrow that a halo would cover the sound: a line each.
    expect(figure.contours).toBe(rows);
    expect(figure.numbers[0]).toBe('1');
    expect(figure.numbers.length).toBeGreaterThan(rows / 3);

    const picture = await saved(page, 'Save PNG');
    await notebook.idle();
    const facts = pngFacts(readFileSync(await picture.path()));
    // 160 mm at 300 dots per inch; 300 per inch are 11811 per metre.
    expect(facts.width).toBe(Math.round((160 / 25.4) * 300));
    expect(facts.perMetre).toBe(11811);
    const [, , width = 1, height = 1] = figure.viewBox;
    expect(Math.abs(facts.height - (facts.width * height) / width)).toBeLessThan(1);
    expect(notebook.complaints).toEqual([]);
  });
}

test('the picture of a figure has its text and its sound', async ({ page }) => {
  const notebook = await opened(page);
  await dialogue(page).getByLabel('Colours').selectOption({ label: 'Black and white' });
  const picture = await saved(page, 'Save PNG');
  await notebook.idle();
  const bytes = readFileSync(await picture.path()).toString('base64');
  const seen = await page.evaluate(async (text) => {
    const image = new Image();
    image.src = `data:image/png;base64,${text}`;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = image.naturalWidth;
    canvas.height = image.naturalHeight;
    const context = canvas.getContext('2d');
    context?.drawImage(image, 0, 0);
    const { data } = context?.getImageData(0, 0, canvas.width, canvas.height) ?? { data: [] };
    let colour = 0;
    const shades = new Set<number>();
    let darkBelow = 0;
    for (let at = 0; at < data.length; at += 4) {
      const [red = 0, green = 0, blue = 0] = [data[at], data[at + 1], data[at + 2]];
      colour = Math.max(colour, Math.abs(red - green), Math.abs(green - blue));
      shades.add(red);
      // The words below take the last tenth of it, where there is nothing else.
      darkBelow += at > data.length * 0.9 && red < 100 ? 1 : 0;
    }
    return { colour, shades: shades.size, darkBelow };
  }, bytes);
  expect(seen.colour).toBe(0);
  expect(seen.shades).toBeGreaterThan(100);
  expect(seen.darkBelow).toBeGreaterThan(500);
});

test('what is shown follows the choices', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await notebook.picture.focus();
  await page.keyboard.press('Period');
  await notebook.idle();
  await page.keyboard.press('KeyT');
  await notebook.idle();
  await expect(dialogue(page)).toBeVisible();
  const preview = dialogue(page).getByAltText('Preview of the figure');
  const first = await preview.getAttribute('src');
  await dialogue(page).getByLabel('Pulse 1').check();
  await notebook.idle();
  expect(await preview.getAttribute('src')).not.toBe(first);
  await dialogue(page).getByLabel('Width, mm').fill('9000');
  await dialogue(page).getByLabel('Dots per inch').fill('100');
  await dialogue(page).getByLabel('Numbers').uncheck();
  await notebook.idle();
  await expect(dialogue(page).getByLabel('Width, mm')).toHaveValue('300');
  const file = await saved(page, 'Save SVG');
  const figure = await parsed(page, readFileSync(await file.path(), 'utf8'));
  expect(figure.time.at(-1)).toBe('Time, ms');
  expect(figure.width).toBe('300mm');
  expect(figure.numbers).toEqual([]);
  await page.keyboard.press('Escape');
  await expect(dialogue(page)).toBeHidden();
  await expect(notebook.picture).toBeFocused();
});

test('picture and table go to the clipboard', async ({ page, context }) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  const notebook = await opened(page);
  await dialogue(page).getByRole('button', { name: 'Copy picture' }).click();
  await notebook.idle();
  await expect(said(page)).toHaveText('The picture is in the clipboard.');
  const types = await page.evaluate(async () => (await navigator.clipboard.read()).flatMap((item) => item.types));
  expect(types).toEqual(['image/png']);
  await dialogue(page).getByRole('button', { name: 'Copy table' }).click();
  await notebook.idle();
  await expect(said(page)).toContainText('The table is in the clipboard');
  const text = await page.evaluate(() => navigator.clipboard.readText());
  const plain = execFileSync(COMMAND_LINE, ['measure', '--csv', FIRST_PASS], { cwd: dirname(pathOf(FIRST_PASS)) });
  // No cell of this table holds a comma of its own.
  expect(text.replaceAll('\r', '').trimStart()).toBe(plain.toString('utf8').replaceAll(',', '\t'));
  expect(notebook.complaints).toEqual([]);
});

test('a figure has the axis, the levels and the window of the picture', async ({ page }) => {
  const notebook = await opened(page, '/', sample(FIRST_PASS), '#scale=log&floor=-95&range=50&length=2&sharpened=yes');
  const file = await saved(page, 'Save SVG');
  await notebook.idle();
  const figure = await parsed(page, readFileSync(await file.path(), 'utf8'));
  for (const part of ['equal ratios', 'reassigned', 'from −95 to −45 dB', 'Hann window of 2.']) {
    expect(figure.words).toContain(part);
  }
  const ticks = figure.frequency.slice(0, -1).map(Number);
  const steps = ticks.slice(1).map((tick, n) => tick - (ticks[n] ?? 0));
  expect(ticks.length).toBeGreaterThan(2);
  expect(steps.at(-1)).toBeGreaterThan(2 * (steps[0] ?? Infinity));
});

test('figure and record hold what was done by hand and said', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await notebook.rows.nth(2).click();
  await notebook.picture.focus();
  await page.keyboard.press('BracketRight');
  await notebook.idle();
  await notebook.rows.nth(1).click();
  await notebook.picture.focus();
  await page.keyboard.press('KeyX');
  await page.getByRole('dialog', { name: 'Set pulse 2 aside' }).getByRole('button', { name: 'Set aside' }).click();
  await notebook.idle();
  await labelByKeys(notebook, 'fen <b>bat</b>');
  await page.getByRole('button', { name: 'Take along' }).click();
  await dialogue(page).getByRole('radio', { name: 'The whole recording' }).check();
  await notebook.idle();
  const file = await saved(page, 'Save SVG');
  await notebook.idle();
  const figure = await parsed(page, readFileSync(await file.path(), 'utf8'));
  expect(figure.numbers).toContain('H1');
  expect(figure.numbers).not.toContain('2');
  expect(figure.numbers).not.toContain('3');
  await page.keyboard.press('Escape');
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
  await page.emulateMedia({ media: 'print' });
  const record = page.locator('print-record');
  await expect(record).toContainText('fen <b>bat</b>, probable: pulse 2.');
  await expect(record).toContainText(/H1, corrected pulse 3: start \d\.\d{4} s/);
  await expect(record).toContainText(/Pulse 2 is set aside: [A-Z]/);
  expect(notebook.complaints).toEqual([]);
});

test('without a clipboard one is told what to do', async ({ page }) => {
  await page.addInitScript(() => {
    Object.defineProperty(navigator, 'clipboard', {
      value: { write: () => Promise.reject(new DOMException('no', 'NotAllowedError')) },
    });
  });
  const notebook = await opened(page);
  await dialogue(page).getByRole('button', { name: 'Copy table' }).click();
  await notebook.idle();
  await expect(said(page)).toContainText('Save it as a file instead.');
});

test('the table is saved with its definitions, or plain, as the command line writes it', async ({ page }) => {
  const notebook = await opened(page);
  const cwd = dirname(pathOf(FIRST_PASS));
  const told = await saved(page, 'Save table (CSV)');
  const native = execFileSync(COMMAND_LINE, ['measure', '--csv', '--about', FIRST_PASS], { cwd });
  const text = readFileSync(await told.path(), 'utf8');
  expect(text).toBe(native.toString('utf8'));
  expect(text).toContain('\n# duration_ms: end less start\n');
  await dialogue(page).getByLabel('Definitions in the file').uncheck();
  const plain = await saved(page, 'Save table (CSV)');
  const bare = execFileSync(COMMAND_LINE, ['measure', '--csv', FIRST_PASS], { cwd });
  expect(readFileSync(await plain.path(), 'utf8')).toBe(bare.toString('utf8'));
  await notebook.idle();
  await page.keyboard.press('Escape');
  await expect(page.getByLabel('with definitions')).not.toBeChecked();
});

test('a hostile name stays a name', async ({ page }) => {
  const name = '=cmd()<img src=x onerror=alert(1)>&\u202e.wav';
  const notebook = await opened(page, '/', named(name, sample(FIRST_PASS).buffer));
  const file = await saved(page, 'Save SVG');
  const figure = await parsed(page, readFileSync(await file.path(), 'utf8'));
  expect(figure.failed).toBe(false);
  expect(figure.words).toContain('=cmd()<img src=x onerror=alert(1)>&');
  expect(notebook.complaints).toEqual([]);
});

// Wider ones, and the third theme, are walked in states.spec.ts.
for (const [theme, width] of [['paper', 390], ['night', 390]] as const) {
  test(`no barrier in the dialogue that a machine can find: ${theme}, ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height: 900 });
    await opened(page, '/', sample(FIRST_PASS), `#theme=${theme}`);
    await expectNoBarriers(page);
    const over = await dialogue(page).evaluate((element) => element.scrollWidth - element.clientWidth);
    expect(over).toBeLessThanOrEqual(0);
  });
}
