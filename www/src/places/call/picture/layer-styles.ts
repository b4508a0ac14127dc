import { css } from 'lit';

/** The layers of a drawn sound: its pixels, the theme's tint over them, and what is marked. */
export const layerStyles = css`
  canvas,
  .red,
  .marked {
    position: absolute;
    inset: 0;
    width: 100%;
    height: 100%;
    pointer-events: none;
  }
  .inked {
    mix-blend-mode: var(--picture-blend, normal);
  }
  .red {
    mix-blend-mode: multiply;
    background: var(--picture-filter, none);
  }
`;
