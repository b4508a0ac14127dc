import { readFileSync } from 'node:fs';

import { expect, test, type Browser, type Page } from '@playwright/test';

import { barriers, expectNoBarriers, expectNoSidewaysScroll } from './barriers.ts';
import { labelByKeys } from './labelling.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, named, sample, samplesOf, wav } from './recordings.ts';
import { shapes } from './shapes.ts';

const dialogue = (page: Page) => page.getByRole('dialog', { name: 'Share a call' });
const linkField = (page: Page) => dialogue(page).getByRole('textbox', { name: 'The link', exact: true });
const panel = (page: Page) => page.locator('call-panel');

/** Opens the dialogue for a pulse of the first sample. */
async function opened(page: Page, address = '/', fragment = '', file = sample(FIRST_PASS)): Promise<Notebook> {
  const notebook = await Notebook.open(page, address, fragment);
  await notebook.choose(file);
  await notebook.rows.nth(3).click();
  await notebook.picture.focus();
  await page.keyboard.press('e');
  await notebook.idle();
  return notebook;
}

async function linkOf(page: Page): Promise<string> {
  await expect(linkField(page)).not.toHaveValue('');
  return linkField(page).inputValue();
}

/** The page in a profile of its own, as somebody else opens a link. */
async function elsewhere(browser: Browser, link: string, fragment = ''): Promise<Notebook> {
  const context = await browser.newContext();
  return Notebook.open(await context.newPage(), link, fragment);
}

/** Frequency of most energy and duration of a row. */
async function measured(notebook: Notebook, row: number): Promise<{ peak: number; duration: number }> {
  const cells = await notebook.rows.nth(row).locator('td').allInnerTexts();
  const [, , duration = Number.NaN, , peak = Number.NaN] = cells.map(Number.parseFloat);
  return { peak, duration };
}

/** The text of a link with another checksum's worth of bytes, as somebody hostile makes it: CRC-32 by its definition (ISO 3309). */
function forged(body: Buffer): string {
  let crc = ~0;
  for (const byte of body) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) {
      crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
    }
  }
  const check = Buffer.alloc(4);
  check.writeInt32LE(~crc);
  return Buffer.concat([body, check]).toString('base64url');
}

test('a call travels in a link: measured again it is the same', async ({ page, browser }) => {
  const notebook = await opened(page);
  const sent = await measured(notebook, 3);
  const link = await linkOf(page);
  expect(link.length).toBeLessThan(2000);
  await expect(dialogue(page)).toContainText(/peak frequency within 0\.0\d kHz of yours, duration within 0\.0\d ms/);
  await expect(dialogue(page)).toContainText(`${link.length} characters.`);
  const other = await elsewhere(browser, link);
  await expect(other.rows).toHaveCount(1);
  const found = await measured(other, 0);
  expect(Math.abs(found.peak - sent.peak)).toBeLessThanOrEqual(0.1);
  expect(Math.abs(found.duration - sent.duration)).toBeLessThanOrEqual(0.1);
  await expect(other.state).toContainText('larkwater-fen-01-first-pass (call).wav');
  await expect(panel(other.page).getByRole('row').nth(2)).toContainText(`4\t${sent.peak.toFixed(1)}\t${sent.peak.toFixed(1)}`, { useInnerText: true });
  // What the sender looked at is what the receiver sees: the pulse from close by.
  const { t } = other.view();
  expect(t[1] - t[0]).toBeLessThan(0.12);
  expect(await other.colours()).toBeGreaterThan(50);
  // And it can be heard.
  await expect(other.page.getByRole('button', { name: 'Play' })).toBeEnabled();
  expect([...notebook.complaints, ...other.complaints]).toEqual([]);
});

test('a link stays in the address, through a reload and back', async ({ page, browser }) => {
  await opened(page);
  const other = await elsewhere(browser, await linkOf(page), '&theme=hut');
  await expect(other.page.locator('html')).toHaveAttribute('data-theme', 'hut');
  await other.page.reload();
  await other.idle();
  await expect(panel(other.page)).toContainText('This call came in a link');
  await other.page.getByRole('button', { name: 'Open others' }).click();
  await other.choose(sample(FIRST_PASS));
  await expect(panel(other.page)).toBeHidden();
  await other.page.goBack();
  await other.idle();
  await expect(panel(other.page)).toBeVisible();
});

