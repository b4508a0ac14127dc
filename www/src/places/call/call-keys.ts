import { html } from 'lit';
import type { PlaceKeys } from '../../shell/place.ts';
import { LEAVES } from './leaves.ts';
import { KEY_WORDS } from './picture/keys.ts';

/** The keys of the Call place, and what mouse and fingers do. */
export const CALL_KEYS: PlaceKeys = {
  when: 'They work while the picture has the focus: click it, or go there with Tab.',
  words: KEY_WORDS,
  more: html`
    <p><kbd>1</kbd> to <kbd>${LEAVES.length}</kbd>: the leaves below the picture, wherever the focus is in a recording.</p>
    <h3>Mouse and fingers</h3>
    <p>
      The wheel comes closer in time, with Shift in frequency. Drag to move; two fingers stretch.
      A double click shows the whole recording. Click a pulse to choose it.
    </p>
  `,
};
