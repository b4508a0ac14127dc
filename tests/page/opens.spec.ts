import { AxeBuilder } from '@axe-core/playwright';
import { expect, test } from '@playwright/test';

import { shapes } from './shapes.ts';

for (const { name, address } of shapes) {
  test(`the ${name} opens, starts the core and breaks no rule of its own policy`, async ({ page }) => {
    const complaints: string[] = [];
    page.on('pageerror', (error) => complaints.push(error.message));
    page.on('console', (message) => {
      if (message.type() === 'error' || message.type() === 'warning') {
        complaints.push(message.text());
      }
    });
    await page.goto(address);
    await expect(page.getByText('Version 0.1.0')).toBeVisible();
    expect(complaints).toEqual([]);
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

  test(`the ${name} has no barrier that a machine can find`, async ({ page }) => {
    await page.goto(address);
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations).toEqual([]);
  });
}
