import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Pulse } from '../../core/client.ts';
import { base } from '../../parts/base-styles.ts';
import { fixed } from './columns.ts';
import { FLAGS, SHAPES } from './words.ts';

/** The selected pulse in sentences: its shape, and what limits trust in it. */
export class PulseNote extends LitElement {
  static override properties = {
    pulse: { attribute: false },
    number: { attribute: false },
  };

  declare pulse: Pulse | null;
  /** Counted from 1. */
  declare number: number;

  override render(): TemplateResult {
    const { pulse, number } = this;
    if (!pulse) {
      return html`<p class="soft">Choose a pulse, in the picture or in the table, and it is described here.</p>`;
    }
    return html`
      <h3>Pulse ${number}</h3>
      <p>
        ${fixed(pulse.duration_ms, 2)} ms, most energy at ${fixed(pulse.peak_khz, 1)} kHz.
        <b>${pulse.shape}</b>: ${lowered(SHAPES[pulse.shape])}
      </p>
      ${pulse.flags.length === 0
        ? nothing
        : html`<ul>
            ${pulse.flags.map(
              (flag) => html`<li><b>${FLAGS[flag].label}</b>: ${lowered(FLAGS[flag].meaning)}</li>`,
            )}
          </ul>`}
    `;
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
        min-height: 3.2rem;
      }
      ul {
        margin: 0.3rem 0 0;
        padding-left: 1.2em;
        max-width: 42em;
      }
    `,
  ];
}

function lowered(sentence: string): string {
  return sentence.charAt(0).toLowerCase() + sentence.slice(1);
}

customElements.define('pulse-note', PulseNote);

declare global {
  interface HTMLElementTagNameMap {
    'pulse-note': PulseNote;
  }
}
