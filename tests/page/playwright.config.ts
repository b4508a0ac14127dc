import { fileURLToPath } from 'node:url';

import { defineConfig, devices } from '@playwright/test';

/** Its own port, so that a page that is being served for a person is not tested by mistake. */
const port = 4179;

export default defineConfig({
  globalSetup: './build-command-line.ts',
  testDir: '.',
  testIgnore: 'bench/**',
  outputDir: 'results',
  fullyParallel: true,
  forbidOnly: true,
  // A machine that builds beside the tests is slow, and no test waits for time to pass.
  timeout: 90_000,
  expect: { timeout: 15_000 },
  workers: 2,
  reporter: 'list',
  use: {
    ...devices['Desktop Chrome'],
    baseURL: `http://127.0.0.1:${port}/`,
    // Keeping each step of each test takes a tenth of the work and more: run a test that fails again, with `--trace on`.
    trace: 'off',
    screenshot: 'only-on-failure',
    // Keeping the site for offline use is work beside what most tests look at; those about it allow it.
    serviceWorkers: 'block',
    launchOptions: {
      executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
      // Chromium refuses its sandbox to root, and root is who runs tests in a container.
      chromiumSandbox: process.getuid?.() !== 0,
      // A browser under test has no business on the network.
      args: [
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
  webServer: {
    command: `node node_modules/vite/bin/vite.js preview --strictPort --port ${port}`,
    cwd: fileURLToPath(new URL('../../www', import.meta.url)),
    port,
  },
});
