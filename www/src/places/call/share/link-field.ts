import { css, html, LitElement, type TemplateResult } from 'lit';
import { base } from '../../../parts/base-styles.ts';

/** A call link was given to the page as text. */
export class CallLinkEvent extends Event {
  static readonly type = 'call-link';
  readonly text: string;

  constructor(text: string) {
    super(CallLinkEvent.type, { bubbles: true, composed: true });
    this.text = text;
  }
}

/**
 * Where a call link is pasted, for a page that was opened from a memory stick, or a link that leads to another page.
 *
 * @fires call-link - a link was given
 */
export class LinkField extends LitElement {
  override render(): TemplateResult {
    return html`<form @submit=${this.#given}>
      <label>
        <span>Open a call link</span>
        <input class="field" type="text" name="link" required autocomplete="off" spellcheck="false" placeholder="Paste it here" />
      </label>
      <button>Open</button>
    </form>`;
  }

  readonly #given = (event: SubmitEvent): void => {
    event.preventDefault();
    const field = (event.currentTarget as HTMLFormElement).querySelector('input');
    if (field) {
      this.dispatchEvent(new CallLinkEvent(field.value));
      field.value = '';
    }
  };

  static override styles = [
    base,
    css`
      form {
        display: flex;
        flex-wrap: wrap;
        align-items: end;
        gap: 0.6rem 1rem;
        margin-top: 2.6rem;
      }
      label {
        display: grid;
        flex: 0 1 34rem;
        gap: 0.2rem;
      }
      span {
        font-family: var(--hand);
        font-size: 1.15rem;
        font-weight: 600;
      }
      input {
        width: 100%;
      }
    `,
  ];
}

customElements.define('link-field', LinkField);

declare global {
  interface HTMLElementTagNameMap {
    'link-field': LinkField;
  }
}
