import { expect, test, type Page } from '@playwright/test';

import { Notebook } from './notebook.ts';
import { FIRST_PASS, sample } from './recordings.ts';

/** The page with a recording whose whole view stands in the address. */
async function opened(page: Page): Promise<Notebook> {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await notebook.picture.focus();
  await press(notebook, 'Digit0');
  return notebook;
}

async function press(notebook: Notebook, key: string): Promise<void> {
  await notebook.page.keyboard.press(key);
  await notebook.idle();
}

async function middle(notebook: Notebook): Promise<{ x: number; y: number; width: number; height: number }> {
  await notebook.picture.scrollIntoViewIfNeeded();
  const box = await notebook.picture.boundingBox();
  if (box === null) {
    throw new Error('the picture is not in sight');
  }
  return { x: box.x + box.width / 2, y: box.y + box.height / 2, width: box.width, height: box.height };
}

const length = ([from, to]: [number, number]): number => to - from;

test('keys zoom and pan, and stop at the edges', async ({ page }) => {
  const notebook = await opened(page);
  const whole = notebook.view();
  await press(notebook, 'Equal');
  const closer = notebook.view();
  expect(length(closer.t)).toBeCloseTo(length(whole.t) * 0.7, 3);
  expect(closer.f).toEqual(whole.f);
  await press(notebook, 'ArrowRight');
  const later = notebook.view();
  expect(later.t[0]).toBeGreaterThan(closer.t[0]);
  expect(length(later.t)).toBeCloseTo(length(closer.t), 3);
  await press(notebook, 'Shift+Equal');
  const narrow = notebook.view();
  expect(length(narrow.f)).toBeCloseTo(length(whole.f) * 0.7, 1);
  await press(notebook, 'ArrowUp');
  expect(notebook.view().f[0]).toBeGreaterThan(narrow.f[0]);
  await press(notebook, 'End');
  expect(notebook.view().t[1]).toBeCloseTo(whole.t[1], 4);
  await press(notebook, 'Home');
  expect(notebook.view().t[0]).toBe(0);
  await press(notebook, 'ArrowLeft');
  expect(notebook.view().t[0]).toBe(0);
  await press(notebook, 'Digit0');
  expect(notebook.view()).toEqual(whole);
  expect(notebook.complaints).toEqual([]);
});

test('keys go from pulse to pulse and hide the contours', async ({ page }) => {
  const notebook = await opened(page);
  await press(notebook, 'Period');
  await press(notebook, 'Period');
  await expect(notebook.selectedRow).toHaveAttribute('data-index', '1');
  await press(notebook, 'Comma');
  await expect(notebook.selectedRow).toHaveAttribute('data-index', '0');
  await press(notebook, 'KeyO');
  await expect(page.getByLabel('Contours')).not.toBeChecked();
  await press(notebook, 'Escape');
  await expect(notebook.selectedRow).toHaveCount(0);
  await page.keyboard.press('Shift+Slash');
  await expect(page.getByRole('dialog', { name: 'Keys' })).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(page.getByRole('dialog', { name: 'Keys' })).toBeHidden();
});

test('the wheel comes closer at the pointer, with Shift in frequency', async ({ page }) => {
  const notebook = await opened(page);
  const whole = notebook.view();
  const { x, y, width, height } = await middle(notebook);
  const share = 0.25;
  await page.mouse.move(x - width * share, y - height * share);
  await page.mouse.wheel(0, -400);
  await notebook.idle();
  const closer = notebook.view();
  expect(length(closer.t)).toBeLessThan(length(whole.t) * 0.7);
  // What lay under the pointer still does.
  const under = (view: [number, number]): number => view[0] + length(view) * (0.5 - share);
  expect(under(closer.t)).toBeCloseTo(under(whole.t), 2);
  await page.keyboard.down('Shift');
  await page.mouse.wheel(0, -400);
  await page.keyboard.up('Shift');
  await notebook.idle();
  const narrow = notebook.view();
  expect(narrow.t).toEqual(closer.t);
  expect(length(narrow.f)).toBeLessThan(length(whole.f) * 0.7);
  expect(narrow.f[1] - length(narrow.f) * (0.5 - share)).toBeCloseTo(
    whole.f[1] - length(whole.f) * (0.5 - share),
    0,
  );
  await page.mouse.wheel(0, 4000);
  await notebook.idle();
  expect(notebook.view().t).toEqual(whole.t);
});

