import { expect, test, type Page } from '@playwright/test';

import { expectNoBarriers, expectNoSidewaysScroll } from './barriers.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, sample, TWO_ANIMALS } from './recordings.ts';
import { shapes } from './shapes.ts';

const TITLE = 'What the numbers mean';
/** What a biologist has to be able to look up. */
const ENTRIES = [
  'Uncertainty, the ± beside a number',
  'Start and end',
  'Duration',
  'Interval',
  'Contour',
  'Start and end frequency',
  'High and low frequency, bandwidth',
  'Peak frequency',
  'Characteristic frequency',
  'Sweep rate',
  'Level',
  'Signal-to-noise',
  'Edges below',
  'Shape',
  'Harmonics',
  'Sequence',
  'Pass',
  'Feeding buzz',
  'Flags',
  'Reasons to doubt that it is a bat',
  'Summary of a recording',
];

const title = (page: Page) => page.getByRole('heading', { level: 1 });
const link = (page: Page) => page.getByRole('link', { name: TITLE });

for (const { name, address } of shapes) {
  test(`${name}: the first page leads to the numbers, and Back leads back`, async ({ page }) => {
    const notebook = await Notebook.open(page, address);
    const first = await title(page).innerText();
    await link(page).click();
    await notebook.idle();
    await expect(title(page)).toHaveText(TITLE);
    await expect(title(page)).toBeFocused();
    expect(new URL(page.url()).hash).toMatch(/^#numbers/);
    await page.goBack();
    await notebook.idle();
    await expect(title(page)).toHaveText(first);
    await page.goForward();
    await expect(title(page)).toHaveText(TITLE);
    await page.getByRole('button', { name: 'Back to the first page' }).click();
    await notebook.idle();
    await expect(title(page)).toHaveText(first);
    expect(notebook.complaints).toEqual([]);
  });

  test(`${name}: reading loses no recording`, async ({ page }) => {
    const notebook = await Notebook.open(page, address, '#theme=paper');
    await notebook.choose(sample(FIRST_PASS), sample(TWO_ANIMALS));
    await notebook.rows.nth(4).click();
    await notebook.idle();
    const view = notebook.view();
    await link(page).click();
    await notebook.idle();
    await expect(title(page)).toHaveText(TITLE);
    await page.getByRole('link', { name: 'Peak frequency' }).click();
    await notebook.idle();
    // However far a reader went within the page, Back leads out of it at once.
    await page.goBack();
    await notebook.idle();
    await expect(title(page)).toHaveText(FIRST_PASS);
    await expect(notebook.list.getByRole('button')).toHaveCount(2);
    await expect(notebook.selectedRow).toHaveAttribute('data-index', '4');
    expect(notebook.view()).toEqual(view);
    expect(notebook.complaints).toEqual([]);
  });
}

test('a recording that an address cannot name is still there, wherever it was dropped', async ({ page }) => {
  // The address stays the same when the first recording comes.
  const notebook = await Notebook.open(page, '/', '#theme=paper');
  await notebook.drop(sample(FIRST_PASS));
  await link(page).click();
  await notebook.idle();
  await page.goBack();
  await notebook.idle();
  await expect(title(page)).toHaveText(FIRST_PASS);
  await page.goForward();
  await notebook.idle();
  await page.getByRole('button', { name: `Back to ${FIRST_PASS}` }).click();
  await notebook.idle();
  await expect(title(page)).toHaveText(FIRST_PASS);
  // What is dropped while reading is shown.
  await link(page).click();
  await notebook.idle();
  await notebook.drop(sample(TWO_ANIMALS));
  await expect(title(page)).toHaveText(TWO_ANIMALS);
});

test('an address leads to an entry, and reading outlasts a reload', async ({ page }) => {
  const notebook = await Notebook.open(page, '/', '#numbers=duration');
  const heading = page.getByRole('heading', { name: 'Duration', level: 3 });
  await expect(heading).toBeFocused();
  await expect(heading).toBeInViewport();
  await page.getByLabel('Field').check();
  await notebook.idle();
  await page.reload();
  await notebook.idle();
  await expect(heading).toBeInViewport();
  // A sample that was looked at comes back with it.
  await page.goto('/');
  await notebook.trySample('A bat flies past');
  await link(page).click();
  await notebook.idle();
  await page.reload();
  await notebook.idle();
  await expect(title(page)).toHaveText(TITLE);
  await page.getByRole('button', { name: `Back to ${FIRST_PASS}` }).click();
  await expect(notebook.rows).toHaveCount(15);
});

test('every entry says what it is, how well it is known and when not to use it', async ({ page }) => {
  await Notebook.open(page, '/', '#numbers');
  const entries = page.getByRole('article');
  expect(await page.getByRole('heading', { level: 3 }).allInnerTexts()).toEqual(ENTRIES);
  await expect(entries).toHaveCount(ENTRIES.length);
  const told = await entries.evaluateAll((all) =>
    all.map((entry) => ({
      plain: entry.querySelector('.plain')?.textContent.trim().length ?? 0,
      words: [...entry.querySelectorAll('dt')].map((word) => word.textContent),
      texts: [...entry.querySelectorAll('dd')].map((text) => text.textContent.trim().length),
    })),
  );
  const lacking = told.filter(({ plain, texts }) => plain < 20 || texts.some((length) => length < 20));
  expect(lacking).toEqual([]);
  for (const { words } of told) {
    expect(words).toEqual(['Definition', 'How well it is known', 'When not to use it']);
  }
  // Every line of the contents leads somewhere.
  const nowhere = await page.locator('numbers-page').evaluate((host) =>
    [...(host.shadowRoot?.querySelectorAll<HTMLAnchorElement>('a') ?? [])]
      .map((one) => one.hash.replace('#numbers=', ''))
      .filter((id) => !host.shadowRoot?.getElementById(id)),
  );
  expect(nowhere).toEqual([]);
});

for (const [theme, width] of [['paper', 390], ['hut', 640], ['night', 1280], ['paper', 1920]] as const) {
  test(`no barrier in the numbers that a machine can find: ${theme}, ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height: width < 500 ? 844 : Math.round(width * 0.5625) });
    await Notebook.open(page, '/', `#numbers&theme=${theme}`);
    await expectNoBarriers(page);
    await expectNoSidewaysScroll(page);
    // No word of a figure is cut off or lies on another.
    expect(await clashes(page, 'pulse-figure')).toEqual([]);
    expect(await clashes(page, 'sequence-figure')).toEqual([]);
    await page.screenshot({ path: `results/looks/numbers-${theme}-${width}.png`, fullPage: true });
  });
}

