import { css } from 'lit';

/** A button that is on or off: a ring that fills. */
export const toggleStyles = css`
  .toggle::before {
    content: '';
    display: inline-block;
    width: 0.7em;
    height: 0.7em;
    margin-right: 0.55em;
    border: 1.5px solid currentColor;
    border-radius: 50%;
  }
  .toggle[aria-pressed='true'] {
    border-color: var(--ink);
    background: var(--wash);
  }
  .toggle[aria-pressed='true']::before {
    background: currentColor;
  }
`;
