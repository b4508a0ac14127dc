import { css } from 'lit';

export const placeStyles = css`
  :host {
    display: block;
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
    main.several {
      display: block;
    }
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
