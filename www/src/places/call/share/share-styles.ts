import { css } from 'lit';

export const shareStyles = css`
  dialog {
    width: min(64rem, calc(100vw - 1.5rem));
  }
  section {
    display: grid;
    align-content: start;
    gap: 0.8rem;
    min-width: 0;
  }
  .text {
    width: 100%;
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
  /* A camera needs black on white. */
  .code {
    justify-self: start;
    width: min(26rem, 100%);
    margin: 0;
    background: #fff;
  }
  .code img {
    display: block;
    width: 100%;
    image-rendering: pixelated;
  }
`;
