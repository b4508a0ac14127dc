import { AxeBuilder } from '@axe-core/playwright';
import { expect, type Page } from '@playwright/test';

/** What a machine finds that keeps people out, by the rules of `tags` or else by all, each with where it is. */
export async function barriers(page: Page, tags?: string[]): Promise<string[]> {
  const builder = new AxeBuilder({ page });
  const { violations } = await (tags ? builder.withTags(tags) : builder).analyze();
  return violations.map(
    ({ id, help, nodes }) => `${id}: ${help}: ${nodes.map((node) => node.target.join(' ')).join('; ')}`,
  );
}

export async function expectNoBarriers(page: Page): Promise<void> {
  expect(await barriers(page)).toEqual([]);
}

/** How far the page itself can be scrolled sideways, CSS pixels, which no width should need. */
export function sidewaysScroll(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

export async function expectNoSidewaysScroll(page: Page): Promise<void> {
  expect(await sidewaysScroll(page)).toBeLessThanOrEqual(0);
}
