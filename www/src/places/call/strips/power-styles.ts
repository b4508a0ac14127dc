import { css } from 'lit';

export const powerStyles = css`
  :host {
    display: block;
    min-width: 0;
  }
  figure {
    margin: 0;
    position: relative;
  }
  figcaption {
    font-size: 0.88rem;
    line-height: 1.35;
  }
  figcaption {
    margin-top: 0.3rem;
  }
  .peak {
    font-variant-numeric: tabular-nums;
    white-space: nowrap;
  }
  svg {
    display: block;
    overflow: visible;
    font-variant-numeric: tabular-nums;
  }
  .sheet {
    fill: var(--sheet);
  }
  .frame {
    fill: none;
    stroke: var(--line-strong);
    stroke-width: 1.5;
  }
  .curve {
    fill: none;
    stroke: var(--ink);
    stroke-width: 1.25;
    stroke-linejoin: round;
  }
  line {
    stroke: var(--line-strong);
    stroke-width: 1.5;
  }
  .grid {
    stroke: var(--line);
    stroke-width: 1;
  }
  .mark {
    stroke: var(--mark);
    stroke-dasharray: 6 4;
  }
  text {
    fill: var(--ink);
    font-size: 0.82rem;
  }
  .unit {
    fill: var(--soft);
  }
`;
