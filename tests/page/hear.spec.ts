import { readFileSync } from 'node:fs';

import { expect, test, type Locator, type Page } from '@playwright/test';

import { expectNoBarriers, expectNoSidewaysScroll } from './barriers.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, sample } from './recordings.ts';
import { shapes } from './shapes.ts';
import { backToBack, decoded, heardBy, listenIn, loudest, pitch, purity, toneFile, waitForPieces, type Piece } from './sound.ts';

/** -6 dBFS, above which nothing is ever put out, and the rounding of single floats. */
const CEILING = 10 ** (-6 / 20) + 1e-6;

interface Bar {
  readonly notebook: Notebook;
  readonly bar: Locator;
  readonly play: Locator;
  readonly stop: Locator;
}

async function opened(page: Page, address: string, ...files: Parameters<Notebook['choose']>): Promise<Bar> {
  await listenIn(page);
  const notebook = await Notebook.open(page, address);
  await notebook.choose(...files);
  const bar = page.locator('hear-bar');
  return {
    notebook,
    bar,
    play: bar.getByRole('button', { name: 'Play' }),
    stop: bar.getByRole('button', { name: 'Stop', exact: true }),
  };
}

async function chooseHeterodyne(bar: Locator, khz: number): Promise<void> {
  await bar.getByRole('radio', { name: 'Heterodyne' }).check({ force: true });
  const field = bar.getByRole('spinbutton', { name: 'Tuned to, kHz' });
  await field.fill(String(khz));
  await field.press('Tab');
}

async function playhead(page: Page): Promise<number> {
  return Number(await page.locator('hear-marks .head').getAttribute('data-at'));
}

/** Waits until the playhead has passed a moment of the recording. */
async function playheadPasses(page: Page, seconds: number): Promise<void> {
  await expect.poll(() => playhead(page)).toBeGreaterThan(seconds);
}

const joined = (pieces: readonly Piece[]): number[] => pieces.flatMap((piece) => piece.samples);

for (const { name, address } of shapes) {
  test(`a recording is heard, from its ${name}`, async ({ page }) => {
    const { notebook, bar, play, stop } = await opened(page, address, sample(FIRST_PASS));
    await play.click();
    await expect(stop).toBeVisible();
    const pieces = await waitForPieces(page, 12);
    const all = joined(pieces);
    expect(loudest(all)).toBeGreaterThan(0.005);
    expect(loudest(all)).toBeLessThanOrEqual(CEILING);
    await playheadPasses(page, 0.01);
    const before = await playhead(page);
    const clock = await bar.locator('.clock').innerText();
    await playheadPasses(page, before);
    await expect(bar.locator('.clock')).not.toHaveText(clock);
    await stop.click();
    await expect(play).toBeVisible();
    await expect(page.locator('hear-marks .head')).toHaveCount(0);
    expect(notebook.complaints).toEqual([]);
  });
}

test('pieces follow one another without a gap, as the browser itself renders them', async ({ page }) => {
  const { bar, play, stop } = await opened(page, '/', toneFile(45, 2));
  await bar.getByRole('checkbox', { name: 'Automatic gain' }).uncheck({ force: true });
  await play.click();
  await waitForPieces(page, 40);
  await stop.click();
  // A busy computer may break the sound off; what lies between two breaks must be whole.
  const pieces = backToBack(await heardBy(page));
  expect(pieces.length).toBeGreaterThanOrEqual(4);
  const worst = await page.evaluate(async (all) => {
    const first = all[0];
    if (!first) {
      return Infinity;
    }
    const wanted = all.flatMap((piece) => piece.samples);
    const context = new OfflineAudioContext(1, wanted.length, first.rate);
    for (const { when, samples } of all) {
      const buffer = context.createBuffer(1, samples.length, first.rate);
      buffer.copyToChannel(Float32Array.from(samples), 0);
      const source = context.createBufferSource();
      source.buffer = buffer;
      source.connect(context.destination);
      source.start(Math.max(0, when - first.when));
    }
    const rendered = (await context.startRendering()).getChannelData(0);
    let off = 0;
    for (const [n, value] of wanted.entries()) {
      off = Math.max(off, Math.abs(value - (rendered[n] ?? 0)));
    }
    return off;
  }, pieces);
  // A gap or an overlap of one frame would be as large as the tone's step, 0.1.
  expect(worst).toBeLessThan(1e-3);
  // Ten times lower than 45 kHz.
  expect(pitch(joined(pieces).slice(1000, -1000), pieces[0]?.rate ?? 0)).toBeCloseTo(4500, 0);
});

