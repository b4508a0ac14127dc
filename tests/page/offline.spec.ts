import { createHash } from 'node:crypto';
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { expect, test as base, type Page } from '@playwright/test';

import { expectNoBarriers, expectNoSidewaysScroll } from './barriers.ts';
import { Notebook } from './notebook.ts';
import { FIRST_PASS, sample } from './recordings.ts';
import { shapes } from './shapes.ts';
import { BUILT, StaticSite } from './static-site.ts';

const test = base.extend<{ site: StaticSite; newer: string }>({
  // oxlint-disable-next-line eslint/no-empty-pattern -- what a fixture needs is read from its parameter
  site: async ({}, use) => {
    const site = await StaticSite.start();
    await use(site);
    await site.stop().catch(() => undefined);
  },
  // oxlint-disable-next-line eslint/no-empty-pattern -- what a fixture needs is read from its parameter
  newer: async ({}, use) => {
    const folder = mkdtempSync(join(tmpdir(), 'dusklens-newer-'));
    cpSync(BUILT, folder, { recursive: true });
    rebuild(folder);
    await use(folder);
    rmSync(folder, { recursive: true });
  },
});

test.use({ serviceWorkers: 'allow' });

/** How the page's files are listed in the worker. */
function integrityOf(content: string | Buffer): string {
  return `sha256-${createHash('sha256').update(content).digest('base64')}`;
}

