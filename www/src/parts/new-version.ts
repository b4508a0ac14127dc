import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { base } from './base-styles.ts';

/** The person wants the newer version now. */
export class LoadEvent extends Event {
  static readonly type = 'load-version';
  constructor() {
    super(LoadEvent.type, { bubbles: true, composed: true });
  }
}

/**
 * A quiet line that says when a newer version of the page is there. The page never takes it by itself: recordings that
 * are open would be lost.
 *
 * @fires load-version - the newer version is wanted
 */
export class NewVersion extends LitElement {
  static override properties = {
    ready: { attribute: false },
    open: { attribute: false },
  };

  declare ready: boolean;
  /** How many recordings are open. */
  declare open: number;

  constructor() {
    super();
    this.ready = false;
    this.open = 0;
  }

  override render(): TemplateResult {
    // The place for it is always there: a screen reader tells what comes into it, not what comes with it.
    return html`<div role="status" class=${this.ready ? 'line' : nothing}>
      ${this.ready ? html`<p>A new version is ready.${this.#warning()}</p>` : nothing}
    </div>
    ${this.ready ? html`<button @click=${() => this.dispatchEvent(new LoadEvent())}>Load it</button>` : nothing}`;
  }

  #warning(): string {
    if (this.open === 0) {
      return '';
    }
    const which = this.open === 1 ? 'the recording that is' : `the ${this.open} recordings that are`;
    return ` Loading it closes ${which} open here, so finish first.`;
  }

  static override styles = [
    base,
    css`
      :host {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.4rem 1.2rem;
      }
      .line {
        flex: 0 1 auto;
        padding-left: 0.8rem;
        border-left: 3px double var(--pencil);
      }
      @media print {
        :host {
          display: none;
        }
      }
    `,
  ];
}

customElements.define('new-version', NewVersion);

declare global {
  interface HTMLElementTagNameMap {
    'new-version': NewVersion;
  }
}
