import { css } from 'lit';

export const laneStyles = css`
  :host {
    display: block;
    min-width: 0;
    padding-top: 0.9rem;
    border-top: 1.5px solid var(--line);
    content-visibility: auto;
    contain-intrinsic-size: auto 24rem;
  }
  h3 {
    display: flex;
    align-items: center;
    gap: 0.5rem;
  }
  .sign {
    flex: none;
    width: 1.1rem;
    height: 1.1rem;
    fill: var(--lane);
  }
  .sum {
    max-width: none;
    margin-bottom: 0.5rem;
  }
  .plot {
    display: block;
    font-variant-numeric: tabular-nums;
  }
  .plot:focus-visible {
    /* Outside, it would be cut off. */
    outline-offset: -3px;
  }
  .plot text {
    fill: var(--soft);
    font-size: 0.82rem;
  }
  .plot line {
    stroke: var(--line-strong);
    stroke-width: 1.5;
  }
  .plot .rule {
    stroke: var(--line);
    stroke-width: 1;
  }
  .plot .word {
    fill: var(--ink);
    font-weight: 600;
  }
  .buzz {
    fill: var(--pencil);
    opacity: 0.13;
  }
  .hatched {
    fill: url('#hatch');
  }
  #hatch line {
    stroke: var(--pencil);
    stroke-width: 1;
    opacity: 0.5;
  }
  .mark {
    cursor: pointer;
  }
  .mark path {
    fill: var(--lane);
    stroke: var(--page);
    stroke-width: 0.8;
  }
  .mark .missed {
    fill: var(--page);
    stroke: var(--lane);
    stroke-width: 2;
  }
  .mark .gap {
    fill: var(--pencil);
  }
  .mark.selected path {
    stroke: var(--ink);
    stroke-width: 1.2;
  }
  .mark .at {
    stroke: var(--ink);
    stroke-width: 1;
  }
  .mark .name {
    fill: var(--ink);
    font-weight: 700;
    paint-order: stroke;
    stroke: var(--page);
    stroke-width: 5;
  }
  .hit {
    fill: transparent;
  }
  summary {
    min-height: 2rem;
    width: fit-content;
    padding: 0.2rem 0.4rem;
    cursor: pointer;
  }
  .scroll {
    position: relative;
    max-height: 22rem;
    max-width: 46rem;
    margin-bottom: 1rem;
    overflow: auto;
    border: 1.5px solid var(--line-strong);
    background: var(--sheet);
  }
  table {
    width: 100%;
    border-collapse: collapse;
    font-size: 0.92rem;
    font-variant-numeric: tabular-nums lining-nums;
  }
  th,
  td {
    padding: 0.25rem 0.7rem;
    border-top: 1px solid var(--line);
    text-align: right;
  }
  thead th {
    position: sticky;
    top: 0;
    border-top: 0;
    background: var(--sheet);
    color: var(--soft);
    font-weight: 600;
  }
  th:first-child {
    text-align: left;
  }
  td.words {
    text-align: left;
  }
  tr[aria-current='true'] {
    background: var(--wash);
  }
`;
