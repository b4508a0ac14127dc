import { html, LitElement, type TemplateResult } from 'lit';
import { base } from '../../../parts/base-styles.ts';

/** The page about the numbers is wanted, at one of its entries or ('') at its beginning. */
export class NumbersEvent extends Event {
  static readonly type = 'numbers';
  readonly entry: string;

  constructor(entry: string) {
    super(NumbersEvent.type, { bubbles: true, composed: true });
    this.entry = entry;
  }
}

/** Whether a click asks the browser for something else, such as a new tab. */
export function isSpecial(event: MouseEvent): boolean {
  return event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey;
}

/**
 * The way to the page about the numbers. A link and no button: it has an
 * address, and may be opened beside the recording.
 *
 * @fires numbers - it was followed
 */
export class NumbersLink extends LitElement {
  override render(): TemplateResult {
    return html`<a href="#numbers" @click=${this.#follow}>What the numbers mean</a>`;
  }

  #follow(event: MouseEvent): void {
    if (!isSpecial(event)) {
      event.preventDefault();
      this.dispatchEvent(new NumbersEvent(''));
    }
  }

  static override styles = base;
}

customElements.define('numbers-link', NumbersLink);

declare global {
  interface HTMLElementTagNameMap {
    'numbers-link': NumbersLink;
  }
}
