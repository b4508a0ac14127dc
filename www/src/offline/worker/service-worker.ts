/**
 * Keeps the files of one build, so that the page opens without a network. What is not on the list goes its usual way,
 * and nothing else is ever stored.
 */

import type { TakeOver } from '../take-over.ts';

declare const self: ServiceWorkerGlobalScope;
/** The files, relative to the page's folder, each with the hash of its content; put in by `build/offline.ts`. */
declare const KEPT_FILES: Readonly<Record<string, string>>;
/** A hash of that list. */
declare const BUILD_HASH: string;

/** All pages of a host share its caches, so ours bear the folder that they belong to. */
const OURS = `dusklens ${self.registration.scope} `;
const CACHE = OURS + BUILD_HASH;

const INTEGRITY: ReadonlyMap<string, string> = new Map(
  Object.entries(KEPT_FILES).map(([file, integrity]) => [new URL(file, self.registration.scope).href, integrity]),
);

self.addEventListener('install', (event) => {
  event.waitUntil(keepAll());
});

self.addEventListener('activate', (event) => {
  event.waitUntil(forgetOthers());
});

self.addEventListener('message', (event) => {
  // Only a person's word makes it take over: pages that are open belong to the build before.
  if (event.data === ('take over' satisfies TakeOver)) {
    void self.skipWaiting();
  }
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const address = keptAs(request.url);
  if (request.method === 'GET' && INTEGRITY.has(address)) {
    event.respondWith(answer(address, request));
  }
});

/** One file after the other, since the page may be drawing a recording meanwhile. All of them, or the build is not kept. */
async function keepAll(): Promise<void> {
  const cache = await caches.open(CACHE);
  for (const [address, integrity] of INTEGRITY) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- see above
    await cache.put(address, await fetched(address, integrity));
  }
}

/** A file as the build made it: while a host changes from one build to the next, it may hand out either. */
async function fetched(address: string, integrity: string): Promise<Response> {
  const response = await fetch(address, { cache: 'no-cache', integrity });
  if (!response.ok) {
    throw new Error(`${address}: ${response.status}`);
  }
  // A browser opens no page from an answer that says it was led elsewhere.
  return response.redirected ? new Response(response.body, { headers: response.headers }) : response;
}

async function forgetOthers(): Promise<void> {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(OURS) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
}

/** The address under which a file is kept: the page is the same whatever follows a `?`, and under its full name. */
function keptAs(url: string): string {
  const address = new URL(url);
  address.search = '';
  address.hash = '';
  return address.href === new URL('index.html', self.registration.scope).href ? self.registration.scope : address.href;
}

async function answer(address: string, request: Request): Promise<Response> {
  const kept = await caches.match(address, { cacheName: CACHE, ignoreVary: true });
  // A browser short of room may have thrown the cache away.
  return kept ?? fetch(request);
}