test('a link that is opened in a page at work joins its recordings', async ({ page, context }) => {
  const notebook = await opened(page);
  const link = await linkOf(page);
  const other = await Notebook.open(await context.newPage(), '/');
  await other.choose(sample(FIRST_PASS));
  await other.page.evaluate((fragment) => {
    location.hash = fragment;
  }, new URL(link).hash);
  await expect(panel(other.page)).toContainText('This call came in a link');
  await expect(other.list.getByRole('button')).toHaveCount(2);
  expect([...notebook.complaints, ...other.complaints]).toEqual([]);
});

test('only what is ticked travels, and the place is not ticked', async ({ page, browser }) => {
  const { samples, rate } = samplesOf(FIRST_PASS);
  const metadata = 'GUANO|Version: 1.0\nTimestamp: 2026-06-14T22:41:05\nLoc Position: 52.61234 -1.51234\nModel: Sedge\n';
  await opened(page, '/', '', named('roost.wav', wav(samples, { rate, metadata })));
  const place = dialogue(page).getByRole('checkbox', { name: 'where the recorder stood' });
  await expect(place).not.toBeChecked();
  await expect(dialogue(page)).toContainText('A roost that is found can be harmed');
  await expect(dialogue(page)).toContainText('no server gets it');
  const bare = await elsewhere(browser, await linkOf(page));
  await expect(bare.page.locator('facts-panel')).toContainText('22:41:05');
  await expect(bare.page.getByRole('button', { name: 'Show position' })).toBeHidden();
  await expect(bare.page.locator('facts-panel')).not.toContainText('Sedge');

  await place.check();
  await dialogue(page).getByRole('checkbox', { name: 'your numbers' }).uncheck();
  await dialogue(page).getByRole('checkbox', { name: 'when the recording began' }).uncheck();
  await dialogue(page).getByRole('checkbox', { name: 'the file’s name' }).uncheck();
  await dialogue(page).getByLabel('A few words to the receiver').fill('<img src=x onerror=alert(1)> What is it?');
  await page.keyboard.press('Tab');
  await expect(dialogue(page)).toContainText('your words: “<img src=x onerror=alert(1)> What is it?”');
  const told = await elsewhere(browser, await linkOf(page));
  await expect(panel(told.page)).toContainText('<img src=x onerror=alert(1)> What is it?');
  await expect(panel(told.page)).toContainText('The sender’s numbers are not in it.');
  await told.page.getByRole('button', { name: 'Show position' }).click();
  await expect(told.page.locator('facts-panel')).toContainText('52.61234° N, 1.51234° W');
  await expect(told.state).toContainText('call.wav');
  await expect(told.page.locator('facts-panel')).not.toContainText('22:41:05');
  expect(told.complaints).toEqual([]);
});

test('a label travels and overwrites nothing', async ({ page, context }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await notebook.rows.nth(3).click();
  await labelByKeys(notebook, 'fen <i>bat</i>');
  await notebook.picture.focus();
  await page.keyboard.press('e');
  const link = await linkOf(page);
  // In the same profile, where the sender's labels are kept.
  const other = await Notebook.open(await context.newPage(), link);
  await expect(other.page.locator('carried-labels')).toContainText('fen <i>bat</i>');
  await other.page.getByRole('button', { name: 'Take over' }).click();
  await other.page.getByRole('tab', { name: 'Labels' }).click();
  await other.page.getByRole('button', { name: /^Change the label/ }).click();
  const change = other.page.getByRole('dialog', { name: 'Change the label' });
  await change.getByLabel('What it is').fill('another animal');
  await other.page.keyboard.press('Enter');
  await other.idle();
  await expect(other.page.locator('labels-leaf')).toContainText('another animal');
  // Opened again, the link offers nothing over what the receiver made of it.
  await other.page.reload();
  await other.idle();
  await other.page.getByRole('tab', { name: 'Labels' }).click();
  await expect(other.page.locator('labels-leaf')).toContainText('another animal');
  await expect(other.page.locator('carried-labels')).not.toContainText('Take over');
});

test('a sequence travels with its intervals', async ({ page, browser }) => {
  const notebook = await opened(page);
  await dialogue(page).getByRole('radio', { name: /^Its whole sequence: \d+/ }).check();
  await notebook.idle();
  const link = await linkOf(page);
  expect(link.length).toBeLessThan(16_000);
  const count = await notebook.rows.count();
  const other = await elsewhere(browser, link);
  await expect(other.rows).toHaveCount(count);
});

