import { css } from 'lit';

export const numbersStyles = css`
  :host {
    display: block;
  }
  h1 {
    font-size: clamp(2rem, 5vw, 3.1rem);
    letter-spacing: -0.01em;
  }
  /* They take the focus only to say where the reader has come to. */
  h1:focus,
  h2:focus,
  h3:focus,
  figcaption b:focus {
    outline: none;
  }
  h2,
  h3,
  figcaption b {
    scroll-margin-top: 1rem;
  }
  h2 {
    font-size: 1.7rem;
  }
  h3 {
    font-size: 1.3rem;
  }
  .way {
    margin-bottom: 1.4rem;
  }
  .way button {
    max-width: 100%;
    overflow-wrap: anywhere;
  }
  .lead {
    margin-top: 0.8rem;
    font-size: 1.2rem;
  }
  .columns {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: 2.4rem 3rem;
    margin-top: 2.2rem;
  }
  nav h2 {
    font-size: 1.35rem;
  }
  nav ul {
    list-style: none;
    margin: 0.5rem 0 0;
    padding: 0;
    line-height: 1.35;
  }
  nav li {
    break-inside: avoid;
  }
  nav li li {
    padding-left: 1rem;
    font-size: 0.94rem;
  }
  nav ul ul {
    margin: 0 0 0.7rem;
  }
  nav a {
    display: inline-block;
    padding: 0.18rem 0;
  }
  @media (min-width: 40rem) {
    nav > ul {
      columns: 2;
      column-gap: 2rem;
    }
  }
  /* The contents stand in the margin, ruled off as in an exercise book. */
  @media (min-width: 75rem) {
    .columns {
      grid-template-columns: 17rem minmax(0, 1fr);
      gap: 0 2.4rem;
    }
    nav {
      position: sticky;
      top: 1rem;
      align-self: start;
      max-height: calc(100vh - 2rem);
      overflow: auto;
      padding: 0.3rem 1rem 0.3rem 0.3rem;
      border-right: 3px double var(--pencil);
    }
    nav > ul {
      columns: auto;
    }
  }
  .text {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: 3.4rem;
    max-width: 60rem;
  }
  .before ul {
    width: fit-content;
    margin: 0.9rem 0 0;
    padding: 0.9rem 1.2rem 0.9rem 2.2rem;
    background: var(--sheet);
    border: 1.5px solid var(--line-strong);
  }
  li {
    max-width: 42em;
  }
  .before li + li,
  dd li + li,
  dd p + p {
    margin-top: 0.45rem;
  }
  figure {
    margin: 1.2rem 0 0;
    padding: clamp(0.5rem, 2vw, 1.4rem);
    background: var(--sheet);
    border: 1.5px solid var(--line-strong);
  }
  figure + figure {
    margin-top: 1.6rem;
  }
  figcaption {
    max-width: 42em;
    margin-top: 0.9rem;
    font-size: 0.94rem;
  }
  .see {
    margin-top: 0.4rem;
  }
  article {
    margin-top: 1.5rem;
    padding-top: 1rem;
    border-top: 1.5px solid var(--line-strong);
  }
  code {
    font-size: 0.95em;
  }
  .head {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: 0.8rem 1.6rem;
  }
  .plain {
    margin: 0.4rem 0;
    font-size: 1.08rem;
  }
  .mini {
    display: block;
    width: 13rem;
    height: 6.5rem;
    overflow: hidden;
    background: var(--sheet);
    border: 1.5px solid var(--line-strong);
  }
  .mini .contour {
    stroke-width: 4;
  }
  @media (min-width: 40rem) {
    .head {
      grid-template-columns: minmax(0, 1fr) auto;
    }
  }
  dl {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    margin: 0.9rem 0 0;
  }
  dt {
    font-family: var(--hand);
    font-style: italic;
    font-weight: 600;
  }
  dd {
    margin: 0 0 0.8rem;
  }
  dd ul {
    margin: 0;
    padding-left: 1.1em;
  }
  @media (min-width: 48rem) {
    dl {
      grid-template-columns: 10rem minmax(0, 1fr);
      gap: 0.8rem 1.4rem;
    }
    dd {
      margin: 0;
    }
  }
  .avoid ul {
    list-style: '✕  ';
    padding-left: 1.3em;
  }
  .avoid li::marker {
    color: var(--pencil);
  }
  .terms {
    display: grid;
    gap: 0.5rem;
    margin-top: 0.7rem;
    padding: 0;
    list-style: none;
  }
  .terms li {
    display: flex;
    align-items: center;
    gap: 0.9rem;
    margin: 0;
  }
  .glyph {
    flex: none;
    background: var(--sheet);
    border: 1.5px solid var(--line-strong);
  }
  .glyph path {
    fill: none;
    stroke: var(--ink);
    stroke-width: 3.5;
    stroke-linecap: round;
    stroke-linejoin: round;
  }
  table {
    margin: 0.9rem 0;
    border-collapse: collapse;
    font-variant-numeric: tabular-nums lining-nums;
  }
  caption {
    padding-bottom: 0.3rem;
    text-align: left;
    font-weight: 600;
  }
  th,
  td {
    padding: 0.3rem 1.4rem 0.3rem 0;
    border-bottom: 1px solid var(--line-strong);
    text-align: left;
    font-weight: 400;
    vertical-align: top;
  }
  thead th {
    font-weight: 600;
  }
  .cautions p {
    margin-top: 0.7rem;
    padding-left: 1rem;
    border-left: 3px double var(--pencil);
  }
  @media print {
    .way {
      display: none;
    }
    .columns,
    .text {
      display: block;
    }
    nav {
      position: static;
      max-height: none;
      border: 0;
    }
    nav > ul {
      columns: 2;
    }
    section {
      margin-top: 1.6rem;
    }
    h2,
    h3 {
      break-after: avoid;
    }
    figure,
    article,
    table {
      break-inside: avoid;
    }
  }
`;
