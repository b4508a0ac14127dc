import { css } from 'lit';

/** How the list of files looks: lines of a field notebook. */
export const listStyles = css`
  :host {
    display: block;
    min-width: 0;
  }
  .scroller {
    position: relative;
    height: var(--list-height, min(34rem, 70vh));
    overflow-y: auto;
    border: 1.5px solid var(--line-strong);
    border-radius: 3px;
    background: var(--sheet);
  }
  .all {
    position: relative;
  }
  .row {
    position: absolute;
    left: 0;
    right: 0;
    height: 46px;
    display: grid;
    grid-template-columns: 5.2rem 9rem 5.5rem 8.5rem minmax(0, 1fr) minmax(0, 1.4fr);
    gap: 0.6rem;
    align-items: center;
    padding: 0 0.8rem;
    border-bottom: 1px solid var(--line);
    cursor: pointer;
    font-variant-numeric: tabular-nums;
  }
  .row > * {
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
  }
  .row:hover {
    background: var(--wash);
  }
  .row[aria-selected='true'] {
    background: var(--wash);
    box-shadow: inset 4px 0 var(--pencil);
  }
  .khz,
  .when {
    font-weight: 600;
  }
  .said {
    font-family: var(--hand);
  }
  /* The groups differ in shape: full, half, empty, crossed, double. */
  .glyph {
    display: inline-block;
    width: 0.8em;
    height: 0.8em;
    margin-right: 0.5em;
    border: 1.5px solid currentColor;
    border-radius: 50%;
    vertical-align: -0.05em;
  }
  .holds_pulses .glyph {
    background: currentColor;
  }
  .unsure .glyph {
    background: linear-gradient(90deg, currentColor 50%, transparent 50%);
  }
  .broken .glyph {
    border-radius: 0;
    background: linear-gradient(45deg, transparent 42%, currentColor 42% 58%, transparent 58%);
  }
  .copy .glyph {
    border-radius: 0;
    box-shadow: 2.5px -2.5px 0 -1px currentColor;
  }
  @media (max-width: 60rem) {
    .row {
      grid-template-columns: 4.6rem 8.4rem 4.8rem minmax(0, 1fr);
    }
    .activity,
    .notes {
      display: none;
    }
  }
  @media (max-width: 30rem) {
    .row {
      grid-template-columns: 4.4rem 1.2rem 4.6rem minmax(0, 1fr);
      gap: 0.4rem;
      padding: 0 0.5rem;
    }
    .what {
      font-size: 0;
    }
    .what .glyph {
      width: 0.9rem;
      height: 0.9rem;
    }
  }
`;
