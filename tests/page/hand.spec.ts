import { execFileSync } from 'node:child_process';
import { dirname } from 'node:path';

import { expect, test, type Locator, type Page } from '@playwright/test';

import { readHand } from '../../www/src/keep/hand.ts';
import { expectNoBarriers, expectNoSidewaysScroll } from './barriers.ts';
import { COMMAND_LINE } from './build-command-line.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, pathOf, sample } from './recordings.ts';
import { linesOf, savedTable } from './tables.ts';

/** A hand measurement of a band around a pulse may differ from the automatic numbers by so much. */
const TIME_S = 0.0001;
const FREQUENCY_KHZ = 0.05;
const LEVEL_DB = 0.1;
/** Room that the mouse leaves around a pulse, CSS pixels. */
const ROOM = 14;

/** What the command line says of the pulses of a file: the columns by their names. */
function automatic(file: string): Record<string, string>[] {
  const text = execFileSync(COMMAND_LINE, ['measure', '--csv', file], { cwd: dirname(pathOf(file)) }).toString('utf8');
  return parsed(text);
}

function parsed(text: string): Record<string, string>[] {
  const [header, ...rows] = text.trim().split('\n').map((line) => line.split(','));
  return rows.map((row) => Object.fromEntries((header ?? []).map((name, index) => [name, row[index] ?? ''])));
}

class Hand {
  readonly notebook: Notebook;
  readonly page: Page;
  readonly leaf: Locator;

  private constructor(notebook: Notebook) {
    this.notebook = notebook;
    this.page = notebook.page;
    this.leaf = this.page.locator('hand-leaf');
  }

  static async open(page: Page, fragment = ''): Promise<Hand> {
    const notebook = await Notebook.open(page, '/', fragment);
    await notebook.choose(sample(FIRST_PASS));
    return new Hand(notebook);
  }

  /** Chooses a pulse with the keys, and comes close to it. */
  async goTo(number: number): Promise<void> {
    await this.notebook.picture.focus();
    await this.page.keyboard.press('Escape');
    await this.page.keyboard.press('Digit0');
    for (let n = 0; n < number; n += 1) {
      // oxlint-disable-next-line eslint/no-await-in-loop -- keys follow each other
      await this.page.keyboard.press('Period');
    }
    await this.notebook.idle();
  }

  /** Where a time and a frequency lie on the page. */
  async at(s: number, khz: number): Promise<{ x: number; y: number }> {
    const box = await this.notebook.picture.boundingBox();
    const { t, f } = this.notebook.view();
    if (!box) {
      throw new Error('there is no picture');
    }
    return {
      x: box.x + ((s - t[0]) / (t[1] - t[0])) * box.width,
      y: box.y + ((f[1] - khz) / (f[1] - f[0])) * box.height,
    };
  }

  /** Two opposite corners of a band with room around a pulse. */
  async corners(pulse: Record<string, string>): Promise<[{ x: number; y: number }, { x: number; y: number }]> {
    const from = await this.at(Number(pulse['start_s']), Number(pulse['high_khz']));
    const to = await this.at(Number(pulse['end_s']), Number(pulse['low_khz']));
    return [
      { x: from.x - ROOM, y: from.y - ROOM },
      { x: to.x + ROOM, y: to.y + ROOM },
    ];
  }

  async drag(pulse: Record<string, string>): Promise<void> {
    const [from, to] = await this.corners(pulse);
    await this.page.mouse.move(from.x, from.y);
    await this.page.mouse.down();
    await this.page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2);
    await this.page.mouse.move(to.x, to.y);
    await this.page.mouse.up();
    await this.notebook.idle();
  }

  /** A row of the comparison: automatic and by hand. */
  async compared(part: string, quantity: string): Promise<[number, number]> {
    const row = this.leaf.locator(`${part} table.compared tbody tr`).filter({ has: this.page.getByRole('rowheader', { name: quantity, exact: true }) });
    const cells = await row.locator('td').allInnerTexts();
    const [one, other] = cells.map((text) => Number.parseFloat(text.replace('−', '-')));
    return [one ?? Number.NaN, other ?? Number.NaN];
  }

  async saved(): Promise<string> {
    await this.page.getByRole('tab', { name: 'Table' }).click();
    return linesOf(await savedTable(this.page)).join('\n');
  }
}

function pulseOf(number: number): Record<string, string> {
  const pulse = automatic(FIRST_PASS)[number - 1];
  if (!pulse) {
    throw new Error(`there is no pulse ${number}`);
  }
  return pulse;
}

