import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Facts } from '../../core/client.ts';
import { base } from '../../parts/base-styles.ts';
import { ExpandEvent } from './expansion-guess.ts';
import { EXPANSION_ORIGINS } from './words.ts';

/** The factors that recorders with time expansion are known to use (common practice). */
const USUAL = [1, 8, 10, 16, 20, 32] as const;
const LARGEST = 1000;

/**
 * The time expansion: what is applied, who says so, and the person's own choice.
 *
 * @fires expand - another expansion was chosen
 */
export class ExpansionChoice extends LitElement {
  static override properties = {
    facts: { attribute: false },
    typing: { state: true },
    complaint: { state: true },
  };

  declare facts: Facts;
  declare typing: boolean;
  declare complaint: string;

  constructor() {
    super();
    this.typing = false;
    this.complaint = '';
  }

  override render(): TemplateResult {
    const { factor, origin } = this.facts.expansion;
    const usual = USUAL.some((value) => value === factor);
    return html`
      <div class="row">
        <label>
          Time expansion
          <select @change=${this.#chosen}>
            ${USUAL.map(
              (value) => html`<option value=${value} .selected=${!this.typing && value === factor}>${wordsOf(value)}</option>`,
            )}
            ${usual ? nothing : html`<option value=${factor} .selected=${!this.typing}>${wordsOf(factor)}</option>`}
            <option value="other" .selected=${this.typing}>another …</option>
          </select>
        </label>
        <span class="soft">${EXPANSION_ORIGINS[origin]}</span>
        ${origin === 'person'
          ? html`<button class="plain" @click=${() => this.#expand(null)}>As the file says</button>`
          : nothing}
      </div>
      ${this.typing ? this.#typed() : nothing}
    `;
  }

  #typed(): TemplateResult {
    return html`<form class="row" novalidate @submit=${this.#submitted}>
      <label>
        Slowed down by
        <input class="field" name="factor" inputmode="decimal" size="5" autocomplete="off" aria-describedby="complaint" />
        times
      </label>
      <button>Apply</button>
      <span id="complaint" role="alert">${this.complaint}</span>
    </form>`;
  }

  #chosen(event: Event): void {
    const { value } = event.currentTarget as HTMLSelectElement;
    this.typing = value === 'other';
    this.complaint = '';
    if (!this.typing) {
      this.#expand(Number(value));
    }
  }

  #submitted(event: SubmitEvent): void {
    event.preventDefault();
    const data = new FormData(event.currentTarget as HTMLFormElement);
    const factor = Number(String(data.get('factor')).trim().replace(',', '.'));
    if (factor > 0 && factor <= LARGEST) {
      this.typing = false;
      this.#expand(factor);
    } else {
      this.complaint = `Type a number above 0, up to ${LARGEST}, such as 12.`;
    }
  }

  #expand(factor: number | null): void {
    this.dispatchEvent(new ExpandEvent(factor));
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.4rem 0.8rem;
        margin: 0.4rem 0;
      }
    `,
  ];
}

function wordsOf(factor: number): string {
  return factor === 1 ? 'none, real time' : `×${factor}`;
}

customElements.define('expansion-choice', ExpansionChoice);

declare global {
  interface HTMLElementTagNameMap {
    'expansion-choice': ExpansionChoice;
  }
}