test('dragging keeps the sound under the pointer; a double click shows all', async ({ page }) => {
  const notebook = await opened(page);
  const whole = notebook.view();
  await press(notebook, 'Equal');
  await press(notebook, 'Equal');
  const before = notebook.view();
  const { x, y, width } = await middle(notebook);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x - 50, y, { steps: 4 });
  await page.mouse.move(x - 120, y, { steps: 4 });
  await page.mouse.up();
  await notebook.idle();
  const after = notebook.view();
  expect(after.t[0] - before.t[0]).toBeCloseTo((120 / width) * length(before.t), 2);
  // A drag is no click.
  await expect(notebook.selectedRow).toHaveCount(0);
  await page.mouse.dblclick(x, y - 100);
  await notebook.idle();
  expect(notebook.view()).toEqual(whole);
});

test('two fingers stretch the view', async ({ page }) => {
  const notebook = await opened(page);
  const whole = notebook.view();
  const { x, y } = await middle(notebook);
  const client = await page.context().newCDPSession(page);
  const touch = async (type: 'touchStart' | 'touchMove' | 'touchEnd', apart: number): Promise<void> => {
    const touchPoints =
      type === 'touchEnd'
        ? []
        : [
            { x: x - apart, y, id: 1 },
            { x: x + apart, y, id: 2 },
          ];
    await client.send('Input.dispatchTouchEvent', { type, touchPoints });
  };
  await touch('touchStart', 60);
  await touch('touchMove', 90);
  await touch('touchMove', 120);
  await touch('touchEnd', 120);
  await notebook.idle();
  const closer = notebook.view();
  expect(length(closer.t)).toBeCloseTo(length(whole.t) / 2, 1);
  expect(closer.f).toEqual(whole.f);
});

test('Back leads to the view before, and a reload to the same one', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.trySample('A bat flies past');
  await notebook.picture.focus();
  await press(notebook, 'Digit0');
  const whole = notebook.view();
  await notebook.rows.nth(3).click();
  await notebook.idle();
  const near = notebook.view();
  expect(length(near.t)).toBeLessThan(length(whole.t));
  await page.reload();
  await notebook.idle();
  await expect(notebook.rows.first()).toBeVisible();
  expect(notebook.view()).toEqual(near);
  await expect(notebook.picture).toHaveAccessibleName(/kHz, 1 pulse$/);
});

test('Back and Forward walk through views, recordings and the first page', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await notebook.choose(sample(FIRST_PASS));
  await notebook.picture.focus();
  await press(notebook, 'Digit0');
  const whole = notebook.view();
  await notebook.rows.nth(3).click();
  await notebook.idle();
  const near = notebook.view();
  await page.goBack();
  await notebook.idle();
  expect(notebook.view()).toEqual(whole);
  await expect(notebook.picture).toHaveAccessibleName(/15 pulses$/);
  await page.goForward();
  await notebook.idle();
  expect(notebook.view()).toEqual(near);
  await expect(notebook.picture).toHaveAccessibleName(/kHz, 1 pulse$/);
});

test('themes and colours are kept, and stand in the address', async ({ page }) => {
  const notebook = await Notebook.open(page, '/');
  await page.getByLabel('Field').check();
  await notebook.idle();
  expect(page.url()).toContain('theme=night');
  await page.goto('/');
  await notebook.idle();
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'night');
  await notebook.choose(sample(FIRST_PASS));
  await page.getByRole('button', { name: 'View' }).click();
  await page.getByLabel('Colours').selectOption({ label: 'Viridis, violet to yellow' });
  await notebook.idle();
  expect(page.url()).toContain('map=viridis');
  await page.goto('/#theme=hut');
  await page.reload();
  await notebook.idle();
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'hut');
});

test('the machine’s own setting chooses the first theme', async ({ page }) => {
  await page.emulateMedia({ colorScheme: 'dark' });
  await Notebook.open(page, '/');
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'hut');
});