test('a band that is dragged around a pulse gives the numbers of the pulse', async ({ page }) => {
  const hand = await Hand.open(page);
  await hand.goTo(5);
  const pulse = pulseOf(5);
  await page.getByRole('button', { name: 'Mark a band' }).first().click();
  await hand.drag(pulse);
  await expect(hand.leaf.locator('band-part table.compared')).toBeVisible();
  await expect(hand.leaf.locator('band-part thead')).toContainText('Automatic: pulse 5');
  const near = async (quantity: string, column: string, tolerance: number): Promise<void> => {
    const [own, byHand] = await hand.compared('band-part', quantity);
    expect(Math.abs(byHand - own), quantity).toBeLessThanOrEqual(tolerance);
    expect(Math.abs(byHand - Number(pulse[column])), `${quantity} of the command line`).toBeLessThanOrEqual(tolerance * 1.5);
  };
  await near('Start, s', 'start_s', TIME_S);
  await near('End, s', 'end_s', TIME_S);
  await near('Peak, kHz', 'peak_khz', FREQUENCY_KHZ);
  await near('High, kHz', 'high_khz', FREQUENCY_KHZ);
  await near('Low, kHz', 'low_khz', FREQUENCY_KHZ);
  await near('Level, dB', 'level_db', LEVEL_DB);
  expect(hand.notebook.complaints).toEqual([]);
});

test('a band over nothing says so, and a band that is none is refused in a sentence', async ({ page }) => {
  const hand = await Hand.open(page, '#leaf=hand');
  const type = async (...values: string[]): Promise<void> => {
    for (const [index, label] of ['From, s', 'To, s', 'From, kHz', 'To, kHz'].entries()) {
      // oxlint-disable-next-line eslint/no-await-in-loop -- fields are filled one by one
      await hand.leaf.getByLabel(label, { exact: true }).fill(values[index] ?? '');
    }
    await hand.leaf.getByRole('button', { name: 'Mark these' }).click();
    await hand.notebook.idle();
  };
  await type('0.08', '0.085', '100', '110');
  await expect(hand.leaf).toContainText('Nothing in the band stands out of the noise');
  await type('0.2', '0.1', '100', '110');
  await expect(hand.leaf.getByRole('alert')).toContainText('must end after it begins');
  await type('900', '901', '20', '60');
  await expect(hand.leaf.getByRole('alert')).toContainText('lie in the recording');
});

test('a nudged start stands beside the automatic one, is kept, and can be undone', async ({ page }) => {
  const hand = await Hand.open(page);
  await hand.goTo(3);
  const pulse = pulseOf(3);
  await page.keyboard.press('BracketRight');
  await hand.notebook.idle();
  await page.keyboard.press('BracketRight');
  await hand.notebook.idle();
  const row = hand.notebook.rows.nth(2);
  await expect(row).toContainText('by hand');
  await page.getByRole('tab', { name: 'By hand' }).click();
  // Two steps of 0.1 ms.
  const [own, byHand] = await hand.compared('pulse-part', 'Duration, ms');
  expect(own - byHand).toBeCloseTo(0.2, 1);
  const [start, later] = await hand.compared('pulse-part', 'Start, s');
  expect(later - start).toBeCloseTo(0.0002, 4);
  await expect(hand.leaf).toContainText('The start is set by hand.');

  await page.keyboard.press('Control+z');
  await hand.notebook.idle();
  expect((await hand.compared('pulse-part', 'Duration, ms'))[1]).toBeCloseTo(Number(pulse['duration_ms']) - 0.1, 1);
  await page.keyboard.press('Control+Shift+z');
  await hand.notebook.idle();
  expect((await hand.compared('pulse-part', 'Duration, ms'))[1]).toBeCloseTo(Number(pulse['duration_ms']) - 0.2, 1);

  await page.reload();
  await hand.notebook.choose(sample(FIRST_PASS));
  await page.getByRole('tab', { name: 'Table' }).click();
  await expect(row).toContainText('by hand');
  const rows = parsed(await hand.saved());
  expect(rows.filter(({ source }) => source === 'automatic').map(({ start_s }) => start_s)).toEqual(
    automatic(FIRST_PASS).map(({ start_s }) => start_s),
  );
  const [corrected, ...more] = rows.filter(({ source }) => source === 'hand');
  expect(more).toEqual([]);
  expect(corrected).toMatchObject({ pulse: 'H1', hand: 'corrected', of: '3', notes: 'start_given', start_u95_ms: '' });
  expect(Number(corrected?.['start_s'])).toBeCloseTo(Number(pulse['start_s']) + 0.0002, 5);
});

