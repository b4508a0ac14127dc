import { AxeBuilder } from '@axe-core/playwright';
import { expect, type Page } from '@playwright/test';

/** What a machine finds that keeps people out, by the rules of `tags` or else by all, each with where it is. */
export async function barriers(page: Page, tags?: string[]): Promise<string[]> {
  // Both halve the work and change nothing that is looked for: of what is in order no places are written down, and all is
  // gathered in the page itself, which has no frames, instead of in a second one.
  const builder = new AxeBuilder({ page }).options({ resultTypes: ['violations'] }).setLegacyMode(true);
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
