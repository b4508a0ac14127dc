import { expect, test, type Locator, type Page } from '@playwright/test';

import { barriers, sidewaysScroll } from './barriers.ts';
import { Notebook } from './notebook.ts';
import { BUZZ, sample } from './recordings.ts';

/** All that WCAG 2.2 asks on its levels A and AA and that a machine can look for, and what is good practice. */
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
/** WCAG 2.2, 2.5.8: a target has 24 CSS pixels in both directions. */
const TARGET_PX = 24;
const THEMES = ['paper', 'hut', 'night'];

async function expectNoBarriers(page: Page, state: string): Promise<void> {
  // One walk tells of all that it meets.
  expect.soft(await barriers(page, TAGS), state).toEqual([]);
}

/** Controls that are smaller than a finger needs, through all shadow roots. Words in a text are let off, as WCAG does. */
async function smallTargets(page: Page): Promise<string[]> {
  return page.evaluate((least) => {
    const found: string[] = [];
    const look = (root: Document | ShadowRoot): void => {
      for (const element of root.querySelectorAll<HTMLElement>('*')) {
        if (element.shadowRoot) {
          look(element.shadowRoot);
        }
        if (!element.matches('button, select, input, summary, textarea, [role="tab"], [role="slider"]')) {
          continue;
        }
        // A label belongs to its control.
        const target = element.closest('label') ?? element;
        const { width, height } = target.getBoundingClientRect();
        const isInText = getComputedStyle(element).display === 'inline' || element.closest('term-tip, p, dd') !== null;
        const host = element.getRootNode() instanceof ShadowRoot ? (element.getRootNode() as ShadowRoot).host.localName : '';
        const isTerm = host === 'term-tip' || isInText;
        if (element.checkVisibility() && width > 0 && !isTerm && (width < least - 0.5 || height < least - 0.5)) {
          found.push(`${host} ${element.localName} "${element.textContent?.trim().slice(0, 30)}" ${Math.round(width)} x ${Math.round(height)}`);
        }
      }
    };
    look(document);
    return found;
  }, TARGET_PX);
}

async function expectNoSidewaysScroll(page: Page, state: string): Promise<void> {
  expect(await sidewaysScroll(page), state).toBeLessThanOrEqual(0);
}

const tabs = (page: Page): Locator => page.getByRole('tablist', { name: 'What was found' }).getByRole('tab');

/** Goes through every leaf and the dialogues, and looks at each. */
async function through(page: Page, notebook: Notebook, look: (state: string) => Promise<void>): Promise<void> {
  await notebook.rows.nth(1).click();
  await notebook.idle();
  for (const name of await tabs(page).allInnerTexts()) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- one leaf after the other
    await tabs(page).filter({ hasText: name }).first().click();
    // oxlint-disable-next-line eslint/no-await-in-loop
    await notebook.idle();
    // oxlint-disable-next-line eslint/no-await-in-loop
    await look(`leaf ${name}`);
  }
  await page.getByText('The picture in words').click();
  await notebook.idle();
  await look('words');
  for (const button of ['Take along', 'Share a call', 'Keys']) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- one dialogue after the other
    await page.getByRole('button', { name: button }).click();
    // oxlint-disable-next-line eslint/no-await-in-loop
    await notebook.idle();
    // oxlint-disable-next-line eslint/no-await-in-loop
    await look(`dialogue ${button}`);
    // oxlint-disable-next-line eslint/no-await-in-loop
    await page.keyboard.press('Escape');
  }
}

for (const theme of THEMES) {
  test(`no barrier on any leaf or dialogue: ${theme}`, async ({ page }) => {
    test.slow();
    const notebook = await Notebook.open(page, '/', `#theme=${theme}`);
    await notebook.choose(sample(BUZZ));
    await through(page, notebook, async (state) => {
      await expectNoBarriers(page, state);
      expect(await smallTargets(page), state).toEqual([]);
    });
    expect(notebook.complaints).toEqual([]);
  });
}

for (const width of [390, 640, 1920]) {
  // 640 px are what 200 % zoom leaves of 1280.
  test(`nothing lies beyond the edge on any leaf or dialogue: ${width} px`, async ({ page }) => {
    test.slow();
    await page.setViewportSize({ width, height: 800 });
    const notebook = await Notebook.open(page, '/');
    await notebook.choose(sample(BUZZ));
    await through(page, notebook, async (state) => {
      await expectNoSidewaysScroll(page, state);
      expect(await smallTargets(page), state).toEqual([]);
    });
  });
}

test('in a person’s own colours, what is on can be told from what is off', async ({ page }) => {
  await page.emulateMedia({ forcedColors: 'active' });
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(BUZZ));
  const box = page.getByLabel('Contours');
  await box.scrollIntoViewIfNeeded();
  const look = async (): Promise<Buffer> => box.screenshot();
  const on = await look();
  await box.uncheck();
  await notebook.idle();
  expect((await look()).equals(on)).toBe(false);
  expect(await notebook.colours()).toBeGreaterThan(50);
  await expectNoBarriers(page, 'forced colours');
});

test('who wants less motion gets none', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' });
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(BUZZ));
  const moving = await page.evaluate(() => {
    const roots: (Document | ShadowRoot)[] = [document];
    for (const root of roots) {
      roots.push(...[...root.querySelectorAll('*')].flatMap((element) => element.shadowRoot ?? []));
    }
    const all = new Set(roots.flatMap((root) => root.getAnimations()));
    return [...all].filter((animation) => Number(animation.effect?.getComputedTiming().duration) > 0).length;
  });
  expect(moving).toBe(0);
});

test('the picture is told in words, pulse by pulse', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(BUZZ));
  await page.getByText('The picture in words').click();
  const words = page.locator('picture-words');
  await expect(words).toContainText('The whole recording: Holds bat pulses');
  await expect(words).toContainText('A feeding buzz in sequence 1');
  // As the table has it.
  const cells = await notebook.rows.first().locator('td').allInnerTexts();
  const [start = 0, , duration = 0, , peak = 0] = cells.map(Number.parseFloat);
  const first = await words.getByRole('listitem').first().innerText();
  const numbers = /^Pulse 1 at ([\d.]+) s: peak ([\d.]+) kHz, from [\d.]+ to [\d.]+ kHz in ([\d.]+) ms\.$/.exec(first) ?? [];
  const [, told, toldPeak, toldDuration] = numbers.map(Number);
  expect(told).toBeCloseTo(start, 2);
  expect(toldPeak).toBeCloseTo(peak, 0);
  expect(toldDuration).toBeCloseTo(duration, 0);
  await notebook.picture.focus();
  await page.keyboard.press('Period');
  await page.keyboard.press('Equal');
  await notebook.idle();
  const { t } = notebook.view();
  await expect(words).toContainText(`A spectrogram of ${Number(t[0].toFixed(4))} to ${Number(t[1].toFixed(4))} s`);
});
