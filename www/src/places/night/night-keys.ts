import { html } from 'lit';
import type { PlaceKeys } from '../../shell/place.ts';

/** The keys of the Night place. */
export const NIGHT_KEYS: PlaceKeys = {
  when: 'On the leaf “Files”, while no text is being written:',
  words: [
    [['↑', '↓'], 'the file before, the next one (in the list)'],
    [['Space'], 'the next file'],
    [['B'], 'there is a bat in it, and on to the next'],
    [['O'], 'there is no bat in it, and on to the next'],
    [['U'], 'cannot tell, and on to the next'],
    [['N'], 'write a label; Enter gives it'],
    [['R'], 'the last label again, and on to the next'],
    [['Enter'], 'see the file in Call (in the list)'],
    [['1', '…', '5'], 'turn to a leaf'],
  ],
  more: html`<p class="soft">Nothing on the card is ever moved, changed or deleted.</p>`,
};
