import { defineConfig } from '@playwright/test';

import tests from '../playwright.config.ts';

/** Times are taken on one page at a time. */
export default defineConfig({
  ...tests,
  globalSetup: [],
  testDir: '.',
  testIgnore: [],
  outputDir: '../results',
  fullyParallel: false,
  workers: 1,
});