test('handles on the picture move an edge and the contour, by mouse and by keyboard', async ({ page }) => {
  const hand = await Hand.open(page, '#leaf=hand');
  await hand.goTo(4);
  const pulse = pulseOf(4);
  const end = page.getByRole('slider', { name: 'End of pulse 4' });
  const box = await end.boundingBox();
  expect(box?.width).toBeGreaterThanOrEqual(24);
  const at = { x: (box?.x ?? 0) + 10, y: (box?.y ?? 0) + 10 };
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  const goal = await hand.at(Number(pulse['end_s']) + 0.001, 0);
  await page.mouse.move(at.x + 3, at.y);
  await page.mouse.move(goal.x, at.y);
  await page.mouse.up();
  await hand.notebook.idle();
  const pixel_s = await hand.at(0, 0).then(async (zero) => 1 / ((await hand.at(1, 0)).x - zero.x));
  const [, moved] = await hand.compared('pulse-part', 'End, s');
  expect(Math.abs(moved - Number(pulse['end_s']) - 0.001)).toBeLessThan(2 * pixel_s + 0.0001);

  await end.focus();
  await page.keyboard.press('ArrowLeft');
  await hand.notebook.idle();
  expect((await hand.compared('pulse-part', 'End, s'))[1]).toBeCloseTo(moved - 0.0001, 4);
  // The first point of the contour is the start: what is led there is the start and the high frequency.
  const first = page.getByRole('slider', { name: 'Point 1 of the contour of pulse 4' });
  await first.focus();
  await page.keyboard.press('ArrowUp');
  await hand.notebook.idle();
  const [own, byHand] = await hand.compared('pulse-part', 'Start, kHz');
  expect(byHand - own).toBeCloseTo(0.2, 1);
  await expect(first).toHaveAttribute('aria-valuetext', /by hand/);
  await hand.leaf.getByRole('button', { name: 'Back to the automatic numbers' }).click();
  await expect(hand.leaf.locator('pulse-part table.compared')).toHaveCount(0);
  expect(hand.notebook.complaints).toEqual([]);
});

test('a missed pulse is added with the keyboard alone', async ({ page }) => {
  const hand = await Hand.open(page);
  await hand.goTo(6);
  const { keyboard } = page;
  await keyboard.press('Escape');
  await keyboard.press('KeyB');
  const band = page.getByRole('application', { name: /^Band/ });
  await expect(band).toBeFocused();
  // The band begins in the middle of the view, which is where the pulse is; then it grows over all of it.
  await keyboard.press('ArrowRight');
  for (const [key, times] of [['ArrowDown', 14], ['Shift+ArrowUp', 34], ['ArrowLeft', 2], ['Shift+ArrowRight', 6]] as const) {
    for (let n = 0; n < times; n += 1) {
      // oxlint-disable-next-line eslint/no-await-in-loop -- keys follow each other
      await keyboard.press(key);
    }
  }
  await keyboard.press('Enter');
  await hand.notebook.idle();
  await expect(hand.leaf.locator('band-part table.compared')).toBeVisible();
  await keyboard.press('KeyA');
  await hand.notebook.idle();
  await expect(hand.leaf.locator('entry-list')).toContainText('Added pulse');
  await expect(hand.leaf.locator('entry-list')).toContainText('H1');
  await keyboard.press('Escape');
  await expect(band).toHaveCount(0);
  await expect(hand.notebook.picture).toBeFocused();
  await keyboard.press('Control+z');
  await hand.notebook.idle();
  await expect(hand.leaf.locator('entry-list')).toContainText('Nothing yet');
});

test('a wrong pulse is set aside with a reason, and comes back', async ({ page }) => {
  const hand = await Hand.open(page);
  await hand.goTo(2);
  await page.keyboard.press('KeyX');
  const dialog = page.getByRole('dialog', { name: 'Set pulse 2 aside' });
  await dialog.getByRole('radio', { name: 'Noise, no bat' }).check({ force: true });
  await dialog.getByRole('button', { name: 'Set aside' }).click();
  await hand.notebook.idle();
  const row = hand.notebook.rows.nth(1);
  await expect(row).toContainText('set aside');
  const rows = await hand.saved();
  // A comma within the reason is quoted.
  expect(rows.split('\n')[2]).toContain(',automatic,,,"Noise, no bat",');
  await page.getByRole('tab', { name: 'By hand' }).click();
  await hand.leaf.getByRole('button', { name: 'Bring back' }).click();
  await hand.notebook.idle();
  expect(parsed(await hand.saved())).toEqual(automatic(FIRST_PASS));
});

