import { css } from 'lit';

export const placeStyles = css`
  :host {
    display: block;
    max-width: 112rem;
    margin: 0 auto;
    padding: 0 clamp(0.9rem, 3vw, 3rem) 4rem;
  }
  .skip {
    position: absolute;
    left: 1rem;
    top: -5rem;
    padding: 0.6rem 1rem;
    z-index: 10;
  }
  .skip:focus {
    top: 0.5rem;
  }
  header {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.4rem 1.6rem;
    padding: 0.9rem 0;
    margin-bottom: clamp(1.2rem, 3vw, 2.4rem);
    border-bottom: 1.5px solid var(--line-strong);
  }
  .mark {
    display: inline-flex;
    align-items: center;
    gap: 0.5rem;
    font-family: var(--hand);
    font-size: 1.45rem;
    font-style: italic;
    font-weight: 600;
  }
  .mark svg {
    width: 1.9rem;
    height: 1.9rem;
    fill: none;
    stroke: var(--ink);
    stroke-width: 1.8;
  }
  .mark path {
    stroke: var(--pencil);
    stroke-width: 3.2;
    stroke-linecap: round;
  }
  .right {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.4rem 1.4rem;
    margin-left: auto;
  }
  /* Without news it takes no room, not even the gap beside it. */
  new-version {
    position: absolute;
  }
  new-version.news {
    position: static;
    flex: 1 0 100%;
  }
  main:focus {
    outline: none;
  }
  main.several {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: 1.6rem;
  }
  /* The list stands in the margin, ruled off as in an exercise book. */
  @media (min-width: 75rem) {
    main.several {
      grid-template-columns: 15rem minmax(0, 1fr);
      gap: 0 2rem;
    }
    main.several recording-list {
      padding-right: 1.2rem;
      border-right: 3px double var(--pencil);
    }
  }
  @media print {
    :host {
      max-width: none;
      padding: 0;
    }
    main.several {
      display: block;
    }
    header,
    recording-list,
    .veil {
      display: none;
    }
  }
  .complaint {
    margin-bottom: 1rem;
    padding: 0.8rem 1rem;
    background: var(--warn);
    border-left: 4px solid var(--pencil);
  }
  .veil {
    position: fixed;
    inset: 1rem;
    display: grid;
    place-content: center;
    z-index: 5;
    border: 3px dashed var(--pencil);
    background: color-mix(in srgb, var(--page) 88%, transparent);
    font: 600 2rem var(--hand);
    pointer-events: none;
  }
`;
