import { css } from 'lit';

export const tableStyles = css`
  :host {
    position: relative;
    display: block;
    min-width: 0;
  }
  .scroll {
    position: relative;
    max-height: min(70vh, 44rem);
    overflow: auto;
    border: 1.5px solid var(--line-strong);
    background: var(--sheet);
  }
  /* Says that the table goes on to the right. */
  .more {
    position: absolute;
    inset: 1.5px 1.5px 1.5px auto;
    z-index: 3;
    width: 2.6rem;
    padding: 0.4rem 0.5rem;
    text-align: right;
    font-weight: 700;
    background: linear-gradient(to right, transparent, var(--sheet) 75%);
    pointer-events: none;
  }
  table {
    width: 100%;
    border-collapse: separate;
    border-spacing: 0;
    font-variant-numeric: tabular-nums lining-nums;
    font-size: 0.94rem;
  }
  thead {
    position: sticky;
    top: 0;
    z-index: 2;
    background: var(--sheet);
  }
  thead th,
  thead td {
    padding: 0.3rem 0.55rem;
    background: var(--sheet);
    font-weight: 600;
    vertical-align: bottom;
    line-height: 1.25;
  }
  .groups th {
    padding-top: 0.6rem;
    font-family: var(--hand);
    font-style: italic;
    text-align: left;
    white-space: nowrap;
    border-left: 1.5px solid var(--line);
  }
  thead tr:last-child > * {
    border-bottom: 2px solid var(--line-strong);
  }
  tbody th,
  tbody td {
    padding: 0.35rem 0.55rem;
    border-bottom: 1px solid var(--line);
    white-space: nowrap;
  }
  .figure {
    text-align: right;
  }
  .words {
    text-align: left;
  }
  .first {
    border-left: 1.5px solid var(--line);
  }
  th:first-child,
  .groups td {
    padding-right: 1rem;
    position: sticky;
    left: 0;
    z-index: 1;
    background: var(--sheet);
    text-align: right;
  }
  /* Its width is that of the most digits, so that points stand below one another. */
  .fraction {
    display: inline-block;
    min-width: calc(var(--digits) * 1ch + 0.35em);
    text-align: left;
  }
  .spread {
    display: inline-block;
    min-width: calc(var(--digits) * 1ch + 3.2em);
    padding-left: 0.3em;
    font-size: 0.82em;
    font-weight: 400;
    text-align: left;
    white-space: pre;
    color: var(--soft);
  }
  /* Above the number itself, and not above its uncertainty. */
  thead .wide {
    text-align: left;
  }
  tr.doubted > * {
    color: var(--soft);
  }
  tr.doubted .number {
    outline: 1px dashed var(--line-strong);
    font-weight: 400;
  }
  tbody tr {
    cursor: pointer;
  }
  tbody tr:hover > * {
    background: var(--wash);
  }
  tbody tr:focus-visible {
    outline-offset: -3px;
  }
  tr[aria-selected='true'] > * {
    background: var(--wash);
    font-weight: 700;
  }
  .flag {
    display: inline-block;
    width: 0;
    margin-left: 0.15em;
    font-weight: 400;
  }
  .number {
    display: inline-block;
    min-width: 2.1em;
    padding: 0 0.35em;
    border-radius: 3px;
    text-align: center;
  }
  tr[aria-selected='true'] .number {
    background: var(--pencil);
    color: var(--on-pencil);
  }
  .mark {
    margin-left: 0.5em;
    font-size: 0.82rem;
    font-weight: 400;
    white-space: nowrap;
    color: var(--pencil);
  }
`;
