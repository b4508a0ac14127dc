import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Row } from '../../../core/types.ts';
import type { Certainty } from '../../../keep/label.ts';
import { CERTAINTIES, MOST_TEXT } from '../../../keep/label.ts';
import { REVIEW_VERDICTS, type ReviewVerdict } from '../../../keep/review.ts';
import { base } from '../../../parts/base-styles.ts';
import { toggleStyles } from '../../../parts/toggle-styles.ts';
import { REVIEWS } from '../words.ts';

/** The person says what is in the file. */
export class ReviewEvent extends Event {
  static readonly type = 'review';
  readonly verdict: ReviewVerdict;

  constructor(verdict: ReviewVerdict) {
    super(ReviewEvent.type, { bubbles: true, composed: true });
    this.verdict = verdict;
  }
}

/** The person labels the file. */
export class LabelFileEvent extends Event {
  static readonly type = 'label-file';
  readonly text: string;
  readonly certainty: Certainty;

  constructor(text: string, certainty: Certainty) {
    super(LabelFileEvent.type, { bubbles: true, composed: true });
    this.text = text;
    this.certainty = certainty;
  }
}

/** The keys of each answer: our own choice. */
export const REVIEW_KEYS: { readonly [V in ReviewVerdict]: string } = { bat: 'B', no_bat: 'O', unsure: 'U' };

/** Where the person says of a file what is in it; each answer leads on to the next file. */
export class DecideTools extends LitElement {
  static override properties = {
    row: { attribute: false },
    words: { attribute: false },
    last: { attribute: false },
    certainty: { state: true },
  };

  /** null: there is no file to decide about. */
  declare row: Row | null;
  declare words: readonly string[];
  /** The label that was given last; '' before the first. */
  declare last: string;
  declare certainty: Certainty;

  constructor() {
    super();
    this.certainty = 'probable';
  }

  /** Puts the focus where a label is written. */
  write(): void {
    const input = this.renderRoot.querySelector<HTMLInputElement>('#text');
    input?.focus();
    input?.select();
  }

  override render(): TemplateResult {
    const off = this.row === null || this.row.sha256 === '';
    return html`
      <div class="line" role="group" aria-label="What is in it, by eye or ear">
        ${REVIEW_VERDICTS.map(
          (verdict) => html`<button
            class="toggle"
            ?disabled=${off}
            aria-pressed=${this.row?.review === verdict}
            aria-keyshortcuts=${REVIEW_KEYS[verdict]}
            title=${`${REVIEWS[verdict]}, and on to the next (key ${REVIEW_KEYS[verdict]})`}
            @click=${() => this.dispatchEvent(new ReviewEvent(verdict))}
          >${REVIEWS[verdict]} <kbd aria-hidden="true">${REVIEW_KEYS[verdict]}</kbd></button>`,
        )}
      </div>
      <form class="line" @submit=${this.#submit}>
        <label>Label
          <input
            id="text"
            class="field"
            list="own-words"
            maxlength=${MOST_TEXT}
            autocomplete="off"
            ?disabled=${off}
            aria-keyshortcuts="N"
          />
        </label>
        <datalist id="own-words">${this.words.map((word) => html`<option value=${word}></option>`)}</datalist>
        <label class="quietly">Certainty
          <select
            .value=${this.certainty}
            @change=${(event: Event) => {
              this.certainty = (event.target as HTMLSelectElement).value as Certainty;
            }}
          >${CERTAINTIES.map((one) => html`<option value=${one} ?selected=${one === this.certainty}>${one}</option>`)}</select>
        </label>
        <button ?disabled=${off}>Label it</button>
        ${this.last === ''
          ? nothing
          : html`<button
              type="button"
              ?disabled=${off}
              aria-keyshortcuts="R"
              title="The same label again, and on to the next (key R)"
              @click=${() => this.#give(this.last)}
            >${this.last} again <kbd aria-hidden="true">R</kbd></button>`}
      </form>
    `;
  }

  readonly #submit = (event: Event): void => {
    event.preventDefault();
    const input = this.renderRoot.querySelector<HTMLInputElement>('#text');
    const text = input?.value.trim() ?? '';
    if (text !== '' && input) {
      input.value = '';
      input.blur();
      this.#give(text);
    }
  };

  #give(text: string): void {
    this.dispatchEvent(new LabelFileEvent(text, this.certainty));
  }

  static override styles = [
    base,
    toggleStyles,
    css`
      :host {
        display: grid;
        gap: 0.5rem;
      }
      .line {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.4rem 0.7rem;
      }
      kbd {
        padding: 0 0.4rem;
        border: 1px solid var(--line-strong);
        border-radius: 3px;
        font-size: 0.8rem;
      }
      #text {
        width: 11rem;
        max-width: 100%;
      }
    `,
  ];
}

customElements.define('decide-tools', DecideTools);

declare global {
  interface HTMLElementTagNameMap {
    'decide-tools': DecideTools;
  }
}
