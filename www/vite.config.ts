import { defineConfig, type UserConfig } from 'vite';
import { viteSingleFile } from 'vite-plugin-singlefile';

import { contentSecurityPolicy } from './build/content-security-policy.ts';
import { offline } from './build/offline.ts';
import { renamePage } from './build/rename-page.ts';
import { sampleCalls } from './build/sample-calls.ts';

/** Serves only to this machine: recordings are nobody else's business. */
const host = '127.0.0.1';

/** How many bytes of samples the one-file page carries: it still opens at once from a slow stick. */
const SAMPLES_INSIDE = 2_500_000;

/** The static site: files beside each other, with relative paths, for any folder of any host. */
const site: UserConfig = {
  base: './',
  // An asset turned into a data: URL could not be fetched under the site's policy.
  build: { outDir: 'dist', assetsInlineLimit: 0, modulePreload: { polyfill: false } },
  plugins: [sampleCalls(Number.MAX_SAFE_INTEGER), contentSecurityPolicy('site'), offline()],
};

/** The page in one file, for a memory stick: script, style, wasm and worker all inside. */
const oneFile: UserConfig = {
  base: './',
  publicDir: false,
  build: {
    outDir: 'dist',
    emptyOutDir: false,
    assetsInlineLimit: Number.MAX_SAFE_INTEGER,
    modulePreload: { polyfill: false },
  },
  plugins: [
    sampleCalls(SAMPLES_INSIDE),
    viteSingleFile({ removeViteModuleLoader: true }),
    renamePage('dusklens.html'),
    contentSecurityPolicy('one-file'),
  ],
};

export default defineConfig(({ mode }) => ({
  ...(mode === 'one-file' ? oneFile : site),
  // Blob workers cannot load further modules, so each worker is one script.
  worker: { format: 'iife' },
  // What is not there is reported as missing, not answered with the page.
  appType: 'mpa',
  server: { host },
  preview: { host },
}));
