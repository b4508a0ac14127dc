import { html, svg, type TemplateResult } from 'lit';
import type { CssPx } from '../../../units.ts';
import { BELOW, LEFT } from './picture-styles.ts';
import type { Ruler } from './ticks.ts';

/** The picture's axes with their numbers, to the left of it and below. */
export function axes(time: Ruler, frequency: Ruler, width: CssPx, height: CssPx): TemplateResult {
  return html`<svg class="axes" aria-hidden="true" width=${width + LEFT} height=${height + BELOW}>
    <g transform="translate(${LEFT} 0)">
      ${time.ticks.map(
        (tick) => svg`<line x1=${tick.at} x2=${tick.at} y1=${height} y2=${height + 7} />
          <text x=${tick.at} y=${height + 24} text-anchor="middle">${tick.label}</text>`,
      )}
      <text class="unit" x=${width} y=${height + 44} text-anchor="end">time, ${time.unit}</text>
      ${frequency.ticks.map(
        (tick) => svg`<line x1="-7" x2="0" y1=${tick.at} y2=${tick.at} />
          <text x="-11" y=${tick.at} dy="0.35em" text-anchor="end">${tick.label}</text>`,
      )}
      <text class="unit" x="0" y=${height + 44} text-anchor="middle">kHz</text>
    </g>
  </svg>`;
}
