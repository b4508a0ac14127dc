import { css } from 'lit';

/** Room for the frequency axis, left of the picture, CSS pixels. */
export const LEFT = 62;
/** Room for the time axis, below the picture, CSS pixels. */
export const BELOW = 46;

export const pictureStyles = css`
  :host {
    display: block;
  }
  .plot {
    position: relative;
    padding: 0 0 ${BELOW}px ${LEFT}px;
  }
  .axes {
    position: absolute;
    inset: 0 auto auto 0;
    overflow: visible;
    pointer-events: none;
    font-variant-numeric: tabular-nums;
  }
  .axes text {
    fill: var(--ink);
    font-size: 0.88rem;
  }
  .axes .unit {
    fill: var(--soft);
  }
  .axes line {
    stroke: var(--line-strong);
    stroke-width: 1.5;
  }
  .stage {
    position: relative;
    isolation: isolate;
    forced-color-adjust: none;
    height: clamp(17rem, 54vh, 42rem);
    background: var(--picture);
    outline: 1.5px solid var(--line-strong);
    cursor: grab;
    overflow: hidden;
    user-select: none;
  }
  .stage:active {
    cursor: grabbing;
  }
  .stage:focus-visible {
    outline: 3px solid var(--focus);
    outline-offset: 2px;
  }
  .over {
    position: absolute;
    left: ${LEFT + 12}px;
    top: 12px;
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.7rem;
    padding: 0.5rem 0.8rem;
    max-width: calc(100% - ${LEFT + 24}px);
    background: var(--sheet);
    border: 1.5px solid var(--line-strong);
    border-radius: 3px;
  }
  .over progress {
    width: 8rem;
  }
  /* Most drawings are done before anybody could read this. */
  .late {
    animation: appear 0s linear 500ms backwards;
  }
  @keyframes appear {
    from {
      visibility: hidden;
    }
  }
  .foot {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.3rem 1.5rem;
    padding-left: ${LEFT}px;
    min-height: 2rem;
    font-size: 0.88rem;
    color: var(--soft);
  }
  @media (max-width: 40rem) {
    .foot {
      padding-left: 0;
    }
  }
`;
