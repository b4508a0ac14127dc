import { css } from 'lit';

/** A picture on white paper, of class `proof`, which at night shines red alone. */
export const nightLight = css`
  .proof {
    position: relative;
    isolation: isolate;
  }
  .proof::after {
    content: '';
    position: absolute;
    inset: 0;
    mix-blend-mode: multiply;
    background: var(--picture-filter, none);
    pointer-events: none;
  }
`;
