import { expect, test } from '@playwright/test';

import { Notebook } from './notebook.ts';
import { shapes } from './shapes.ts';

for (const { name, address } of shapes) {
  test(`the ${name} opens and breaks no rule of its own policy`, async ({ page }) => {
    const notebook = await Notebook.open(page, address, '', { rehearsed: true });
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
    await expect(page.getByText('Nothing leaves this computer')).toBeVisible();
    expect(notebook.complaints).toEqual([]);
  });

  test(`the ${name} forbids connections to anywhere else`, async ({ page }) => {
    await page.goto(address);
    const reached = await page.evaluate(async () => {
      const blocked = new Promise<boolean>((resolve) => {
        addEventListener('securitypolicyviolation', () => resolve(true), { once: true });
      });
      await fetch('http://127.0.0.1:9/').catch(() => undefined);
      return blocked;
    });
    expect(reached).toBe(true);
  });

  test(`the ${name} asks for nothing but its own files`, async ({ page }) => {
    const notebook = await Notebook.open(page, address, '', { rehearsed: true });
    await notebook.trySample('A bat flies past');
    const own = new URL('.', page.url()).href;
    const foreign = notebook.requests.filter(
      (url) => !url.startsWith(own) && !url.startsWith('data:') && !url.startsWith('blob:'),
    );
    expect(foreign).toEqual([]);
    if (page.url().startsWith('file:')) {
      const files = notebook.requests.filter((url) => url.startsWith('file:'));
      expect(files).toHaveLength(1);
    }
  });
}
