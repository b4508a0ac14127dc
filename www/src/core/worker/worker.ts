/** The script of a worker: one instance of the core, and what the page may ask of it. */

import { expose } from 'comlink';

import { NEEDS_BYTES } from '../types.ts';
import { CoreEngine } from './core-engine.ts';

// A compiled module cannot be handed over everywhere; the message that carries it is then unreadable.
// oxlint-disable-next-line unicorn/require-post-message-target-origin -- a worker's postMessage takes none
self.addEventListener('messageerror', () => self.postMessage(NEEDS_BYTES));

expose(new CoreEngine());