/** Changes the page, and with it the worker's list, as another build does. */
function rebuild(folder: string): void {
  const page = join(folder, 'index.html');
  const worker = join(folder, 'service-worker.js');
  const before = readFileSync(page, 'utf8');
  const after = before.replace('<title>Dusklens</title>', '<title>Dusklens, newer</title>');
  const list = readFileSync(worker, 'utf8');
  const build = /["'`]([0-9a-f]{16})["'`]/.exec(list)?.[1] ?? '';
  expect(list).toContain(integrityOf(before));
  writeFileSync(page, after);
  writeFileSync(worker, list.replace(integrityOf(before), integrityOf(after)).replace(build, 'f'.repeat(16)));
}

/** Waits until every file of the build is kept. */
async function kept(page: Page): Promise<void> {
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
}

/** The first visit, the second, and during it a newer build. */
async function meetNewer(page: Page, site: StaticSite, newer: string, fragment = ''): Promise<Notebook> {
  const notebook = await Notebook.open(page, site.address, fragment);
  await kept(page);
  site.folder = newer;
  await page.reload();
  await notebook.idle();
  await expect(notice(page)).toContainText('A new version is ready.');
  return notebook;
}

const notice = (page: Page) => page.locator('new-version').getByRole('status');
const loadIt = (page: Page) => page.getByRole('button', { name: 'Load it' });

test('after one visit the page opens, reads and measures without its host', async ({ page, site }) => {
  const notebook = await Notebook.open(page, site.address);
  await kept(page);
  await site.stop();
  await page.reload();
  await notebook.idle();
  await notebook.trySample('A bat flies past');
  await expect(notebook.rows).toHaveCount(15);
  await page.goto(`${site.address}index.html?from=elsewhere#sample=${FIRST_PASS}`);
  await notebook.idle();
  await expect(notebook.rows).toHaveCount(15);
  expect(notebook.complaints).toEqual([]);
});

test('exactly the files of the build are kept, and nothing that is fetched beside them', async ({ page, site }) => {
  await Notebook.open(page, site.address);
  await kept(page);
  await page.reload();
  const caches = await page.evaluate(async () => {
    await fetch('dusklens.html');
    const names = await window.caches.keys();
    const all = names.map(async (name) => (await window.caches.open(name)).keys());
    const paths = (await Promise.all(all)).flat().map(({ url }) => new URL(url).pathname);
    return { names, paths };
  });
  expect(caches.names).toHaveLength(1);
  expect(caches.names[0]).toMatch(/^dusklens http:\/\/127\.0\.0\.1:\d+\/ [0-9a-f]{16}$/);
  const list = readFileSync(join(BUILT, 'service-worker.js'), 'utf8');
  const listed = [...list.matchAll(/["']([^"']+)["']:\s*["']sha256-/g)].map(([, name]) => `/${name}`.replace('/./', '/'));
  expect(caches.paths.toSorted()).toEqual(listed.toSorted());
  expect(caches.paths).toContain('/');
  expect(caches.paths.filter((path) => path.endsWith('.wav'))).toHaveLength(13);
  expect(caches.paths).not.toContain('/dusklens.html');
});

test('the site says how it can be installed', async ({ page, site }) => {
  await Notebook.open(page, site.address);
  const session = await page.context().newCDPSession(page);
  const { errors, data } = await session.send('Page.getAppManifest');
  expect(errors).toEqual([]);
  const { name, icons } = JSON.parse(data ?? '{}') as { name: string; icons: { src: string }[] };
  expect(name).toBe('Dusklens');
  const answers = await page.evaluate(
    (all) => Promise.all(all.map(async (src) => (await fetch(src)).ok)),
    icons.map(({ src }) => src),
  );
  expect(answers).not.toContain(false);
  const { installabilityErrors } = await session.send('Page.getInstallabilityErrors');
  // A browser under test has a profile that nothing is installed into.
  expect(installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito')).toEqual([]);
});

test('a newer build is told of, waits, and is loaded when asked for', async ({ page, site, newer }) => {
  const notebook = await meetNewer(page, site, newer);
  await expect(notice(page)).toHaveText('A new version is ready.');
  await notebook.choose(sample(FIRST_PASS));
  await expect(notice(page)).toContainText('closes the recording that is open here');
  // Until then all is as before, over a reload too.
  await expect(page).toHaveTitle('Dusklens');
  await page.reload();
  await notebook.idle();
  await expect(page).toHaveTitle('Dusklens');
  await loadIt(page).click();
  await expect(page).toHaveTitle('Dusklens, newer');
  await notebook.idle();
  await expect(notice(page)).toBeEmpty();
  const names = await page.evaluate(() => window.caches.keys());
  expect(names).toEqual([`dusklens ${site.address} ${'f'.repeat(16)}`]);
  expect(notebook.complaints).toEqual([]);
});

test('a build that is only half there is not taken', async ({ page, site, newer }) => {
  const notebook = await Notebook.open(page, site.address);
  await kept(page);
  // The worker of the newer build, but a page that is of neither.
  writeFileSync(join(newer, 'index.html'), 'half');
  site.folder = newer;
  await page.reload();
  await notebook.idle();
  const state = await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    await registration.update().catch(() => undefined);
    const worker = registration.installing;
    if (worker) {
      await new Promise<void>((resolve) => {
        worker.addEventListener('statechange', () => resolve());
      });
    }
    return worker?.state ?? 'redundant';
  });
  expect(state).toBe('redundant');
  await expect(notice(page)).toBeEmpty();
  await page.reload();
  await expect(page).toHaveTitle('Dusklens');
});

for (const theme of ['paper', 'night']) {
  test(`the notice keeps nobody out: ${theme}`, async ({ page, site, newer }) => {
    test.slow();
    await page.setViewportSize({ width: 390, height: 900 });
    const notebook = await meetNewer(page, site, newer, `#theme=${theme}`);
    await notebook.choose(sample(FIRST_PASS));
    await expect(notice(page)).toContainText('closes the recording');
    await expectNoBarriers(page);
    await expectNoSidewaysScroll(page);
    await page.setViewportSize({ width: 1280, height: 900 });
    await expectNoSidewaysScroll(page);
  });
}

/** Looks at a recording from all sides. */
async function work(notebook: Notebook): Promise<void> {
  await notebook.drop(sample(FIRST_PASS));
  await expect(notebook.rows).toHaveCount(15);
  await notebook.rows.nth(2).click();
  await notebook.idle();
  const count = await notebook.page.getByRole('tab').count();
  await notebook.picture.focus();
  for (let leaf = 1; leaf <= count; leaf += 1) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- one leaf after the other
    await notebook.page.keyboard.press(`Digit${leaf}`);
    // oxlint-disable-next-line eslint/no-await-in-loop -- as above
    await notebook.idle();
  }
}

for (const visit of ['first', 'second']) {
  test(`once it is there the site asks for nothing more: ${visit} visit`, async ({ page, site }) => {
    const requests: string[] = [];
    page.context().on('request', (request) => requests.push(request.url()));
    const notebook = await Notebook.open(page, site.address);
    await kept(page);
    if (visit === 'second') {
      await page.reload();
      await notebook.idle();
    }
    const own = requests.filter((url) => new URL(url).origin === new URL(site.address).origin || /^(data|blob):/.test(url));
    expect(requests).toEqual(own);
    requests.length = 0;
    site.asked.length = 0;
    await work(notebook);
    expect(requests.filter((url) => !/^(data|blob):/.test(url))).toEqual([]);
    // The browser itself looks for a newer worker once for each visit, when it likes.
    expect(site.asked.filter((path) => path !== '/service-worker.js')).toEqual([]);
    expect(notebook.complaints).toEqual([]);
  });
}

test('the page in one file asks for nothing at all, and tries nothing', async ({ page }) => {
  const requests: string[] = [];
  page.context().on('request', (request) => requests.push(request.url()));
  const [, { address }] = shapes;
  const notebook = await Notebook.open(page, address);
  await work(notebook);
  const beyond = requests.filter((url) => !/^(data|blob):/.test(url));
  expect(beyond).toEqual([address]);
  await expect(page.locator('link[rel="manifest"]')).toHaveCount(0);
  expect(notebook.complaints).toEqual([]);
});

test('the page in one file keeps nothing for offline use, even from a site', async ({ page, site }) => {
  const notebook = await Notebook.open(page, `${site.address}dusklens.html`);
  const count = await page.evaluate(async () => (await navigator.serviceWorker.getRegistrations()).length);
  expect(count).toBe(0);
  expect(site.asked).not.toContain('/service-worker.js');
  expect(notebook.complaints).toEqual([]);
});
