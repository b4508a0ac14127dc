import { readFileSync, writeFileSync } from 'node:fs';

import { expect, test, type Browser, type Page } from '@playwright/test';

import { Notebook } from '../notebook.ts';
import { samplesOf, wav } from '../recordings.ts';
import { shapes } from '../shapes.ts';

const STEEP_SWEEPS = 'larkwater-fen-04-steep-sweeps.wav';
const SECONDS = 60;

/** One stretch of moving about: so many frames, in each of which a wheel turns by so much. */
interface Turn {
  readonly name: string;
  readonly frames: number;
  readonly deltaX: number;
  readonly deltaY: number;
  readonly shiftKey: boolean;
}

const still = { deltaX: 0, deltaY: 0, shiftKey: false };
const TURNS: readonly Turn[] = [
  { ...still, name: 'closer in time', frames: 120, deltaY: -32 },
  { ...still, name: 'later', frames: 240, deltaX: 24 },
  { ...still, name: 'closer in frequency', frames: 40, deltaY: -24, shiftKey: true },
  { ...still, name: 'earlier', frames: 240, deltaX: -40 },
  { ...still, name: 'farther in frequency', frames: 40, deltaY: 24, shiftKey: true },
  { ...still, name: 'farther in time', frames: 120, deltaY: 32 },
];

/** A sample recording of 500 kHz, again and again until a minute is full. */
function aMinute(): Buffer {
  const { samples, rate } = samplesOf(STEEP_SWEEPS);
  const filled = new Int16Array(SECONDS * rate);
  for (let at = 0; at < filled.length; at += samples.length) {
    filled.set(samples.subarray(0, Math.min(samples.length, filled.length - at)), at);
  }
  return wav(filled, { rate });
}

/** Turns the wheel over the picture frame by frame; returns how long each frame took, ms. */
function turned(page: Page, turn: Turn): Promise<number[]> {
  return page.locator('call-picture .stage').evaluate(async (stage, { frames, deltaX, deltaY, shiftKey }) => {
    const box = stage.getBoundingClientRect();
    const clientX = box.left + box.width * 0.4;
    const clientY = box.top + box.height * 0.6;
    const times: number[] = [];
    let last = await new Promise(requestAnimationFrame);
    for (let n = 0; n < frames; n += 1) {
      const details = { clientX, clientY, deltaX, deltaY, shiftKey, bubbles: true, cancelable: true };
      stage.dispatchEvent(new WheelEvent('wheel', details));
      // oxlint-disable-next-line eslint/no-await-in-loop -- a frame follows a frame
      const now = await new Promise(requestAnimationFrame);
      times.push(now - last);
      last = now;
    }
    return times;
  }, turn);
}

/** Memory of the tab's own process, MB: all that lies in memory, and what no other process shares. */
async function memoryOf(browser: Browser): Promise<{ all: number; own: number }> {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send('SystemInfo.getProcessInfo');
  const sums = { all: 0, own: 0 };
  for (const { id, type } of processInfo) {
    if (type === 'renderer') {
      const text = readFileSync(`/proc/${id}/smaps_rollup`, 'latin1');
      const kilobytes = (name: string) => Number(new RegExp(`^${name}: +(\\d+) kB`, 'm').exec(text)?.[1] ?? 0);
      sums.all = Math.max(sums.all, kilobytes('Rss') / 1000);
      sums.own = Math.max(sums.own, (kilobytes('Private_Dirty') + kilobytes('Private_Clean')) / 1000);
    }
  }
  return sums;
}

function quantile(values: readonly number[], share: number): string {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length * share)]?.toFixed(1) ?? '?';
}

for (const { name, address } of shapes) {
  test(`${name}: moving about in a minute of sound`, async ({ browser }, testInfo) => {
    test.setTimeout(300_000);
    const file = testInfo.outputPath('a-minute.wav');
    writeFileSync(file, aMinute());
    const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
    const notebook = await Notebook.open(page, address, '', { rehearsed: true });
    await page.getByLabel('Choose files').setInputFiles(file);
    await page.waitForFunction(() => document.documentElement.dataset['idle'] === 'true', null, { timeout: 200_000 });
    await page.evaluate(() => {
      const tasks: number[] = [];
      Reflect.set(globalThis, 'longTasks', tasks);
      new PerformanceObserver((list) => tasks.push(...list.getEntries().map(({ duration }) => duration))).observe({
        type: 'longtask',
      });
    });
    const times: number[] = [];
    for (const turn of TURNS) {
      // oxlint-disable-next-line eslint/no-await-in-loop -- one after the other
      const some = await turned(page, turn);
      times.push(...some);
      // oxlint-disable-next-line eslint/no-console -- it is what a bench is for
      console.log(`    ${name}, ${turn.name}: half of the frames within ${quantile(some, 0.5)} ms, 95 % within ${quantile(some, 0.95)} ms`);
    }
    const longest = await page.evaluate(() => Math.max(0, ...(Reflect.get(globalThis, 'longTasks') as number[])));
    await notebook.idle();
    const { all, own } = await memoryOf(browser);
    // oxlint-disable-next-line eslint/no-console -- as above
    console.log(
      `    ${name}, all: 95 % of the frames within ${quantile(times, 0.95)} ms, longest task ${longest.toFixed(0)} ms, memory of the tab ${all.toFixed(0)} MB, its own ${own.toFixed(0)} MB`,
    );
    expect(notebook.complaints).toEqual([]);
    await page.close();
  });
}
