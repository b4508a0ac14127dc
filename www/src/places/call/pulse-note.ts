import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Label } from '../../keep/label.ts';
import { base } from '../../parts/base-styles.ts';
import { inWords, spreadWords } from './plus-minus.ts';
import type { Sound } from './sounds.ts';
import { DOUBTS, FLAGS, SHAPES } from './words.ts';

/** The selected sound in sentences: its shape, why it is doubted, and what limits trust in it. */
export class PulseNote extends LitElement {
  static override properties = { sound: { attribute: false }, labels: { attribute: false } };

  declare sound: Sound | null;
  /** The labels of this sound. */
  declare labels: readonly Label[];

  override render(): TemplateResult {
    if (!this.sound) {
      return html`<p class="soft">Choose a pulse, in the picture or in the table, and it is described here.</p>`;
    }
    const { pulse, name } = this.sound;
    const { uncertainty: around } = pulse;
    const duration = inWords(pulse.duration_ms, around.duration_ms, { usual: 2, most: 2 });
    const [start, end] = [around.start_ms, around.end_ms].map((ms) => spreadWords(ms, 2));
    const peak = inWords(pulse.peak_khz, around.peak_khz, { usual: 1, most: 2 });
    return html`
      <h3>${pulse.doubt ? 'Doubted sound' : 'Pulse'} ${name}</h3>
      ${pulse.doubt
        ? html`<p>
            <b>${DOUBTS[pulse.doubt].label}</b>: ${lowered(DOUBTS[pulse.doubt].meaning)} It may be a
            bat’s all the same: look at the picture, and decide.
          </p>`
        : nothing}
      <p>
        ${duration} ms (start ± ${start} ms, end ± ${end} ms), most energy at ${peak} kHz.
        <b>${pulse.shape}</b>: ${lowered(SHAPES[pulse.shape])}
      </p>
      ${pulse.flags.length === 0
        ? nothing
        : html`<ul>
            ${pulse.flags.map(
              (flag) => html`<li><b>${FLAGS[flag].label}</b>: ${lowered(FLAGS[flag].meaning)}</li>`,
            )}
          </ul>`}
      ${this.labels.map(
        ({ text, certainty, who }) => html`<p class="label">
          <span aria-hidden="true">✎ </span>Labelled <b>${text}</b>, ${certainty}${who === '' ? nothing : `, by ${who}`}
        </p>`,
      )}
    `;
  }

  static override styles = [
    base,
    css`
      .label {
        overflow-wrap: anywhere;
      }
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
