import { css } from 'lit';

/** The choice of a file, whose button a browser would draw grey in every theme. */
export const fileStyles = css`
  .file {
    flex-wrap: wrap;
  }
  .file input {
    max-width: 18rem;
  }
  .file input::file-selector-button {
    min-height: 2.5rem;
    margin-right: 0.6rem;
    padding: 0.35rem 0.85rem;
    border: 1.5px solid var(--line-strong);
    border-radius: 3px;
    background: var(--sheet);
    color: var(--ink);
    font: inherit;
    cursor: pointer;
  }
  .file input:hover::file-selector-button {
    background: var(--wash);
  }
`;