/** Words of a figure that overlap one another or stick out of it. */
async function clashes(page: Page, figure: string): Promise<string[]> {
  return page.locator(figure).evaluate((host) => {
    const frame = host.parentElement?.getBoundingClientRect();
    const all = [...(host.shadowRoot?.querySelectorAll('text') ?? [])].map((text) => ({
      text: text.textContent,
      box: text.getBoundingClientRect(),
    }));
    const out = all.filter(({ box }) => !frame || box.left < frame.left || box.right > frame.right);
    const slack = 3;
    const over = all.flatMap((a, n) =>
      all
        .slice(n + 1)
        .filter(
          (b) =>
            Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left) > slack &&
            Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top) > slack,
        )
        .map((b) => `${a.text} / ${b.text}`),
    );
    return [...out.map(({ text }) => `${text} sticks out`), ...over];
  });
}

test('the numbers can be read with the keyboard alone', async ({ page }) => {
  const notebook = await Notebook.open(page, '/', '#numbers');
  const { keyboard } = page;
  const wanted = page.getByRole('navigation').getByRole('link', { name: 'Duration' });
  const tabTo = async (most: number): Promise<void> => {
    if (most > 0 && !(await wanted.evaluate((one) => one.matches(':focus')))) {
      await keyboard.press('Tab');
      await tabTo(most - 1);
    }
  };
  await tabTo(30);
  await keyboard.press('Enter');
  await notebook.idle();
  await expect(page.getByRole('heading', { name: 'Duration', level: 3 })).toBeFocused();
});

test('on paper the numbers are dark on white, whatever the theme', async ({ page }) => {
  await Notebook.open(page, '/', '#numbers&theme=night');
  await page.emulateMedia({ media: 'print' });
  const colour = await page.locator('numbers-page').evaluate((host) => getComputedStyle(host).color);
  expect(colour).toBe('rgb(0, 0, 0)');
  await expect(page.getByRole('button', { name: 'Back to the first page' })).toBeHidden();
  await expect(page.locator('dusk-page header')).toBeHidden();
});
