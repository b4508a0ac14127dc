import { css } from 'lit';

export const panelStyles = css`
  :host {
    display: block;
    min-width: 0;
  }
  h3 {
    margin-bottom: 0.5rem;
  }
  h4 {
    margin: 0.8rem 0 0.2rem;
    font-size: 1rem;
  }
  .hint {
    padding: 1.2rem 1.3rem;
    border: 1.5px dashed var(--line-strong);
    color: var(--soft);
  }
  .tools {
    margin-bottom: 0.4rem;
  }
  select {
    max-width: 60vw;
  }
  .key {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.2rem 1.1rem;
    margin-bottom: 0.6rem;
    color: var(--soft);
  }
  .key span {
    display: inline-flex;
    align-items: center;
    gap: 0.4rem;
    white-space: nowrap;
  }
  .sign {
    width: 1.8rem;
    border-top: 1px solid var(--ink);
  }
  .sign.median {
    border-top: 3px solid var(--pencil);
  }
  .sign.band {
    height: 0.9rem;
    border: 0;
    background: color-mix(in srgb, var(--pencil) 25%, transparent);
  }
  .sign.striking {
    border-top: 2px dashed var(--ink);
  }
  ul {
    margin: 0;
    padding: 0;
    list-style: none;
  }
  li {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 0 0.6rem;
  }
  details {
    font-size: 0.94rem;
  }
  summary {
    min-height: 2rem;
    cursor: pointer;
  }
  li button {
    min-height: 2rem;
    padding-inline: 0.3rem;
    font-weight: 600;
  }
  .scroll {
    position: relative;
    margin-block: 0.9rem;
    overflow-x: auto;
    border: 1.5px solid var(--line-strong);
    background: var(--sheet);
  }
  table {
    width: 100%;
    border-collapse: collapse;
    font-size: 0.84rem;
    font-variant-numeric: tabular-nums lining-nums;
  }
  th,
  td {
    padding: 0.28rem 0.45rem;
    border-top: 1px solid var(--line);
    text-align: right;
  }
  thead th {
    border-top: 0;
    color: var(--soft);
    font-weight: 600;
    vertical-align: bottom;
  }
  td {
    white-space: nowrap;
  }
  th:first-child {
    text-align: left;
    font-weight: 600;
  }
  abbr {
    text-decoration: none;
  }
`;
