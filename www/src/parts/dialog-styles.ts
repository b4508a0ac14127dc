import { css } from 'lit';

/** A dialogue: a sheet over the page, which scrolls by itself where the window is low. */
export const dialogStyles = css`
  dialog {
    max-height: calc(100vh - 2rem);
    overflow: auto;
    padding: 1.4rem 1.6rem;
    border: 2px solid var(--ink);
    border-radius: 4px;
    background: var(--sheet);
    color: var(--ink);
  }
  dialog::backdrop {
    background: rgb(0 0 0 / 55%);
  }
`;
