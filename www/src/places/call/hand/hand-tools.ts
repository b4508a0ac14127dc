import { css, html, LitElement, type TemplateResult } from 'lit';
import { base } from '../../../parts/base-styles.ts';
import { watch } from '../../../store.ts';
import { DeedEvent } from '../picture/events.ts';
import type { Deed } from '../picture/keys.ts';
import type { Session } from '../session.ts';
import type { Strips } from '../strips/remembered.ts';

/**
 * Above the picture: marking a band, and the strips beside the picture.
 *
 * @fires deed - a button or box was used
 */
export class HandTools extends LitElement {
  static override properties = {
    session: { attribute: false },
    strips: { attribute: false },
  };

  declare session: Session;
  declare strips: Strips;

  override willUpdate(): void {
    watch(this, this.session.hand.store);
  }

  override render(): TemplateResult {
    const { marking, said } = this.session.hand.store.value;
    return html`
      <button aria-pressed=${marking} title="Key B" @click=${() => this.#deed('band')}>
        <span aria-hidden="true">⬚</span> Mark a band
      </button>
      ${this.#box('Waveform', 'waveform', this.strips.waveform)}
      ${this.#box('Power spectrum', 'power', this.strips.power)}
      <span class="quiet" aria-live="polite">${said}</span>
    `;
  }

  #box(label: string, deed: Deed, checked: boolean): TemplateResult {
    return html`<label>
      <input type="checkbox" .checked=${checked} @change=${() => this.#deed(deed)} />
      ${label}
    </label>`;
  }

  #deed(deed: Deed): void {
    this.dispatchEvent(new DeedEvent(deed));
  }

  static override styles = [
    base,
    css`
      :host {
        display: inline-flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.4rem 1.1rem;
      }
      [aria-pressed='true'] {
        border-color: var(--ink);
        border-style: dashed;
        background: var(--wash);
      }
    `,
  ];
}

customElements.define('hand-tools', HandTools);

declare global {
  interface HTMLElementTagNameMap {
    'hand-tools': HandTools;
  }
}