test('the interval between two pulses is that of the table, and the gap is shorter by a pulse', async ({ page }) => {
  const hand = await Hand.open(page, '#leaf=hand');
  await hand.goTo(7);
  await hand.leaf.getByRole('button', { name: 'Measure the interval' }).click();
  await hand.notebook.idle();
  const [before, after] = [pulseOf(7), pulseOf(8)];
  const text = await hand.leaf.locator('entry-list table').innerText();
  const [interval, gap] = [/start to start\s+([\d.]+)/, /end to start\s+([\d.]+)/].map((form) => Number(form.exec(text)?.[1]));
  expect(interval).toBeCloseTo(Number(after['interval_ms']), 1);
  expect((interval ?? 0) - (gap ?? 0)).toBeCloseTo(Number(before['duration_ms']), 1);
  await hand.leaf.getByLabel('to pulse').fill('99');
  await hand.leaf.getByRole('button', { name: 'Measure the interval' }).click();
  await expect(hand.leaf.getByRole('alert')).toContainText('no pulse 99');
});

test.describe('with fingers', () => {
  test.use({ hasTouch: true, viewport: { width: 390, height: 844 } });

  test('a finger marks a band', async ({ page }) => {
    const hand = await Hand.open(page);
    await hand.goTo(5);
    await page.getByRole('button', { name: 'Mark a band' }).first().tap();
    // On a small screen the tools take much of it.
    await hand.notebook.picture.evaluate((picture) => picture.scrollIntoView({ block: 'center' }));
    const [from, to] = await hand.corners(pulseOf(5));
    const session = await page.context().newCDPSession(page);
    const touch = async (type: 'touchStart' | 'touchMove' | 'touchEnd', point?: { x: number; y: number }): Promise<void> => {
      await session.send('Input.dispatchTouchEvent', { type, touchPoints: point ? [point] : [] });
    };
    await touch('touchStart', from);
    await touch('touchMove', { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 });
    await touch('touchMove', to);
    await touch('touchEnd');
    await hand.notebook.idle();
    const [own, byHand] = await hand.compared('band-part', 'Peak, kHz');
    expect(Math.abs(own - byHand)).toBeLessThanOrEqual(FREQUENCY_KHZ);
  });
});

// Every theme is walked in states.spec.ts.
for (const [theme, width] of [['paper', 390], ['night', 1280]] as const) {
  test(`no barrier that a machine can find by hand: ${theme}, ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height: 900 });
    const hand = await Hand.open(page, `#theme=${theme}&leaf=hand`);
    await hand.goTo(5);
    await page.keyboard.press('BracketLeft');
    await page.keyboard.press('KeyB');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Enter');
    await hand.notebook.idle();
    await expectNoBarriers(page);
    await page.keyboard.press('Escape');
    await page.keyboard.press('KeyX');
    await hand.notebook.idle();
    await expectNoBarriers(page);
    await expectNoSidewaysScroll(page);
  });
}

test('what is no hand entry is refused in a sentence', () => {
  const begun = { id: 'a', when: '2026-06-14T22:41:05+01:00', who: '' };
  const of = { name: '1', channel: 0, start_s: 0.1, end_s: 0.2, expansion: 1 };
  expect(readHand({ ...begun, kind: 'aside', of, reason: 'echo', later: 1 }, 'entry 1')).toEqual({ ...begun, kind: 'aside', of, reason: 'echo' });
  const bad: [unknown, RegExp][] = [
    [null, /no set of fields/],
    [{ ...begun, kind: 'guessed' }, /none of "corrected"/],
    [{ ...begun, kind: 'aside', of: { ...of, start_s: -1 }, reason: '' }, /start_s .* no number/],
    [{ ...begun, kind: 'added', channel: 0, expansion: 1, measurement: { band: {}, notes: [] } }, /start_s of entry 1/],
    [{ ...begun, kind: 'corrected', of, start_s: Number.NaN, end_s: null, points: [], measurement: {} }, /no number/],
  ];
  for (const [value, words] of bad) {
    expect(() => readHand(value, 'entry 1')).toThrow(words);
  }
});
