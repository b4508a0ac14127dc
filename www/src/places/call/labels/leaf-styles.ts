import { css } from 'lit';

/** What lies on the leaf of labels. */
export const leafStyles = css`
  :host {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: 1.6rem;
    max-width: 62rem;
  }
  .heading {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    justify-content: space-between;
    gap: 0.5rem 1rem;
    margin-bottom: 0.5rem;
  }
  .row {
    display: inline-flex;
    flex-wrap: wrap;
    gap: 0.4rem;
  }
  .told {
    margin-block: 0.8rem;
  }
  .labels {
    margin: 0.8rem 0 1.2rem;
    padding: 0;
    list-style: none;
    border-top: 1.5px solid var(--line);
  }
  li {
    display: flex;
    flex-wrap: wrap;
    align-items: start;
    justify-content: space-between;
    gap: 0.5rem 1.5rem;
    padding: 0.7rem 0;
    border-bottom: 1.5px solid var(--line);
  }
  .words {
    flex: 1 1 18rem;
    min-width: 0;
    overflow-wrap: anywhere;
  }
  .note {
    white-space: pre-line;
  }
  .caution {
    max-width: 62rem;
    padding-left: 1rem;
    border-left: 3px double var(--pencil);
  }
`;
