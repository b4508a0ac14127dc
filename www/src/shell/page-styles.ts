import { css } from 'lit';

export const pageStyles = css`
  :host {
    display: block;
    position: relative;
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
  nav {
    display: flex;
    gap: 0.3rem;
  }
  nav a {
    display: inline-flex;
    align-items: center;
    min-height: 2.5rem;
    padding: 0 0.7rem;
    color: var(--ink);
    font-family: var(--hand);
    font-size: 1.15rem;
    text-decoration: none;
    border-block: 3px solid transparent;
  }
  nav a:hover {
    background: var(--wash);
  }
  /* Underlined by hand, as one marks a heading. */
  nav a[aria-current='page'] {
    font-weight: 600;
    border-bottom-color: var(--pencil);
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
  .said:not(:empty) {
    margin-bottom: 1rem;
    padding-left: 0.8rem;
    border-left: 3px double var(--pencil);
  }
  /* Still laid out: what is drawn in it keeps its size, and what is scrolled in it its place. */
  .place[inert] {
    position: absolute;
    inset-inline: clamp(0.9rem, 3vw, 3rem);
    height: 0;
    overflow: hidden;
    visibility: hidden;
  }
  @media (forced-colors: active) {
    nav a[aria-current='page'] {
      border-bottom-color: Highlight;
    }
  }
  @media print {
    :host {
      max-width: none;
      padding: 0;
    }
    header,
    .said,
    .place[inert] {
      display: none;
    }
  }
`;
