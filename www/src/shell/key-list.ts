import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { base } from '../parts/base-styles.ts';
import { dialogStyles } from '../parts/dialog-styles.ts';
import type { PlaceKeys } from './place.ts';

/** The person wants the list of keys. */
export class KeysEvent extends Event {
  static readonly type = 'keys';
  constructor() {
    super(KeysEvent.type, { bubbles: true, composed: true });
  }
}

/** The list of a place's keys, as a dialogue that Escape closes. */
export class KeyList extends LitElement {
  static override properties = { keys: { attribute: false } };

  declare keys: PlaceKeys | null;

  constructor() {
    super();
    this.keys = null;
  }

  /** Shows the list. */
  open(): void {
    this.renderRoot.querySelector('dialog')?.showModal();
  }

  override render(): TemplateResult | typeof nothing {
    const { keys } = this;
    if (keys === null) {
      return nothing;
    }
    return html`<dialog aria-labelledby="title">
      <form method="dialog">
        <h2 id="title">Keys</h2>
        <button>Close</button>
      </form>
      <p class="soft">${keys.when}</p>
      <dl>
        ${keys.words.map(
          ([strokes, does]) => html`<dt>${strokes.map((stroke) => html`<kbd>${stroke}</kbd>`)}</dt><dd>${does}</dd>`,
        )}
      </dl>
      ${keys.more}
    </dialog>`;
  }

  static override styles = [
    base,
    dialogStyles,
    css`
      dialog {
        max-width: min(34rem, calc(100vw - 2rem));
        padding: 1.6rem 1.8rem;
      }
      dl {
        display: grid;
        grid-template-columns: auto 1fr;
        gap: 0.3rem 1.2rem;
        margin: 1rem 0;
      }
      dt {
        display: flex;
        flex-wrap: wrap;
        gap: 0.35rem;
      }
      dd {
        margin: 0;
      }
      kbd {
        padding: 0.05rem 0.5rem;
        border: 1.5px solid var(--line-strong);
        border-radius: 3px;
        font: inherit;
        font-size: 0.92rem;
        white-space: nowrap;
      }
      form {
        display: flex;
        align-items: center;
        justify-content: space-between;
        margin-bottom: 0.4rem;
      }
    `,
  ];
}

customElements.define('key-list', KeyList);

declare global {
  interface HTMLElementTagNameMap {
    'key-list': KeyList;
  }
}
