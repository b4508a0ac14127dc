import { css } from 'lit';

/** What the dialogue of a label has beside the page's own dialogues. */
export const labelDialogStyles = css`
  dialog {
    width: min(38rem, calc(100vw - 2rem));
  }
  /* Beside what is labelled, where there is room: one looks at it while one writes. */
  @media (min-width: 1100px) {
    dialog {
      width: 32rem;
      margin-right: 2rem;
    }
    dialog::backdrop {
      background: rgb(0 0 0 / 20%);
    }
  }
  form {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: 0.8rem;
  }
  .wide {
    display: grid;
    gap: 0.25rem;
  }
  .field {
    width: 100%;
    background: var(--page);
    color: inherit;
    font: inherit;
  }
  textarea {
    resize: vertical;
  }
  fieldset {
    display: grid;
    gap: 0.15rem;
    margin: 0;
    padding: 0;
    border: 0;
    min-width: 0;
  }
  legend {
    padding: 0;
    margin-bottom: 0.2rem;
  }
  fieldset label {
    min-height: 1.8rem;
  }
  .together {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.2rem 0.8rem;
  }
  .together .field {
    width: 12rem;
    min-height: 2.2rem;
  }
  .fault {
    color: var(--pencil);
    font-weight: 600;
  }
  .fault:empty {
    display: none;
  }
  .row {
    position: sticky;
    bottom: -1.4rem;
    display: flex;
    flex-wrap: wrap;
    gap: 0.6rem;
    margin: 0 -1.6rem -1.4rem;
    padding: 0.7rem 1.6rem;
    border-top: 1.5px solid var(--line);
    background: var(--sheet);
  }
`;