test('it is copied, or the person is told how', async ({ page }) => {
  await page.addInitScript(() => {
    Object.defineProperty(navigator, 'clipboard', {
      value: {
        writeText: (text: string) => {
          if (text.includes('refuse')) {
            return Promise.reject(new DOMException('no', 'NotAllowedError'));
          }
          Reflect.set(globalThis, 'copied', text);
          return Promise.resolve();
        },
      },
    });
  });
  const notebook = await opened(page);
  const link = await linkOf(page);
  await dialogue(page).getByRole('button', { name: 'Copy the link' }).click();
  await notebook.idle();
  await expect(dialogue(page).getByRole('status')).toContainText('in the clipboard');
  expect(await page.evaluate(() => Reflect.get(globalThis, 'copied') as string)).toBe(link);
});

const damaged: readonly (readonly [string, (text: string) => string, RegExp])[] = [
  ['cut off', (text) => text.slice(0, -20), /damaged.*Copy the whole link/],
  ['altered', (text) => `${text.slice(0, 300)}${text[300] === 'A' ? 'B' : 'A'}${text.slice(301)}`, /damaged/],
  ['too long', () => 'A'.repeat(500_000), /500000 characters/],
  ['of a later form', () => forged(Buffer.from([9, 0, 0])), /later version/],
  ['a claim of hours', (text) => forged(hours(text)), /it states/],
];

/** A whole message whose sound claims four thousand million samples: the number that follows the sampling rate. */
function hours(text: string): Buffer {
  const body = Buffer.from(text, 'base64url').subarray(0, -4);
  const rate = Buffer.alloc(8);
  rate.writeDoubleLE(256_000);
  const at = body.indexOf(rate) + rate.length;
  let end = at;
  while ((body[end] ?? 0) > 127) {
    end += 1;
  }
  return Buffer.concat([body.subarray(0, at), Buffer.from([0xff, 0xff, 0xff, 0xff, 0x0f]), body.subarray(end + 1)]);
}

test('what is no call is refused in a sentence', async ({ page, browser }) => {
  await opened(page);
  const text = new URL(await linkOf(page)).hash.replace('#call=', '');
  const other = await elsewhere(browser, '/');
  for (const [name, harm, expected] of damaged) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- a person tries one after the other
    await test.step(name, async () => {
      await other.page.getByLabel('Open a call link').fill(harm(text));
      await other.page.getByRole('button', { name: 'Open', exact: true }).click();
      await other.idle();
      await expect(other.page.getByRole('alert')).toContainText(expected);
    });
  }
  // The page is as good as before.
  await other.page.getByLabel('Open a call link').fill(`look: https://elsewhere.example/#call=${text}`);
  await other.page.getByRole('button', { name: 'Open', exact: true }).click();
  await expect(panel(other.page)).toBeVisible();
  await expect(other.page.getByRole('alert')).toBeHidden();
  expect(other.complaints).toEqual([]);
});

