import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Pulse, SentPulse } from '../../../core/client.ts';
import { base } from '../../../parts/base-styles.ts';
import { fixed } from '../plus-minus.ts';
import type { CallFromLink, Recording } from '../recordings.ts';
import { soundsOf } from '../sounds.ts';

/** Numbers that are set side by side: the sender's and those measured here. */
const NUMBERS: readonly (readonly [label: string, decimals: number, value: (pulse: SentPulse | Pulse) => number])[] = [
  ['Peak, kHz', 1, (pulse) => pulse.peak_khz],
  ['Characteristic, kHz', 1, (pulse) => pulse.characteristic_khz],
  ['Duration, ms', 2, (pulse) => pulse.duration_ms],
  ['Level, dB', 1, (pulse) => pulse.level_db],
];

/** What came with a call in a link: words, numbers, and how much of the sound it is. All of it is a stranger's. */
export class CallPanel extends LitElement {
  static override properties = {
    call: { attribute: false },
    recording: { attribute: false },
  };

  declare call: CallFromLink;
  declare recording: Recording;

  override render(): TemplateResult {
    const { received } = this.call;
    const { content, pulses, low_khz, high_khz, from_s, version } = received;
    return html`<section aria-labelledby="came">
      <h2 id="came">This call came in a link</h2>
      ${content.note === undefined ? nothing : html`<blockquote>${content.note}</blockquote>`}
      ${pulses.length === 0
        ? html`<p class="small soft">The sender’s numbers are not in it.</p>`
        : this.#table(pulses)}
      <p class="small soft">
        It is no original recording. Sound was carried from ${fixed(low_khz, 0)} to ${fixed(high_khz, 0)} kHz around the
        ${pulses.length === 1 ? 'call' : 'calls'}; all other hiss is drawn anew at the level that it had. It began
        ${fixed(from_s, 3)} s into the sender’s recording. Made with Dusklens ${version}. Whatever stands here is what the
        sender says: nobody checked it.
      </p>
    </section>`;
  }

  #table(pulses: readonly SentPulse[]): TemplateResult {
    const sounds = soundsOf(this.recording.findings, true);
    const own = (sent: SentPulse): Pulse | undefined => {
      const end = sent.start_s + sent.duration_ms / 1000;
      return sounds.find(({ pulse }) => pulse.start_s <= end && pulse.end_s >= sent.start_s)?.pulse;
    };
    return html`<div class="scroll" tabindex="0" role="region" aria-label="The sender’s numbers and those measured here">
      <table>
        <thead>
          <tr>
            <td></td>
            ${NUMBERS.map(([label]) => html`<th scope="colgroup" colspan="2">${label}</th>`)}
          </tr>
          <tr>
            <th scope="col">Sender’s number</th>
            ${NUMBERS.map(() => html`<th scope="col">sent</th><th scope="col">here</th>`)}
          </tr>
        </thead>
        <tbody>
          ${pulses.map((sent) => {
            const found = own(sent);
            return html`<tr>
              <th scope="row">${sent.name}</th>
              ${NUMBERS.map(
                ([, decimals, value]) => html`<td>${fixed(value(sent), decimals)}</td>
                  <td>${found ? fixed(value(found), decimals) : '–'}</td>`,
              )}
            </tr>`;
          })}
        </tbody>
      </table>
    </div>`;
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
      }
      section {
        display: grid;
        gap: 0.6rem;
        padding: 0.9rem 1.1rem;
        background: var(--sheet);
        border-left: 4px double var(--pencil);
      }
      blockquote {
        margin: 0;
        font-family: var(--hand);
        font-size: 1.15rem;
        white-space: pre-line;
        overflow-wrap: anywhere;
      }
      p {
        max-width: 62rem;
        overflow-wrap: anywhere;
      }
      .scroll {
        max-height: 16rem;
        overflow: auto;
      }
      table {
        border-collapse: collapse;
        font-variant-numeric: tabular-nums;
      }
      th,
      td {
        padding: 0.15rem 0.7rem;
        text-align: right;
        border-bottom: 1px solid var(--line);
      }
      thead th {
        font-weight: 600;
      }
    `,
  ];
}

customElements.define('call-panel', CallPanel);

declare global {
  interface HTMLElementTagNameMap {
    'call-panel': CallPanel;
  }
}
