import { expect, test, type Page } from '@playwright/test';

import { expectNoBarriers, expectNoSidewaysScroll } from './barriers.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, sample } from './recordings.ts';

const slider = (page: Page) => page.getByRole('slider', { name: 'Stretch of the recording in view' });

async function opened(page: Page, fragment = ''): Promise<Notebook> {
  const notebook = await Notebook.open(page, '/', fragment);
  await notebook.choose(sample(FIRST_PASS));
  await notebook.picture.focus();
  await page.keyboard.press('Digit0');
  await notebook.idle();
  return notebook;
}

const length = ([from, to]: [number, number]): number => to - from;

test('the strip is dragged, pressed and sized with the mouse', async ({ page }) => {
  const notebook = await opened(page);
  const whole = notebook.view();
  const strip = page.locator('overview-strip .strip');
  await strip.scrollIntoViewIfNeeded();
  const box = await strip.boundingBox();
  if (box === null) {
    throw new Error('the overview is not in sight');
  }
  const y = box.y + box.height / 2;
  const at = (share: number): number => box.x + box.width * share;
  // The right end to the middle: the first half is in view.
  await page.mouse.move(at(1) - 4, y);
  await page.mouse.down();
  await page.mouse.move(at(0.5), y, { steps: 5 });
  await page.mouse.up();
  await notebook.idle();
  const half = notebook.view();
  expect(half.t[0]).toBe(0);
  expect(half.t[1]).toBeCloseTo(whole.t[1] / 2, 1);
  expect(half.f).toEqual(whole.f);
  // The window itself, to the right by a quarter.
  await page.mouse.move(at(0.25), y);
  await page.mouse.down();
  await page.mouse.move(at(0.5), y, { steps: 5 });
  await page.mouse.up();
  await notebook.idle();
  const middle = notebook.view();
  expect(middle.t[0]).toBeCloseTo(whole.t[1] / 4, 1);
  expect(length(middle.t)).toBeCloseTo(length(half.t), 3);
  // A press beside it goes there, and Back comes back.
  await page.mouse.click(at(0.95), y);
  await notebook.idle();
  expect(notebook.view().t[1]).toBeCloseTo(whole.t[1], 4);
  await page.goBack();
  await notebook.idle();
  expect(notebook.view().t[0]).toBeCloseTo(middle.t[0], 3);
  expect(notebook.complaints).toEqual([]);
});

test('keys move and size the window, and it says where it is', async ({ page }) => {
  const notebook = await opened(page);
  await slider(page).focus();
  await page.keyboard.press('Shift+ArrowLeft');
  await page.keyboard.press('Shift+ArrowLeft');
  await notebook.idle();
  const closer = notebook.view();
  expect(length(closer.t)).toBeCloseTo(1.3 / 1.4 / 1.4, 2);
  await page.keyboard.press('Home');
  await notebook.idle();
  expect(notebook.view().t[0]).toBe(0);
  await page.keyboard.press('ArrowRight');
  await notebook.idle();
  expect(notebook.view().t[0]).toBeCloseTo(length(closer.t) * 0.2, 3);
  await page.keyboard.press('End');
  await notebook.idle();
  expect(notebook.view().t[1]).toBeCloseTo(1.3, 3);
  await expect(slider(page)).toHaveAttribute('aria-valuetext', /^0\.6\d* to 1\.3 s of 1\.300 s$/);
  await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('Shift+ArrowRight');
  await notebook.idle();
  expect(length(notebook.view().t)).toBeCloseTo(1.3, 3);
});

test('the strip shows the sound and where pulses are', async ({ page }) => {
  await opened(page);
  const drawn = await page.locator('overview-strip').evaluate((element) => {
    const colours = (selector: string): number[] => {
      const canvas = element.shadowRoot?.querySelector<HTMLCanvasElement>(selector);
      const data = canvas?.getContext('2d')?.getImageData(0, 0, canvas.width, canvas.height).data ?? [];
      return [...new Uint32Array(new Uint8Array(data).buffer)];
    };
    const { width } = element.shadowRoot?.querySelector<HTMLCanvasElement>('.marks') ?? { width: 1 };
    // Ticks reach down from the upper edge; each is one run of pixels that are not clear.
    const row = colours('.marks').slice(2 * width, 3 * width);
    const ticks = row.filter((pixel, n) => pixel !== 0 && (row[n - 1] ?? 0) === 0).length;
    return { ticks, colours: new Set(colours('.sound')).size };
  });
  expect(drawn.colours).toBeGreaterThan(10);
  expect(drawn.ticks).toBe(15);
});

for (const theme of ['paper', 'night']) {
  test(`no barrier with the view's settings open: ${theme}`, async ({ page }) => {
    const notebook = await opened(page, `#theme=${theme}`);
    await page.getByRole('button', { name: 'View', exact: true }).click();
    await page.keyboard.press('Tab');
    await notebook.idle();
    await expectNoBarriers(page);
    await page.setViewportSize({ width: 390, height: 844 });
    await notebook.idle();
    await expectNoSidewaysScroll(page);
  });
}