test('a page from a memory stick makes links for another page, and reads them', async ({ page }) => {
  const [, { address }] = shapes;
  const notebook = await opened(page, address);
  const bare = await linkOf(page);
  expect(bare).toMatch(/^call=/);
  await dialogue(page).getByLabel('Address of a Dusklens page').fill('https://fen.example/dusk/#old');
  await page.keyboard.press('Tab');
  await notebook.idle();
  expect(await linkOf(page)).toMatch(/^https:\/\/fen\.example\/dusk\/#call=/);
  await dialogue(page).getByLabel('Address of a Dusklens page').fill('javascript:alert(1)');
  await page.keyboard.press('Tab');
  await notebook.idle();
  expect(await linkOf(page)).toMatch(/^call=/);
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Open others' }).click();
  await page.getByLabel('Open a call link').fill(bare);
  await page.keyboard.press('Enter');
  await expect(panel(page)).toContainText('This call came in a link');
  expect(notebook.requests.filter((url) => !/^(file|data|blob):/.test(url))).toEqual([]);
  expect(notebook.complaints).toEqual([]);
});

test('the same call makes the same link', async ({ page, browser }) => {
  await opened(page);
  const first = await linkOf(page);
  const other = await elsewhere(browser, '/');
  await other.choose(sample(FIRST_PASS));
  await other.rows.nth(3).click();
  await other.picture.focus();
  await other.page.keyboard.press('e');
  expect(await linkOf(other.page)).toBe(first);
});

test('the link is shown as a QR code', async ({ page }) => {
  const notebook = await opened(page);
  await linkOf(page);
  await dialogue(page).getByRole('button', { name: 'Show as QR code' }).click();
  await notebook.idle();
  const code = dialogue(page).getByRole('img', { name: 'QR code of the link' });
  // As many modules as its version has, with four around them (ISO/IEC 18004); what it says is read back where it is made.
  const width = await code.evaluate((image: HTMLImageElement) => image.naturalWidth);
  expect(width).toBeGreaterThan(80);
  // Of a changed link it would be a lie.
  await dialogue(page).getByRole('checkbox', { name: 'the file’s name' }).uncheck();
  await expect(code).toBeHidden();
  expect(notebook.complaints).toEqual([]);
});

test('a call sheet holds all in one file, and no more than was ticked', async ({ page, browser }) => {
  const { samples, rate } = samplesOf(FIRST_PASS);
  const metadata = 'GUANO|Version: 1.0\nTimestamp: 2026-06-14T22:41:05\nLoc Position: 52.61234 -1.51234\nModel: Sedge\n';
  const notebook = await opened(page, '/', '', named('hollow-oak.wav', wav(samples, { rate, metadata })));
  const { peak, duration } = await measured(notebook, 3);
  await dialogue(page).getByLabel('A few words to the receiver').fill('<script>alert(1)</script>');
  await page.keyboard.press('Tab');
  const link = await linkOf(page);
  const saved = async (): Promise<string> => {
    const coming = page.waitForEvent('download');
    await dialogue(page).getByRole('button', { name: 'Save a call sheet' }).click();
    return (await coming).path();
  };
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const reader = await context.newPage();
  const requests: string[] = [];
  const complaints: string[] = [];
  reader.on('request', (request) => requests.push(request.url()));
  reader.on('console', (message) => complaints.push(message.text()));
  await reader.setContent(readFileSync(await saved(), 'utf8'));
  await expect(reader.getByRole('row').nth(1)).toContainText(`${duration.toFixed(2)}`);
  await expect(reader.getByRole('row').nth(1)).toContainText(`${peak.toFixed(1)}`);
  await expect(reader.getByRole('link', { name: 'Open this call' })).toHaveAttribute('href', link);
  await expect(reader.locator('body')).toContainText('<script>alert(1)</script>');
  await expect(reader.locator('body')).toContainText('no identification');
  // The stretch of the call with a tenth of a second to either side, ten times slower.
  const heard = await reader.locator('audio').evaluate(async (audio: HTMLAudioElement) => {
    audio.load();
    audio.preload = 'metadata';
    await new Promise((resolve) => audio.addEventListener('loadedmetadata', resolve));
    return audio.duration;
  });
  expect(heard).toBeGreaterThan(2);
  expect(heard).toBeLessThan(3);
  expect(await barriers(reader)).toEqual([]);
  await expectNoSidewaysScroll(reader);
  expect(requests.filter((url) => !/^(data|blob|about):/.test(url))).toEqual([]);
  expect(complaints).toEqual([]);

  for (const name of ['the file’s name', 'when the recording began']) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- one tick after the other
    await dialogue(page).getByRole('checkbox', { name }).uncheck();
  }
  await linkOf(page);
  await notebook.idle();
  const bare = readFileSync(await saved(), 'utf8');
  for (const told of ['hollow-oak', '22:41', '52.61234', 'Sedge']) {
    expect(bare).not.toContain(told);
  }
  expect(notebook.complaints).toEqual([]);
});

for (const theme of ['paper', 'hut', 'night']) {
  test(`no barrier that a machine can find in sharing: ${theme}, 390 px`, async ({ page }) => {
    await page.setViewportSize({ width: 390, height: 844 });
    await opened(page, '/', `#theme=${theme}`);
    const link = await linkOf(page);
    await expectNoSidewaysScroll(page);
    await expectNoBarriers(page);
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'Open others' }).click();
    await page.getByLabel('Open a call link').fill(link);
    await page.keyboard.press('Enter');
    await expect(panel(page)).toBeVisible();
    await expectNoSidewaysScroll(page);
    await expectNoBarriers(page);
  });
}