/** Expects one tone and nothing beside it. */
function expectTone({ samples, rate }: { samples: number[]; rate: number }, hz: number): void {
  const middle = samples.slice(samples.length / 4, (samples.length * 3) / 4);
  expect(pitch(middle, rate)).toBeCloseTo(hz, 0);
  expect(purity(middle, hz, rate)).toBeGreaterThan(-0.01);
  expect(loudest(samples)).toBeLessThanOrEqual(CEILING);
}

test('each way brings a tone to where theory says, in the file that is saved', async ({ page }) => {
  const { notebook, bar } = await opened(page, '/', toneFile(45, 1));
  const saved = async (): Promise<{ name: string } & ReturnType<typeof decoded>> => {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      bar.getByRole('button', { name: 'Save what is heard (WAV)' }).click(),
    ]);
    return { name: download.suggestedFilename(), ...decoded(readFileSync(await download.path())) };
  };
  const slow = await saved();
  expect(slow.name).toBe('tone-45-expanded-x10.wav');
  expect(slow.samples).toHaveLength(10 * slow.rate);
  expectTone(slow, 4500);
  expect(slow.text).toContain('Not an original recording');
  expect(slow.text).toContain('time expansion, 10 times slower');

  await chooseHeterodyne(bar, 43);
  const beat = await saved();
  expect(beat.name).toBe('tone-45-heterodyne-43kHz.wav');
  expect(beat.samples).toHaveLength(beat.rate);
  expectTone(beat, 2000);

  await bar.getByRole('radio', { name: 'Frequency division' }).check({ force: true });
  await bar.getByRole('spinbutton', { name: /Divided by/ }).fill('15');
  await bar.getByRole('spinbutton', { name: /Divided by/ }).press('Tab');
  const divided = await saved();
  expect(divided.name).toBe('tone-45-divided-by-15.wav');
  expectTone(divided, 3000);
  expect(notebook.complaints).toEqual([]);
});

test('dragging the tuning line while it plays changes what is heard', async ({ page }) => {
  const { notebook, bar, play } = await opened(page, '/', toneFile(45, 2));
  await bar.getByRole('checkbox', { name: 'Loop' }).check({ force: true });
  await chooseHeterodyne(bar, 43);
  await play.click();
  const before = await waitForPieces(page, 6);
  const rate = before[0]?.rate ?? 0;
  expect(pitch(joined(before.slice(1, 6)), rate)).toBeCloseTo(2000, -1);
  const line = page.getByRole('slider', { name: 'Tuning' });
  await line.scrollIntoViewIfNeeded();
  await notebook.picture.focus();
  await page.keyboard.press('Digit0');
  await notebook.idle();
  const view = notebook.view();
  const [box, stage] = [await line.boundingBox(), await notebook.picture.boundingBox()];
  if (!box || !stage) {
    throw new Error('the tuning line is not in sight');
  }
  const y = box.y + box.height / 2;
  await page.mouse.move(stage.x + 100, y);
  await page.mouse.down();
  // To about 42 kHz.
  await page.mouse.move(stage.x + 100, y + stage.height / (view.f[1] - view.f[0]), { steps: 3 });
  await page.mouse.up();
  const khz = Number(await line.getAttribute('aria-valuenow'));
  expect(khz).toBeLessThan(42.9);
  // The view stayed: the line was moved and not the picture.
  expect(notebook.view()).toEqual(view);
  const turned = (await heardBy(page)).length;
  const after = (await waitForPieces(page, turned + 7)).slice(turned + 2, turned + 7);
  // Not across the joint of a loop, where it is silent.
  const loud = after.find((piece) => loudest(piece.samples) > 0.1);
  expect(pitch(loud?.samples ?? [], rate)).toBeCloseTo((45 - khz) * 1000, -2);
});

test('it starts quietly, and says so', async ({ page }) => {
  const { bar, play } = await opened(page, '/', toneFile(45, 1));
  const volume = bar.getByRole('slider', { name: 'Volume' });
  await expect(volume).toHaveValue('15');
  await expect(volume).toHaveAccessibleDescription(/Start quietly/);
  await play.click();
  await waitForPieces(page, 3);
  const level = await page.evaluate(() => (window as unknown as { levels: GainNode[] }).levels[0]?.gain.value);
  expect(level).toBeCloseTo(0.15 ** 2, 3);
  // Loud once, quiet again on the next visit.
  await volume.fill('80');
  await page.reload();
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(toneFile(45, 1));
  await expect(volume).toHaveValue('15');
});

