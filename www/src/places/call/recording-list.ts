import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { base } from '../../parts/base-styles.ts';
import { statusWords, type Recording } from './recordings.ts';

/** A recording that the person wants to see. */
export class ShowEvent extends Event {
  static readonly type = 'show';
  readonly id: number;

  constructor(id: number) {
    super(ShowEvent.type, { bubbles: true, composed: true });
    this.id = id;
  }
}

/**
 * The recordings of this visit, each with its state.
 *
 * @fires show - another recording was chosen
 */
export class RecordingList extends LitElement {
  static override properties = {
    recordings: { attribute: false },
    currentId: { attribute: false },
  };

  declare recordings: readonly Recording[];
  declare currentId: number | null;

  override render(): TemplateResult {
    return html`
      <h2>Recordings</h2>
      <ol>
        ${this.recordings.map((recording) => this.#entry(recording))}
      </ol>
    `;
  }

  #entry(recording: Recording): TemplateResult {
    const here = recording.id === this.currentId;
    const failed = recording.status.kind === 'failed';
    return html`<li>
      <button
        aria-current=${here ? 'true' : nothing}
        @click=${() => this.dispatchEvent(new ShowEvent(recording.id))}
      >
        <span class="name">${recording.name}</span>
        <span class="state">${failed ? '✕ ' : ''}${statusWords(recording)}</span>
      </button>
    </li>`;
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
      }
      ol {
        list-style: none;
        margin: 0.6rem 0 0;
        padding: 0;
        max-height: min(60vh, 30rem);
        overflow: auto;
      }
      li button {
        display: block;
        width: 100%;
        padding: 0.45rem 0.7rem;
        border: 0;
        border-left: 4px solid transparent;
        border-radius: 0;
        background: none;
        text-align: left;
        line-height: 1.3;
      }
      li button:focus-visible {
        outline-offset: -3px;
      }
      li button[aria-current] {
        border-left-color: var(--pencil);
        background: var(--sheet);
        font-weight: 700;
      }
      .name {
        display: block;
        overflow-wrap: anywhere;
      }
      .state {
        font-size: 0.88rem;
        font-weight: 400;
        color: var(--soft);
        font-variant-numeric: tabular-nums;
      }
    `,
  ];
}

customElements.define('recording-list', RecordingList);

declare global {
  interface HTMLElementTagNameMap {
    'recording-list': RecordingList;
  }
}
