import { css } from 'lit';

/** Controls above a leaf's matter. */
export const toolStyles = css`
  :host {
    display: block;
    min-width: 0;
  }
  .heading {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 0.3rem 1rem;
    margin-bottom: 0.7rem;
  }
  .tools {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.6rem 1.3rem;
    margin-bottom: 0.8rem;
  }
  .tools select {
    max-width: min(17rem, 60vw);
    padding-inline: 0.55rem;
  }
  .together {
    display: inline-flex;
    flex-wrap: wrap;
    gap: 0.35rem;
  }
  button[aria-pressed='true'] {
    border-color: var(--ink);
    background: var(--wash);
  }
  label {
    min-height: 1.6rem;
  }
  details[open] {
    flex-basis: 100%;
  }
  summary {
    min-height: 2.5rem;
    padding-block: 0.5rem;
    cursor: pointer;
  }
  fieldset {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.4rem 1.3rem;
    margin: 0;
    padding: 0.6rem 0.9rem;
    border: 1.5px solid var(--line-strong);
    border-radius: 3px;
  }
`;
