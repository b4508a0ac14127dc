import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

import type { Plugin } from 'vite';

const SOURCE = fileURLToPath(new URL('../src/offline/worker/service-worker.ts', import.meta.url));
const WORKER = 'service-worker.js';

/** The page goes by the address of its folder: some hosts lead from `index.html` there, and none the other way. */
const PAGE = './';

/** Forgets what an earlier build kept under this address, which would hide the sources that are being worked on. */
const FORGETTING = `
  addEventListener('install', () => skipWaiting());
  addEventListener('activate', (event) => event.waitUntil((async () => {
    for (const name of await caches.keys()) { await caches.delete(name); }
    await registration.unregister();
  })()));
`;

/**
 * Makes the static site installable and readable without a network: names the manifest and the icon in the page, and
 * gives the service worker the list of all files of this build, each with the hash of its content.
 */
export function offline(): Plugin[] {
  let publicFolder = '';
  return [
    {
      name: 'dusklens-offline',
      apply: 'build',
      // Put last in the list of plugins, so that the policy is in the page whose hash is taken.
      enforce: 'post',
      configResolved({ publicDir }) {
        publicFolder = publicDir;
      },
      buildStart() {
        this.emitFile({ type: 'chunk', id: SOURCE, fileName: WORKER });
      },
      transformIndexHtml: (html) => html.replace('<link rel="icon" href="data:," />', links(publicFolder)),
      generateBundle: {
        // After everything that still changes the page.
        order: 'post',
        handler(_options, bundle) {
          const worker = bundle[WORKER];
          if (worker?.type !== 'chunk') {
            this.error(`there is no ${WORKER} to give the list of files to`);
          }
          const kept = new Map(publicFiles(publicFolder));
          for (const file of Object.values(bundle)) {
            if (file !== worker) {
              kept.set(file.fileName, integrityOf(file.type === 'chunk' ? file.code : file.source));
            }
          }
          worker.code = filled(worker.code, kept);
        },
      },
    },
    {
      name: 'dusklens-offline-forgotten',
      apply: 'serve',
      configureServer({ middlewares }) {
        middlewares.use(`/${WORKER}`, (_request, response) => {
          response.setHeader('Content-Type', 'text/javascript');
          response.end(FORGETTING);
        });
      },
    },
  ];
}

/** The page's own icon lies inside of it: browsers ask for a file anew with every change of the address. */
function links(folder: string): string {
  const icon = encodeURIComponent(readFileSync(`${folder}/icon.svg`, 'utf8'));
  return [
    `<link rel="icon" href="data:image/svg+xml,${icon}" />`,
    '<link rel="apple-touch-icon" href="./icon-192.png" />',
    '<link rel="manifest" href="./dusklens.webmanifest" />',
  ].join('\n    ');
}

/** The files that are copied as they are. */
function publicFiles(folder: string): [string, string][] {
  return readdirSync(folder).map((name) => [name, integrityOf(readFileSync(`${folder}/${name}`))]);
}

/** How a browser is told what the content of a file has to be. */
function integrityOf(content: string | Uint8Array): string {
  return `sha256-${createHash('sha256').update(content).digest('base64')}`;
}

/** The worker with its list, in an order of its own, so that the same files give the same worker. */
function filled(code: string, kept: ReadonlyMap<string, string>): string {
  const names = [...kept.keys()].toSorted();
  const list = JSON.stringify(
    Object.fromEntries(names.map((name) => [name === 'index.html' ? PAGE : encodeURI(name), kept.get(name)])),
  );
  const build = createHash('sha256').update(list).digest('hex').slice(0, 16);
  // Functions, since a $ in a replacement would be taken for more than itself.
  return code.replace('KEPT_FILES', () => list).replace('BUILD_HASH', () => JSON.stringify(build));
}
