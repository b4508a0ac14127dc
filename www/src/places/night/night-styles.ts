import { css } from 'lit';

/** How the Night place is laid out. */
export const nightStyles = css`
  :host {
    display: block;
  }
  main {
    display: grid;
    gap: 0.9rem;
    min-width: 0;
  }
  main > * {
    min-width: 0;
  }
  main:focus {
    outline: none;
  }
  h1 {
    font-size: clamp(1.7rem, 4vw, 2.4rem);
    letter-spacing: -0.01em;
  }
  .lead {
    font-size: 1.2rem;
  }
  .line,
  .head {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.6rem 1rem;
  }
  .head {
    justify-content: space-between;
  }
  ul {
    margin: 0;
    padding-left: 1.3rem;
    max-width: 42em;
  }
  li {
    margin: 0.25rem 0;
    overflow-wrap: anywhere;
  }
  .notice,
  .complaint {
    padding: 0.6rem 0.9rem;
    border: 1.5px solid var(--line-strong);
    border-left-width: 5px;
    border-radius: 3px;
    background: var(--warn);
    max-width: none;
  }
  summary {
    cursor: pointer;
  }
  .veil {
    position: fixed;
    inset: 0.8rem;
    z-index: 5;
    display: grid;
    place-content: center;
    border: 3px dashed var(--pencil);
    border-radius: 8px;
    background: color-mix(in srgb, var(--page) 88%, transparent);
    font-family: var(--hand);
    font-size: 1.8rem;
    pointer-events: none;
  }
`;