test('way, factor and tuning are remembered', async ({ page }) => {
  const { bar } = await opened(page, '/', toneFile(45, 1));
  const factor = bar.getByRole('spinbutton', { name: /Slower by/ });
  await factor.fill('16');
  await factor.press('Tab');
  await chooseHeterodyne(bar, 51.5);
  await page.reload();
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(toneFile(45, 1));
  await expect(bar.getByRole('radio', { name: 'Heterodyne' })).toBeChecked();
  await expect(bar.getByRole('spinbutton', { name: 'Tuned to, kHz' })).toHaveValue('51.5');
  await bar.getByRole('radio', { name: 'Time expansion' }).check({ force: true });
  await expect(factor).toHaveValue('16');
});

test('the keyboard alone is enough', async ({ page }) => {
  const { notebook, bar, play, stop } = await opened(page, '/', sample(FIRST_PASS));
  const { keyboard } = page;
  await notebook.picture.focus();
  await keyboard.press('KeyL');
  await expect(bar.getByRole('checkbox', { name: 'Loop' })).toBeChecked();
  await keyboard.press('Semicolon');
  await expect(bar.getByRole('radio', { name: 'Heterodyne' })).toBeChecked();
  await expect(page.getByRole('slider', { name: 'Tuning' })).toHaveAttribute('aria-valuetext', '44.5 kHz');
  await keyboard.press('Quote');
  await keyboard.press('Quote');
  await expect(page.getByRole('slider', { name: 'Tuning' })).toHaveAttribute('aria-valuetext', '45.5 kHz');
  await keyboard.press('Space');
  await expect(stop).toBeVisible();
  // On a busy computer the sound may have broken off by now, which is said instead.
  await expect(bar.getByRole('status')).toHaveText(/^(Playing: heterodyne|The sound broke off)/);
  await waitForPieces(page, 4);
  await keyboard.press('Space');
  await expect(play).toBeVisible();
  await page.getByRole('slider', { name: 'Tuning' }).focus();
  await keyboard.press('ArrowUp');
  await expect(page.getByRole('slider', { name: 'Tuning' })).toHaveAttribute('aria-valuetext', '46.0 kHz');
});

test('a pulse, a band, or nothing is played as is said', async ({ page }) => {
  const { notebook, bar, play } = await opened(page, '/', sample(FIRST_PASS));
  const plays = bar.getByLabel('Plays');
  await plays.selectOption({ label: 'The selected pulse' });
  await play.click();
  await expect(bar.locator('.problem')).toContainText('Choose a pulse first');
  await notebook.rows.nth(2).click();
  await notebook.idle();
  await play.click();
  // It ends by itself.
  await expect(bar.getByRole('status')).toHaveText('The end');
  const pieces = await heardBy(page);
  const cells = await notebook.rows.nth(2).locator('td').allInnerTexts();
  const [start = 0, end = 0] = cells.map(Number.parseFloat);
  const seconds = joined(pieces).length / (pieces[0]?.rate ?? 1);
  // 10 ms on either side, ten times slower; the table rounds to a tenth of a millisecond.
  expect(Math.abs(seconds - 10 * (end - start + 0.02))).toBeLessThan(0.01);
});

test('another recording ends what is heard of the one before', async ({ page }) => {
  const { notebook, bar, play, stop } = await opened(page, '/', toneFile(45, 2), toneFile(50, 1));
  await play.click();
  await expect(stop).toBeVisible();
  await notebook.list.getByRole('button').nth(1).click();
  await notebook.idle();
  await expect(play).toBeVisible();
  await expect(bar.getByRole('status')).toHaveText('Stopped');
});

// Every theme is walked in states.spec.ts.
for (const [theme, width] of [['paper', 390], ['night', 1280]] as const) {
  test(`listening has no barrier that a machine can find: ${theme}, ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height: 900 });
    const { notebook, bar, play, stop } = await opened(page, `/#theme=${theme}`, sample(FIRST_PASS));
    await chooseHeterodyne(bar, 45);
    await notebook.rows.nth(1).click();
    await bar.getByRole('checkbox', { name: 'Loop' }).check({ force: true });
    await play.click();
    await waitForPieces(page, 3);
    await page.screenshot({ path: `results/looks/hear-${theme}-${width}.png`, fullPage: true });
    await stop.click();
    await expectNoBarriers(page);
    await expectNoSidewaysScroll(page);
  });
}
