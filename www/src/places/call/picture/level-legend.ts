import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import type { ColourMap, Core } from '../../../core/client.ts';
import { frames } from '../../../frames.ts';
import { base } from '../../../parts/base-styles.ts';
import { isInked } from '../../../themes.ts';
import { fixed } from '../plus-minus.ts';
import type { Caption } from './painter.ts';

/** How many shades the bar is made of. */
const STEPS = 256;

/** The colour bar: which colour stands for which level. */
export class LevelLegend extends LitElement {
  static override properties = {
    core: { attribute: false },
    map: { attribute: false },
    caption: { attribute: false },
  };

  declare core: Core;
  declare map: ColourMap;
  declare caption: Caption | null;

  override updated(changed: PropertyValues<this>): void {
    if (changed.has('map')) {
      void frames.during(this.#draw(this.map));
    }
  }

  override render(): TemplateResult {
    const { caption } = this;
    return html`
      <span class="end">${caption ? fixed(caption.floorDb, 0) : ''}</span>
      <span class="bar">
        <canvas class=${isInked(this.map) ? 'inked' : ''} width=${STEPS} height="1" aria-hidden="true"></canvas>
        <span class="red"></span>
      </span>
      <span class="end">${caption ? fixed(caption.topDb, 0) : ''}</span>
      <span class="unit">dB re full scale</span>
    `;
  }

  async #draw(map: ColourMap): Promise<void> {
    const pixels = await this.core.legend(map, STEPS);
    // The map may have been changed while this one was on its way.
    if (map === this.map) {
      this.renderRoot
        .querySelector('canvas')
        ?.getContext('2d')
        ?.putImageData(new ImageData(new Uint8ClampedArray(pixels), STEPS, 1), 0, 0);
    }
  }

  static override styles = [
    base,
    css`
      :host {
        display: flex;
        align-items: center;
        gap: 0.5rem;
        font-variant-numeric: tabular-nums;
      }
      .bar {
        position: relative;
        isolation: isolate;
        forced-color-adjust: none;
        width: 9rem;
        height: 1rem;
        border: 1.5px solid var(--line-strong);
        background: var(--picture);
      }
      canvas {
        display: block;
        width: 100%;
        height: 100%;
      }
      .inked {
        mix-blend-mode: var(--picture-blend, normal);
      }
      .red {
        position: absolute;
        inset: 0;
        mix-blend-mode: multiply;
        background: var(--picture-filter, none);
      }
    `,
  ];
}

customElements.define('level-legend', LevelLegend);

declare global {
  interface HTMLElementTagNameMap {
    'level-legend': LevelLegend;
  }
}
