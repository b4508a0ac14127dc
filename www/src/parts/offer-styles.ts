import { css } from 'lit';

/** Something found in a file that only the person can decide about, with what to decide beside it. */
export const offerStyles = css`
  :host {
    display: block;
  }
  .offer {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.6rem 1.2rem;
    max-width: 62rem;
    padding: 0.8rem 1rem;
    background: var(--warn);
    border-left: 4px solid var(--pencil);
  }
  .offer p {
    flex: 1 1 20rem;
    overflow-wrap: anywhere;
  }
`;
