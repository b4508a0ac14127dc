import { expect, test, type Locator, type Page } from '@playwright/test';

import { expectNoBarriers, expectNoSidewaysScroll } from './barriers.ts';
import { told } from './command-line.ts';
import { Notebook } from './notebook.ts';
import { BUZZ, sample, TWO_ANIMALS } from './recordings.ts';

const lanes = (page: Page): Locator => page.locator('sequence-lane');
const selected = (page: Page): Locator => lanes(page).getByRole('option', { selected: true });

async function opened(page: Page, file: string, fragment = ''): Promise<Notebook> {
  const notebook = await Notebook.open(page, '/', `#leaf=sequences${fragment}`);
  await notebook.choose(sample(file));
  return notebook;
}

test('every sequence has a lane with the numbers that the command line prints', async ({ page }) => {
  const notebook = await opened(page, TWO_ANIMALS);
  const { summary, pulses } = told(TWO_ANIMALS);
  await expect(lanes(page)).toHaveCount(summary.sequences.length);
  for (const facts of summary.sequences) {
    const lane = lanes(page).nth(facts.number - 1);
    // oxlint-disable-next-line eslint/no-await-in-loop -- one lane after the other
    await expect(lane.getByRole('heading')).toContainText(`Sequence ${facts.number}`);
    // oxlint-disable-next-line eslint/no-await-in-loop -- as above
    await expect(lane.locator('.sum')).toContainText(
      `${facts.pulses} pulses · median interval ${facts.interval_ms?.toFixed(1)} ms · ` +
        `${facts.rate_per_s?.toFixed(1)} per second · median peak frequency ${facts.peak_khz.toFixed(1)} kHz · ` +
        `lasts ${facts.duration_s.toFixed(2)} s`,
    );
    // oxlint-disable-next-line eslint/no-await-in-loop -- as above
    await expect(lane.getByRole('option')).toHaveCount(facts.pulses);
  }
  // Colour is not all that tells them apart.
  const shapes = await lanes(page).locator('.sign path').evaluateAll((paths) => paths.map((path) => path.getAttribute('d')));
  expect(new Set(shapes).size).toBe(shapes.length);
  const missed = pulses.filter(({ flags }) => flags.includes('missed_before')).length;
  expect(missed).toBeGreaterThan(0);
  await expect(lanes(page).locator('.gap')).toHaveCount(missed);
  await page.getByRole('radio', { name: 'Characteristic' }).check();
  const [first] = summary.sequences;
  await expect(lanes(page).first().locator('.sum')).toContainText(
    `median characteristic frequency ${first?.characteristic_khz.toFixed(1)} kHz`,
  );
  expect(notebook.complaints).toEqual([]);
});

test('a feeding buzz is shaded and named, over all of its pulses', async ({ page }) => {
  const notebook = await opened(page, BUZZ);
  await expect(lanes(page).locator('.word')).toHaveText('feeding buzz');
  const inside = await lanes(page).first().evaluate((lane) => {
    const shade = lane.shadowRoot?.querySelector('.buzz')?.getBoundingClientRect();
    const marks = [...(lane.shadowRoot?.querySelectorAll('[role="option"]') ?? [])];
    return marks
      .filter((mark) => {
        const box = mark.querySelector('path')?.getBoundingClientRect();
        const middle = box ? box.left + box.width / 2 : Number.NaN;
        return shade && middle >= shade.left && middle <= shade.right;
      })
      .map((mark) => mark.getAttribute('aria-label')?.includes('feeding buzz'));
  });
  const { pulses } = told(BUZZ);
  expect(inside).toHaveLength(pulses.filter(({ buzz }) => (buzz ?? null) !== null).length);
  expect(inside).not.toContain(false);
  // Long and short intervals lie farther apart, or nearer, by the choice of the axis.
  const heights = (): Promise<number[]> =>
    lanes(page).getByRole('option').evaluateAll((marks) =>
      marks.slice(1).map((mark) => mark.querySelectorAll('path')[1]?.getBoundingClientRect().top ?? 0),
    );
  const before = await heights();
  await page.getByRole('checkbox', { name: 'Logarithmic intervals' }).uncheck();
  await notebook.idle();
  expect(await heights()).not.toEqual(before);
});

test('keys and clicks go from pulse to pulse, and what is selected is so everywhere', async ({ page }) => {
  const notebook = await opened(page, TWO_ANIMALS);
  const own = told(TWO_ANIMALS).pulses.flatMap(({ sequence }, at) => (sequence === 2 ? [at] : []));
  const list = lanes(page).nth(1).getByRole('listbox');
  await list.focus();
  await page.keyboard.press('Home');
  await page.keyboard.press('ArrowRight');
  await notebook.idle();
  await expect(selected(page)).toHaveAttribute('id', `m${own[1]}`);
  await expect(list).toHaveAttribute('aria-activedescendant', `m${own[1]}`);
  await expect(selected(page)).toHaveAccessibleName(new RegExp(`^Pulse ${(own[1] ?? 0) + 1}, .* kHz, interval `));
  await expect(list).toBeFocused();
  await page.keyboard.press('Enter');
  await notebook.idle();
  const { t } = notebook.view();
  const start = told(TWO_ANIMALS).pulses[own[1] ?? 0]?.start_s ?? Number.NaN;
  expect(t[0]).toBeLessThan(start);
  expect(t[1]).toBeGreaterThan(start);
  // The last mark's interval, lower down, is a mark of the same pulse.
  await lanes(page).nth(1).getByRole('option').last().locator('path').nth(1).click();
  await notebook.idle();
  await expect(selected(page)).toHaveAttribute('id', `m${own.at(-1)}`);
  await page.keyboard.press('Digit1');
  await notebook.idle();
  await expect(notebook.selectedRow).toHaveAttribute('data-index', String(own.at(-1)));
});

test('a lane can be read as a table', async ({ page }) => {
  await opened(page, TWO_ANIMALS);
  const own = told(TWO_ANIMALS).pulses.filter(({ sequence }) => sequence === 1);
  await page.getByText('Sequence 1 as a table').click();
  const rows = lanes(page).first().locator('tbody tr');
  await expect(rows).toHaveCount(own.length);
  const cells = await rows.nth(1).locator('td').allInnerTexts();
  expect(cells.slice(0, 3)).toEqual([
    own[1]?.start_s.toFixed(4),
    own[1]?.interval_ms?.toFixed(1),
    own[1]?.peak_khz.toFixed(1),
  ]);
});

// Wider ones, and the third theme, are walked in states.spec.ts.
for (const [theme, width] of [['paper', 390], ['night', 390]] as const) {
  test(`no barrier among sequences that a machine can find: ${theme}, ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height: 900 });
    const notebook = await opened(page, TWO_ANIMALS, `&theme=${theme}`);
    await page.getByText('Sequence 1 as a table').click();
    await lanes(page).first().getByRole('option').nth(2).locator('path').first().click();
    await notebook.idle();
    await expectNoBarriers(page);
    await expectNoSidewaysScroll(page);
  });
}
