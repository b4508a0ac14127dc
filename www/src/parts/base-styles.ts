import { css } from 'lit';

/** What every component's inside shares: type, controls, focus. */
export const base = css`
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  :host([hidden]),
  [hidden] {
    display: none !important;
  }
  h1,
  h2,
  h3 {
    font-family: var(--hand);
    font-weight: 600;
    line-height: 1.2;
    margin: 0;
    text-wrap: balance;
  }
  h2 {
    font-size: 1.35rem;
  }
  h3 {
    font-size: 1.1rem;
  }
  p {
    margin: 0;
    max-width: 42em;
    text-wrap: pretty;
  }
  button,
  select,
  input {
    font: inherit;
    color: inherit;
  }
  button,
  select,
  .field {
    min-height: 2.5rem;
    padding: 0.35rem 0.85rem;
    border: 1.5px solid var(--line-strong);
    border-radius: 3px;
    background: var(--sheet);
  }
  button {
    cursor: pointer;
  }
  button:hover:not(:disabled),
  select:hover {
    background: var(--wash);
  }
  button:disabled {
    color: var(--soft);
    border-style: dashed;
    cursor: default;
  }
  button.main {
    background: var(--ink);
    border-color: var(--ink);
    color: var(--sheet);
    font-weight: 600;
  }
  button.main:hover {
    background: var(--pencil);
    border-color: var(--pencil);
    color: var(--on-pencil);
  }
  button.plain {
    border-color: transparent;
    background: none;
    text-decoration: underline;
    text-decoration-thickness: 1px;
    text-underline-offset: 0.2em;
  }
  button.plain:hover:not(:disabled) {
    text-decoration-thickness: 2px;
    background: var(--wash);
  }
  a {
    color: var(--pencil);
    text-decoration-thickness: 1px;
    text-underline-offset: 0.2em;
  }
  a:hover {
    text-decoration-thickness: 2px;
  }
  :focus-visible {
    outline: 3px solid var(--focus);
    outline-offset: 2px;
    border-radius: 2px;
  }
  label {
    display: inline-flex;
    align-items: center;
    gap: 0.5em;
  }
  /* Drawn here, since a browser's own are grey or white in every theme. */
  input[type='checkbox'],
  input[type='radio'] {
    appearance: none;
    display: inline-grid;
    place-content: center;
    flex: none;
    width: 1.2em;
    height: 1.2em;
    margin: 0;
    border: 1.5px solid var(--line-strong);
    border-radius: 3px;
    background: var(--sheet);
  }
  input[type='radio'] {
    border-radius: 50%;
  }
  input:checked::before {
    content: '';
    width: 0.62em;
    height: 0.62em;
    border-radius: inherit;
    background: var(--pencil);
  }
  input[type='checkbox']:checked::before {
    border-radius: 0;
    clip-path: polygon(6% 48%, 24% 32%, 40% 58%, 84% 0, 100% 14%, 44% 100%);
    width: 0.85em;
    height: 0.85em;
  }
  option {
    background: var(--sheet);
    color: var(--ink);
  }
  progress {
    appearance: none;
    height: 0.6rem;
    width: 12rem;
    max-width: 100%;
    border: 1.5px solid var(--line-strong);
    border-radius: 1rem;
    background: var(--sheet);
    overflow: hidden;
  }
  progress::-webkit-progress-bar {
    background: var(--sheet);
  }
  progress::-webkit-progress-value {
    background: var(--pencil);
  }
  progress::-moz-progress-bar {
    background: var(--pencil);
  }
  /* Where the person has chosen all colours, what is on must be told by the ones that are left. */
  @media (forced-colors: active) {
    input:checked::before,
    [aria-pressed='true']::before {
      forced-color-adjust: none;
      background: CanvasText;
    }
    [aria-pressed='true'],
    [aria-selected='true'],
    [aria-current='true'] {
      outline: 3px solid Highlight;
      outline-offset: -3px;
    }
    progress {
      appearance: auto;
    }
  }
  .soft {
    color: var(--soft);
  }
  .small {
    font-size: 0.88rem;
  }
  .quiet {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
`;
