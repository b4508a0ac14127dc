import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Scale } from '../../../axis.ts';
import { cssPx, type CssPx } from '../../../units.ts';
import { StageEvent } from '../picture/events.ts';
import type { Recording } from '../recordings.ts';
import './power-panel.ts';
import type { Strips } from './remembered.ts';
import './wave-strip.ts';

/** Narrower than this, the power spectrum lies below the picture. */
const NARROW = matchMedia('(max-width: 56rem)');

/** The picture (in the slot) with the strips that a person wants beside it. */
export class PictureStrips extends LitElement {
  static override properties = {
    recording: { attribute: false },
    name: { attribute: false },
    strips: { attribute: false },
    scale: { attribute: false },
    top: { state: true },
    height: { state: true },
    narrow: { state: true },
  };

  declare recording: Recording;
  /** What the table calls the chosen pulse. */
  declare name: string | null;
  declare strips: Strips;
  /** How frequency runs along the picture. */
  declare scale: Scale;
  /** Where the picture itself lies. */
  declare top: CssPx;
  declare height: CssPx;
  declare narrow: boolean;

  readonly #onNarrow = (): void => {
    this.narrow = NARROW.matches;
  };

  constructor() {
    super();
    this.name = null;
    this.top = cssPx(0);
    this.height = cssPx(0);
    this.narrow = NARROW.matches;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    NARROW.addEventListener('change', this.#onNarrow);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    NARROW.removeEventListener('change', this.#onNarrow);
  }

  override render(): TemplateResult {
    const { strips, recording, narrow, name } = this;
    return html`<div class=${strips.power && !narrow ? 'beside' : ''}>
      ${strips.waveform ? html`<wave-strip class="wave" .recording=${recording}></wave-strip>` : nothing}
      <slot class="picture" @slotchange=${this.#slotted}></slot>
      ${strips.power
        ? html`<power-panel
            class="power"
            style=${narrow ? '' : `margin-top: ${this.top}px`}
            .recording=${recording}
            .name=${name}
            .height=${this.height}
            .scale=${this.scale}
            .lying=${narrow}
            ?lying=${narrow}
          ></power-panel>`
        : nothing}
    </div>`;
  }

  readonly #slotted = (event: Event): void => {
    for (const element of (event.currentTarget as HTMLSlotElement).assignedElements()) {
      element.addEventListener(StageEvent.type, (news) => {
        const { top, height } = news as StageEvent;
        this.top = top;
        this.height = height;
      });
    }
  };

  static override styles = css`
    :host {
      display: block;
    }
    .picture {
      display: block;
    }
    .beside {
      display: grid;
      grid-template-columns: minmax(0, 1fr) 204px;
      column-gap: 1rem;
    }
    .beside > .wave,
    .beside > .picture {
      grid-column: 1;
    }
    .beside > .power {
      grid-column: 2;
    }
    .beside > .picture,
    .beside > .power {
      grid-row: 2;
    }
  `;
}

customElements.define('picture-strips', PictureStrips);

declare global {
  interface HTMLElementTagNameMap {
    'picture-strips': PictureStrips;
  }
}
