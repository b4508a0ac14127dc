import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { base } from '../../../parts/base-styles.ts';
import type { Errand } from './errand.ts';
import { megabytes, type Arrived } from './fetch.ts';

/** The person no longer wants the recording that is being fetched. */
export class CancelEvent extends Event {
  static readonly type = 'cancel-errand';
  constructor() {
    super(CancelEvent.type, { bubbles: true, composed: true });
  }
}

/** The person wants it after all. */
export class AgainEvent extends Event {
  static readonly type = 'run-errand';
  readonly path: string;

  constructor(path: string) {
    super(AgainEvent.type, { bubbles: true, composed: true });
    this.path = path;
  }
}

/**
 * How far a recording has come that is fetched from beside the page.
 *
 * @fires cancel-errand - it shall not be fetched
 * @fires run-errand - it shall be fetched after all
 */
export class ErrandLine extends LitElement {
  static override properties = { errand: { attribute: false } };

  declare errand: Errand;

  override render(): TemplateResult {
    const { errand } = this;
    // The place for what is said is always there, and what changes with every piece stands outside of it.
    return html`
      <p role="status">${words(errand)}</p>
      ${errand.kind === 'fetching'
        ? html`${bar(errand.arrived)} <button @click=${() => this.dispatchEvent(new CancelEvent())}>Cancel</button>`
        : nothing}
      ${errand.kind === 'cancelled'
        ? html`<button @click=${() => this.dispatchEvent(new AgainEvent(errand.path))}>Fetch it again</button>`
        : nothing}
    `;
  }

  static override styles = [
    base,
    css`
      :host {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.4rem 1.2rem;
        font-variant-numeric: tabular-nums;
      }
      p {
        overflow-wrap: anywhere;
      }
      button {
        margin: 0.4rem 0;
      }
      @media print {
        :host {
          display: none;
        }
      }
    `,
  ];
}

function words(errand: Errand): string {
  switch (errand.kind) {
    case 'none':
      return '';
    case 'fetching':
      return `Fetching ${errand.name} …`;
    case 'cancelled':
      return `${errand.name} was not fetched: you cancelled it.`;
  }
}

function bar({ bytes, of }: Arrived): TemplateResult {
  const share = of === null || of === 0 ? undefined : bytes / of;
  // Without a value it says that something goes on, and not how far.
  return html`<progress aria-label="Fetched" max="1" value=${share ?? nothing}></progress>
    <span class="soft">${megabytes(bytes)}${of === null ? '' : ` of ${megabytes(of)}`} MB</span>`;
}

customElements.define('errand-line', ErrandLine);

declare global {
  interface HTMLElementTagNameMap {
    'errand-line': ErrandLine;
  }
}
