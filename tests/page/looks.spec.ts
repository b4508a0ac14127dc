import { expect, test } from '@playwright/test';

import { sidewaysScroll } from './barriers.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, named, sample, TWO_ANIMALS } from './recordings.ts';

/** Pictures of the main screens for a person to look at; a machine checks that nothing sticks out. */
for (const theme of ['paper', 'hut', 'night']) {
  for (const width of [390, 1280, 1920]) {
    test(`a look at ${theme}, ${width} px`, async ({ page }) => {
      const shot = async (screen: string): Promise<void> => {
        expect(await sidewaysScroll(page), `${screen} sticks out sideways`).toBeLessThanOrEqual(0);
        await page.screenshot({ path: `results/looks/${screen}-${theme}-${width}.png`, fullPage: true });
      };
      await page.setViewportSize({ width, height: width < 500 ? 844 : Math.round(width * 0.5625) });
      const notebook = await Notebook.open(page, '/', `#theme=${theme}`);
      await shot('welcome');
      const broken = named('broken.wav', Buffer.from('no sound'));
      await notebook.choose(sample(FIRST_PASS), sample(TWO_ANIMALS), broken);
      await shot('whole');
      await notebook.rows.nth(4).click();
      await notebook.idle();
      await shot('pulse');
      await notebook.list.getByRole('button').nth(2).click();
      await notebook.idle();
      await shot('broken');
      await page.getByRole('button', { name: 'Keys' }).click();
      await shot('keys');
      expect(notebook.complaints).toEqual([]);
    });
  }
}
