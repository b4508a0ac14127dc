import { css } from 'lit';

export const settingsStyles = css`
  :host {
    display: block;
  }
  section {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(min(19rem, 100%), 1fr));
    gap: 1rem 2rem;
    padding: 0.9rem 1.1rem 1.1rem;
    margin-bottom: 0.8rem;
    border: 1.5px solid var(--line-strong);
    border-radius: 3px;
    background: var(--sheet);
  }
  fieldset {
    display: flex;
    flex-direction: column;
    gap: 0.6rem;
    min-width: 0;
    margin: 0;
    padding: 0;
    border: 0;
  }
  legend {
    padding: 0 0 0.5rem;
    font-weight: 600;
  }
  label {
    min-height: 1.9rem;
  }
  .row {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.4rem 1.2rem;
  }
  select {
    max-width: 100%;
    min-width: 0;
    padding-inline: 0.55rem;
  }
  input[type='range'] {
    width: 100%;
    min-width: 0;
    min-height: 1.7rem;
    margin: 0;
    accent-color: var(--pencil);
  }
  .slide {
    display: grid;
    gap: 0;
  }
  .ends {
    display: flex;
    justify-content: space-between;
    gap: 1rem;
    font-size: 0.88rem;
  }
  .level {
    display: grid;
    grid-template-columns: 3.4rem minmax(0, 1fr) 5.2rem auto;
    align-items: center;
    gap: 0.6rem;
  }
  .level .field {
    width: 100%;
    padding-inline: 0.5rem;
    font-variant-numeric: tabular-nums;
  }
`;
