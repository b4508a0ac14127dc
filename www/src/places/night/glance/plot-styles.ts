import { css } from 'lit';

/** What colours the plots of a night, which come without any. */
export const plotStyles = css`
  svg {
    display: block;
  }
`;
