import { css } from 'lit';
import { LEFT } from '../picture/picture-styles.ts';

export const overviewStyles = css`
  :host {
    display: block;
    padding-left: ${LEFT}px;
    margin-bottom: 0.6rem;
  }
  .strip {
    position: relative;
    isolation: isolate;
    height: 48px;
    background: var(--picture);
    outline: 1.5px solid var(--line-strong);
    overflow: hidden;
    touch-action: pan-y;
    cursor: pointer;
    user-select: none;
  }
  .shade {
    position: absolute;
    top: 0;
    bottom: 0;
    background: var(--paper);
    opacity: 0.55;
    pointer-events: none;
  }
  .window {
    position: absolute;
    top: 0;
    bottom: 0;
    border: 2px solid var(--ink);
    cursor: grab;
  }
  .window:active {
    cursor: grabbing;
  }
  .window:focus-visible {
    outline: 3px solid var(--focus);
    outline-offset: -3px;
  }
  .gripped::before,
  .gripped::after {
    content: '';
    position: absolute;
    top: 25%;
    bottom: 25%;
    width: 4px;
    background: var(--ink);
    border-radius: 2px;
  }
  .gripped::before {
    left: 2px;
  }
  .gripped::after {
    right: 2px;
  }
`;
