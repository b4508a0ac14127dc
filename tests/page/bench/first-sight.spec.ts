import { writeFileSync } from 'node:fs';

import { expect, test, type Page } from '@playwright/test';

import { Notebook } from '../notebook.ts';
import { samplesOf, wav } from '../recordings.ts';
import { shapes } from '../shapes.ts';

const STEEP_SWEEPS = 'larkwater-fen-04-steep-sweeps.wav';
const SECONDS = 5;
const ROUNDS = 9;

/** Milliseconds from the choice of the file. */
interface Times {
  picture: number;
  pulses: number;
}

/** A sample recording of 500 kHz, again and again until five seconds are full. */
function fiveSeconds(): Buffer {
  const { samples, rate } = samplesOf(STEEP_SWEEPS);
  const filled = Int16Array.from({ length: SECONDS * rate }, (_, n) => samples[n % samples.length] ?? 0);
  return wav(filled, { rate });
}

/** Notes on the window when a file was chosen, from outside, so that the page need not know of it. */
function takeNotes(): void {
  window.addEventListener('input', () => Reflect.set(globalThis, 'chosenAt', performance.now()), true);
}

/** Waits, a frame at a time, for the picture of the whole and for the end of measuring. */
function timesOf(page: Page): Promise<Times> {
  return page.evaluate(async () => {
    Reflect.set(globalThis, 'chosenAt', Infinity);
    // oxlint-disable unicorn/consistent-function-scoping -- only what stands in here comes to the page
    const noted = (name: string) => (Reflect.get(globalThis, name) as number | undefined) ?? 0;
    const within = (root: Element | null | undefined, selector: string) =>
      root?.shadowRoot?.querySelector(selector);
    const view = () => within(within(document.querySelector('dusk-page'), 'call-place'), 'recording-view');
    const drawn = () => {
      const canvas = within(within(view(), 'call-picture'), 'canvas.sound');
      return canvas instanceof HTMLElement && canvas.dataset['sharp'] === 'true';
    };
    const measured = () => {
      const table = within(within(view(), 'pulse-section'), 'pulse-table');
      const rows = table?.shadowRoot?.querySelectorAll('tbody tr[data-index]').length ?? 0;
      return rows > 0 && document.documentElement.dataset['idle'] === 'true';
    };
    // oxlint-enable unicorn/consistent-function-scoping
    const times = { picture: 0, pulses: 0 };
    while (times.picture === 0 || times.pulses === 0) {
      // oxlint-disable-next-line eslint/no-await-in-loop -- a frame follows a frame
      await new Promise(requestAnimationFrame);
      const begun = noted('chosenAt');
      times.picture ||= begun < Infinity && drawn() ? performance.now() - begun : 0;
      times.pulses ||= begun < Infinity && measured() ? performance.now() - begun : 0;
    }
    return times;
  });
}

function median(values: number[]): string {
  return `${values.toSorted((a, b) => a - b)[values.length >> 1]?.toFixed(0) ?? '?'} ms`;
}

/** Opens the page and has the file measured twice: as the first recording of a visit, and as one that follows. */
async function visit(page: Page, address: string, file: string): Promise<[Times, Times]> {
  await page.addInitScript(takeNotes);
  const notebook = await Notebook.open(page, address, '', { rehearsed: true });
  const first = timesOf(page);
  await page.getByLabel('Choose files').setInputFiles(file);
  const firstTimes = await first;
  await page.getByRole('button', { name: 'Open others' }).click();
  await notebook.idle();
  const next = timesOf(page);
  await page.getByLabel('Choose files').setInputFiles(file);
  const nextTimes = await next;
  expect(notebook.complaints).toEqual([]);
  return [firstTimes, nextTimes];
}

for (const { name, address } of shapes) {
  test(`${name}: from a file to its picture and its pulses`, async ({ browser }, testInfo) => {
    // From the disk, as a person's files are: what a script made would come to the workers by another way.
    const file = testInfo.outputPath('five-seconds.wav');
    writeFileSync(file, fiveSeconds());
    const visits: [Times, Times][] = [];
    for (let round = 0; round < ROUNDS; round += 1) {
      /* oxlint-disable eslint/no-await-in-loop -- two pages at once would slow each other down */
      const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
      visits.push(await visit(page, address, file));
      await page.close();
      /* oxlint-enable eslint/no-await-in-loop */
    }
    for (const [which, words] of ['first recording', 'recording after it'].entries()) {
      const times = visits.map((both) => both[which]).filter((one) => one !== undefined);
      const picture = median(times.map((one) => one.picture));
      const pulses = median(times.map((one) => one.pulses));
      // oxlint-disable-next-line eslint/no-console -- it is what a bench is for
      console.log(`    ${name}, ${words}: picture ${picture}, all pulses in the table ${pulses}`);
    }
  });
}
