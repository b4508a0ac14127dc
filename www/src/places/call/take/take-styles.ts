import { css } from 'lit';

export const takeStyles = css`
  dialog {
    width: min(72rem, calc(100vw - 1.5rem));
    background: var(--page);
  }
  /* On a narrow page one wants to see it before one chooses. */
  @media (max-width: 57.99rem) {
    .results {
      order: -1;
    }
  }
  .row .above {
    flex: 1 1 7rem;
  }
  .number {
    font-variant-numeric: tabular-nums;
  }
  /* The figure is on white paper in every theme, as it will be, but at night as a negative. */
  .sheet {
    display: grid;
    place-items: center;
    min-height: 14rem;
    padding: 0.4rem;
    border: 1.5px solid var(--line-strong);
    background: var(--proof, #fff);
    color: var(--on-proof, #000);
  }
  .sheet img {
    display: block;
    max-width: 100%;
    max-height: 56vh;
    filter: var(--proof-filter, none);
  }
  .sheet p {
    padding: 1rem;
  }
  .late {
    position: absolute;
    inset: auto 0.6rem 0.6rem auto;
    padding: 0.2rem 0.7rem;
    background: var(--sheet);
    color: var(--ink);
    border: 1.5px solid var(--line-strong);
    border-radius: 3px;
  }
`;
