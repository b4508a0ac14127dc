import { css } from 'lit';

export const viewStyles = css`
  :host {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: 1.6rem;
  }
  .tools {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.6rem 1.3rem;
    margin-bottom: 0.8rem;
  }
  .tools select {
    max-width: min(18rem, 70vw);
    padding-inline: 0.55rem;
  }
  .together {
    display: inline-flex;
    gap: 0.35rem;
  }
  /* Printed is the record, and nothing else. */
  @media print {
    :host {
      display: block;
    }
    *:not(print-record) {
      display: none !important;
    }
  }
`;
