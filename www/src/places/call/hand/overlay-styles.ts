import { css } from 'lit';

export const overlayStyles = css`
  :host {
    position: absolute;
    inset: 0;
    pointer-events: none;
  }
  .over {
    position: absolute;
    inset: 0;
    overflow: hidden;
  }
  .halo {
    fill: none;
    stroke: var(--halo);
    stroke-width: 4.5;
    stroke-opacity: 0.75;
  }
  .band,
  .contour,
  .cross {
    fill: none;
    stroke: var(--mark);
    stroke-width: 2;
  }
  .band {
    stroke-dasharray: 9 5;
  }
  .contour {
    stroke-dasharray: 6 4;
  }
  text {
    font: 600 0.82rem var(--plain);
    fill: var(--mark);
    stroke: var(--halo);
    stroke-width: 3.5;
    paint-order: stroke;
  }
  .catcher {
    position: absolute;
    inset: 0;
    pointer-events: auto;
    touch-action: none;
    cursor: crosshair;
  }
  .catcher:focus-visible {
    outline-offset: -3px;
  }
  .how {
    position: absolute;
    right: 10px;
    bottom: 8px;
    max-width: calc(100% - 20px);
    padding: 0.2rem 0.6rem;
    font-size: 0.82rem;
    background: var(--sheet);
    border: 1.5px solid var(--line-strong);
    border-radius: 3px;
  }
`;
