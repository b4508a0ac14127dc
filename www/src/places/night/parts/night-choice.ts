import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { NightFacts } from '../../../core/types.ts';
import { base } from '../../../parts/base-styles.ts';
import { nameOf } from '../night-session.ts';
import { counted, lasting, nightWords } from '../words.ts';

/** The person looks at other nights. */
export class ChooseEvent extends Event {
  static readonly type = 'choose';
  readonly chosen: ReadonlySet<string>;

  constructor(chosen: ReadonlySet<string>) {
    super(ChooseEvent.type, { bubbles: true, composed: true });
    this.chosen = chosen;
  }
}

/** The nights and recorders that the card holds, to look at one or several of them side by side. */
export class NightChoice extends LitElement {
  static override properties = {
    nights: { attribute: false },
    chosen: { attribute: false },
  };

  declare nights: readonly NightFacts[];
  declare chosen: ReadonlySet<string>;

  override render(): TemplateResult {
    const several = this.nights.length > 1;
    return html`<div class="scroller" tabindex="0" role="region" aria-label="Nights">
      <table>
        <caption class="quiet">Nights on this card; effort is the time that the recorder was on watch</caption>
        <thead>
          <tr>
            <th scope="col">Night</th>
            <th scope="col">Recorder</th>
            <th scope="col" class="number">On watch</th>
            <th scope="col" class="number">Recordings</th>
            <th scope="col" class="number">With bat pulses</th>
            <th scope="col" class="number">Unsure</th>
            <th scope="col" class="number">Passes</th>
            <th scope="col" class="number">Buzzes</th>
            <th scope="col" class="number">Broken</th>
          </tr>
        </thead>
        <tbody>${this.nights.map((night) => this.#row(night, several))}</tbody>
      </table>
    </div>`;
  }

  #row(night: NightFacts, several: boolean): TemplateResult {
    const { key, totals } = night;
    const name = nameOf(key);
    const words = nightWords(key.evening);
    const isChosen = this.chosen.has(name);
    return html`<tr class=${isChosen ? 'chosen' : ''}>
      <th scope="row">
        ${several
          ? html`<label><input
              type="checkbox"
              .checked=${isChosen}
              aria-label=${`Look at the night ${words}, recorder ${key.recorder}`}
              @change=${(event: Event) => this.#toggle(name, event.target as HTMLInputElement)}
            /> ${words}</label>`
          : words}
        ${several
          ? html`<button class="plain" aria-label=${`Only the night ${words}, recorder ${key.recorder}`} @click=${() =>
              this.dispatchEvent(new ChooseEvent(new Set([name])))}>only this</button>`
          : nothing}
      </th>
      <td>${key.recorder}</td>
      <td class="number">${lasting(totals.watch_h * 3600)}</td>
      <td class="number">${totals.recordings.toLocaleString('en')}</td>
      <td class="number">${totals.holding_pulses.toLocaleString('en')}</td>
      <td class="number">${totals.unsure.toLocaleString('en')}</td>
      <td class="number">${totals.passes.toLocaleString('en')}</td>
      <td class="number">${totals.buzzes.toLocaleString('en')}</td>
      <td class="number">${totals.broken === 0 ? '0' : counted(totals.broken, 'file')}</td>
    </tr>`;
  }

  #toggle(name: string, box: HTMLInputElement): void {
    const chosen = new Set(this.chosen);
    if (box.checked) {
      chosen.add(name);
    } else if (chosen.size > 1) {
      chosen.delete(name);
    } else {
      // One night is always looked at.
      box.checked = true;
    }
    this.dispatchEvent(new ChooseEvent(chosen));
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
        min-width: 0;
      }
      .scroller {
        max-height: 19rem;
        overflow: auto;
        border: 1.5px solid var(--line-strong);
        border-radius: 3px;
        background: var(--sheet);
      }
      table {
        width: 100%;
        border-collapse: collapse;
      }
      thead th {
        position: sticky;
        top: 0;
        z-index: 1;
        background: var(--sheet);
        font-weight: 600;
      }
      th,
      td {
        padding: 0.35rem 0.8rem;
        text-align: left;
        white-space: nowrap;
        border-bottom: 1px solid var(--line);
      }
      th[scope='row'] {
        font-family: var(--hand);
        font-weight: 600;
      }
      .number {
        text-align: right;
        font-variant-numeric: tabular-nums;
      }
      .chosen {
        background: var(--wash);
        box-shadow: inset 4px 0 var(--pencil);
      }
      label {
        min-height: 2rem;
      }
      button.plain {
        min-height: 1.9rem;
        padding: 0.1rem 0.5rem;
        font-family: var(--plain);
        font-weight: 400;
        font-size: 0.9rem;
      }
    `,
  ];
}

customElements.define('night-choice', NightChoice);

declare global {
  interface HTMLElementTagNameMap {
    'night-choice': NightChoice;
  }
}
