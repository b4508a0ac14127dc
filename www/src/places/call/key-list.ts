import { css, html, LitElement, type TemplateResult } from 'lit';
import { base } from '../../parts/base-styles.ts';
import { dialogStyles } from '../../parts/dialog-styles.ts';
import { LEAVES } from './leaves.ts';
import { KEY_WORDS } from './picture/keys.ts';

/** The list of keys, as a dialogue that Escape closes. */
export class KeyList extends LitElement {
  /** Shows the list. */
  open(): void {
    this.renderRoot.querySelector('dialog')?.showModal();
  }

  override render(): TemplateResult {
    return html`<dialog aria-labelledby="title">
      <form method="dialog">
        <h2 id="title">Keys</h2>
        <button>Close</button>
      </form>
      <p class="soft">They work while the picture has the focus: click it, or go there with Tab.</p>
      <dl>
        ${KEY_WORDS.map(
          ([keys, does]) => html`<dt>${keys.map((key) => html`<kbd>${key}</kbd>`)}</dt><dd>${does}</dd>`,
        )}
      </dl>
      <p><kbd>1</kbd> to <kbd>${LEAVES.length}</kbd>: the leaves below the picture, wherever the focus is in a recording.</p>
      <h3>Mouse and fingers</h3>
      <p>
        The wheel comes closer in time, with Shift in frequency. Drag to move; two fingers stretch.
        A double click shows the whole recording. Click a pulse to choose it.
      </p>
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
