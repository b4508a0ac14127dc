import { css } from 'lit';

/** A dialogue with choices on one side and what comes of them on the other; one below the other where it is narrow. */
export const sidedStyles = css`
  dialog {
    max-width: none;
    max-height: calc(100vh - 1.5rem);
    padding: 1.3rem 1.5rem;
  }
  .head {
    display: flex;
    align-items: center;
    justify-content: space-between;
    margin-bottom: 0.9rem;
  }
  .sides {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: 1.2rem 2rem;
  }
  .choices,
  .results {
    display: grid;
    align-content: start;
    gap: 0.9rem;
    min-width: 0;
  }
  @media (min-width: 58rem) {
    .sides {
      grid-template-columns: 19rem minmax(0, 1fr);
    }
  }
  fieldset {
    display: grid;
    gap: 0.2rem;
    margin: 0;
    padding: 0.5rem 0.9rem 0.7rem;
    border: 1.5px solid var(--line-strong);
    border-radius: 3px;
  }
  fieldset label {
    min-height: 2rem;
  }
  .row {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.6rem 1rem;
  }
  .above {
    display: grid;
    gap: 0.2rem;
  }
  .above select,
  .above .field {
    width: 100%;
  }
  textarea {
    font: inherit;
    color: inherit;
    resize: vertical;
  }
  .said {
    min-height: 1.5em;
    font-weight: 600;
  }
`;
