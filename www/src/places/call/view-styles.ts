import { css } from 'lit';

export const viewStyles = css`
  :host {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: 1.6rem;
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
