import { css } from 'lit';

export const handStyles = css`
  :host {
    display: block;
    min-width: 0;
  }
  .parts {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(min(26rem, 100%), 1fr));
    gap: 1.4rem 2.2rem;
    margin-top: 1rem;
  }
  section {
    margin-bottom: 1.4rem;
    min-width: 0;
  }
  h2 {
    margin-bottom: 0.4rem;
  }
  h3 {
    margin-bottom: 0.5rem;
  }
  .row {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.5rem 0.7rem;
    margin-bottom: 0.6rem;
    max-width: none;
  }
  .grow {
    flex: 1 1 20rem;
  }
  .together {
    display: inline-flex;
    gap: 0.35rem;
  }
  .fields label {
    font-size: 0.92rem;
  }
  .field {
    width: 7.5rem;
    font-variant-numeric: tabular-nums;
  }
  .field.short {
    width: 4.5rem;
  }
  .scroll {
    /* Holds what is only for screen readers, too. */
    position: relative;
    overflow-x: auto;
    max-width: 100%;
  }
  table {
    border-collapse: collapse;
    font-size: 0.92rem;
    font-variant-numeric: tabular-nums;
  }
  th,
  td {
    padding: 0.18rem 0.7rem;
    border-bottom: 1px solid var(--line);
    text-align: right;
    vertical-align: top;
  }
  th[scope='row'],
  th[scope='col']:first-child,
  .words,
  .list th:nth-child(2),
  .list th:nth-child(8) {
    text-align: left;
    font-weight: 400;
  }
  thead th {
    border-bottom: 1.5px solid var(--line-strong);
    font-weight: 600;
  }
  .compared .by-hand {
    border-left: 2px dashed var(--pencil);
  }
  .compared th[scope='row'] {
    white-space: nowrap;
  }
  .list th[scope='row'] {
    white-space: nowrap;
    font-weight: 600;
  }
  .notes {
    margin: 0.5rem 0 0;
    padding-left: 1.2rem;
    max-width: 42em;
  }
  .aside {
    padding-left: 0.8rem;
    border-left: 3px double var(--pencil);
  }
  .problem,
  [role='alert'] {
    padding: 0.4rem 0.8rem;
    margin-bottom: 0.6rem;
    background: var(--warn);
  }
  /* Most measurements are done before anybody could read this. */
  .late {
    animation: appear 0s linear 400ms backwards;
  }
  @keyframes appear {
    from {
      visibility: hidden;
    }
  }
  @media (pointer: coarse) {
    button {
      min-height: 44px;
    }
  }
`;
