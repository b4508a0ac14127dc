import { css } from 'lit';

export const shareStyles = css`
  dialog {
    width: min(64rem, calc(100vw - 1.5rem));
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
  .results,
  section {
    display: grid;
    align-content: start;
    gap: 0.8rem;
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
  .above {
    display: grid;
    gap: 0.2rem;
  }
  .above .field,
  .text {
    width: 100%;
  }
  textarea {
    font: inherit;
    color: inherit;
    resize: vertical;
  }
  .text {
    font-family: ui-monospace, monospace;
    font-size: 0.85rem;
    line-height: 1.4;
    overflow-wrap: anywhere;
  }
  .carries {
    display: grid;
    gap: 0.35rem;
    margin: 0;
    padding-left: 1.2rem;
    overflow-wrap: anywhere;
  }
  /* A box to tick stands for the dot. */
  .carries li:has(input) {
    margin-left: -1.2rem;
    list-style: none;
  }
  .carries label {
    display: inline-flex;
    align-items: start;
    gap: 0.5rem;
    min-height: 1.7rem;
  }
  .caution {
    padding-left: 0.8rem;
    border-left: 4px solid var(--pencil);
  }
  .row {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.6rem 1rem;
  }
  /* A camera needs black on white; at night it shines red alone. */
  .code {
    position: relative;
    justify-self: start;
    width: min(26rem, 100%);
    margin: 0;
    background: #fff;
    isolation: isolate;
  }
  .code::after {
    content: '';
    position: absolute;
    inset: 0;
    mix-blend-mode: multiply;
    background: var(--picture-filter, none);
    pointer-events: none;
  }
  .code img {
    display: block;
    width: 100%;
    image-rendering: pixelated;
  }
  .said {
    min-height: 1.5em;
    font-weight: 600;
  }
`;
