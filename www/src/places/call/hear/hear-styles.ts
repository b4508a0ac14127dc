import { css } from 'lit';

export const hearStyles = css`
  :host {
    display: block;
  }
  section {
    display: grid;
    gap: 0.55rem;
    padding: 0.8rem 1rem;
    border: 1.5px solid var(--line-strong);
    border-radius: 3px;
    background: var(--sheet);
  }
  .row,
  fieldset,
  .dial {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.5rem 1.2rem;
  }
  fieldset {
    min-width: 0;
    margin: 0;
    padding: 0;
    border: 0;
  }
  label {
    min-height: 2.5rem;
  }
  .dial {
    gap: 0.5rem;
  }
  .play {
    /* As wide with one word as with the other. */
    min-width: 6.4rem;
  }
  .clock {
    margin-left: auto;
    font-variant-numeric: tabular-nums;
  }
  .percent {
    min-width: 3.2rem;
    font-variant-numeric: tabular-nums;
  }
  .number {
    width: 5.6rem;
    padding-inline: 0.5rem;
  }
  /* Drawn here, since a browser's own track is grey in every theme. */
  input[type='range'] {
    appearance: none;
    width: 11rem;
    max-width: 52vw;
    height: 2.5rem;
    background: none;
    cursor: pointer;
  }
  input[type='range']::-webkit-slider-runnable-track {
    height: 8px;
    border: 1.5px solid var(--line-strong);
    border-radius: 4px;
    background: var(--wash);
  }
  input[type='range']::-moz-range-track {
    height: 5px;
    border: 1.5px solid var(--line-strong);
    border-radius: 4px;
    background: var(--wash);
  }
  input[type='range']::-webkit-slider-thumb {
    appearance: none;
    width: 24px;
    height: 24px;
    margin-top: -9.5px;
    border: 2px solid var(--sheet);
    border-radius: 50%;
    background: var(--pencil);
  }
  input[type='range']::-moz-range-thumb {
    width: 20px;
    height: 20px;
    border: 2px solid var(--sheet);
    border-radius: 50%;
    background: var(--pencil);
  }
  select {
    max-width: 70vw;
  }
  .caution {
    flex: 1 1 18rem;
    max-width: 62rem;
    padding-left: 0.8rem;
    border-left: 3px double var(--pencil);
  }
  .problem {
    padding: 0.35rem 0.8rem;
    background: var(--warn);
    border-radius: 3px;
  }
`;
