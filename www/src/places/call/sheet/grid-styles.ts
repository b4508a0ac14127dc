import { css } from 'lit';

export const gridStyles = css`
  :host {
    display: block;
    min-width: 0;
  }
  .scroll {
    /* Holds what is for screen readers alone, which would else lengthen the page. */
    position: relative;
    max-height: min(78vh, 50rem);
    overflow: hidden auto;
    border: 1.5px solid var(--line-strong);
    background: var(--sheet);
  }
  .row {
    display: grid;
    grid-template-columns: var(--gutter) repeat(var(--columns), var(--cell));
    gap: 0 var(--gap);
    margin-bottom: var(--gap);
    font-variant-numeric: tabular-nums;
  }
  .axis {
    position: sticky;
    top: 0;
    z-index: 2;
    height: 1.7rem;
    margin-bottom: 0;
    background: var(--sheet);
    box-shadow: 0 1.5px var(--line);
  }
  .axis,
  .gutter {
    color: var(--soft);
    font-size: 0.8rem;
    line-height: 1.7rem;
  }
  .unit {
    padding-left: 0.4rem;
  }
  i {
    font-style: normal;
  }
  .times,
  .gutter {
    position: relative;
  }
  .times i {
    position: absolute;
    transform: translateX(-50%);
  }
  .gutter {
    /* The height of a cell's head. */
    top: 2.3rem;
  }
  .gutter i {
    position: absolute;
    right: -6px;
    transform: translateY(-50%);
    line-height: 1;
  }
  .cell {
    min-width: 0;
    border: 2px solid transparent;
    border-radius: 4px;
    cursor: pointer;
  }
  .cell:hover {
    background: var(--wash);
  }
  .cell[aria-selected='true'] {
    border-color: var(--pencil);
    background: var(--wash);
  }
  .cell:focus-visible {
    outline-offset: -1px;
  }
  .head {
    display: flex;
    align-items: center;
    height: 2.2rem;
    gap: 0.4rem;
    font-size: 0.94rem;
    white-space: nowrap;
  }
  .tick {
    min-height: 2rem;
    padding-inline: 0.35rem 0.2rem;
    cursor: pointer;
  }
  /* Whoever misses it chooses the cell instead. */
  .tick input {
    width: 24px;
    height: 24px;
  }
  .belongs {
    overflow: hidden;
    text-overflow: ellipsis;
    color: var(--soft);
    font-size: 0.82rem;
  }
  .belongs i {
    color: var(--pencil);
  }
  .go {
    flex: none;
    width: 2rem;
    min-height: 2rem;
    margin-left: auto;
    padding: 0;
    text-decoration: none;
    font-weight: 700;
  }
  .plot {
    position: relative;
    isolation: isolate;
    overflow: hidden;
    background: var(--picture);
    outline: 1.5px solid var(--line-strong);
  }
  svg .tick {
    stroke: var(--line-strong);
    stroke-width: 1.5;
  }
  .moment {
    stroke: var(--line-strong);
    stroke-width: 1;
    stroke-dasharray: 2 4;
  }
  path {
    fill: none;
    stroke-linejoin: round;
    stroke-linecap: round;
  }
  .halo {
    stroke: var(--halo);
    stroke-width: 3.4;
    opacity: 0.7;
  }
  .contour {
    stroke: var(--mark);
    stroke-width: 1.5;
  }
  .contour.doubted {
    stroke-dasharray: 1 4;
  }
  .numbers {
    display: grid;
    grid-template-columns: auto 1fr;
    gap: 0 0.5rem;
    padding: 0.25rem 0.35rem 0.3rem;
    font-size: 0.86rem;
    line-height: 1.4;
  }
  .numbers span {
    color: var(--soft);
    overflow: hidden;
    text-overflow: ellipsis;
  }
  .numbers b {
    font-weight: 600;
    text-align: right;
    white-space: nowrap;
    overflow: hidden;
    text-overflow: ellipsis;
  }
`;
