import { html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Facts } from '../../core/client.ts';
import { base } from '../../parts/base-styles.ts';
import { offerStyles } from '../../parts/offer-styles.ts';

/** A time expansion that the person chose; null: back to what the file says. */
export class ExpandEvent extends Event {
  static readonly type = 'expand';
  readonly factor: number | null;

  constructor(factor: number | null) {
    super(ExpandEvent.type, { bubbles: true, composed: true });
    this.factor = factor;
  }
}

/**
 * A likely time expansion with its reason. It is only ever offered.
 *
 * @fires expand - the person applies it
 */
export class ExpansionGuess extends LitElement {
  static override properties = { facts: { attribute: false } };

  declare facts: Facts;

  override render(): TemplateResult | typeof nothing {
    const { expansion, expansion_guess: guess } = this.facts;
    if (!guess || guess.factor === expansion.factor || expansion.origin === 'person') {
      return nothing;
    }
    return html`<div class="offer" role="note">
      <p><b>Is this recording slowed down ${guess.factor} times?</b> ${guess.reason}</p>
      <button class="main" @click=${() => this.dispatchEvent(new ExpandEvent(guess.factor))}>
        Apply ×${guess.factor}
      </button>
    </div>`;
  }

  static override styles = [base, offerStyles];
}

customElements.define('expansion-guess', ExpansionGuess);

declare global {
  interface HTMLElementTagNameMap {
    'expansion-guess': ExpansionGuess;
  }
}
