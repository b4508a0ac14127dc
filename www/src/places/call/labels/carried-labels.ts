import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { Unfit } from '../../../keep/check.ts';
import type { Kept, Keeping } from '../../../keep/keeping.ts';
import { readLabel, type Label } from '../../../keep/label.ts';
import { carried, NO_REMARKS } from '../../../keep/remarks.ts';
import { base } from '../../../parts/base-styles.ts';
import { offerStyles } from '../../../parts/offer-styles.ts';
import type { Recording } from '../recordings.ts';

/** Recordings whose labels the person left where they are, as long as the page is open. */
const LEFT = new Set<number>();

/** Offers the labels that a file carries itself, where none are kept of it here. */
export class CarriedLabels extends LitElement {
  static override properties = {
    keeping: { attribute: false },
    recording: { attribute: false },
    kept: { attribute: false },
    fault: { state: true },
  };

  declare keeping: Keeping;
  declare recording: Recording;
  declare kept: Kept;
  /** Why they cannot be taken over. */
  declare fault: string | null;

  constructor() {
    super();
    this.fault = null;
  }

  override render(): TemplateResult | typeof nothing {
    const labels = this.recording.opened?.facts.labels ?? [];
    const { history, state } = this.kept;
    const fresh = history.present.labels.length === 0 && history.undoes === null && history.redoes === null;
    if (labels.length === 0 || !fresh || state.kind === 'reading' || LEFT.has(this.recording.id)) {
      return nothing;
    }
    const count = labels.length === 1 ? 'a label' : `${labels.length} labels`;
    const who = [...new Set(labels.map((label) => label.who).filter((name) => name !== ''))];
    return html`<div class="offer" role="note">
      <p>
        <b>This file carries ${count}${who.length > 0 ? ` by ${who.join(', ')}` : ''}:</b>
        ${[...new Set(labels.map(({ text }) => text))].join(', ')}. Take ${labels.length === 1 ? 'it' : 'them'} over?
        ${this.fault ?? nothing}
      </p>
      <span class="row">
        <button class="main" @click=${() => this.#take(labels)}>Take over</button>
        <button @click=${this.#leave}>Leave</button>
      </span>
    </div>`;
  }

  #take(coming: readonly unknown[]): void {
    try {
      const labels: Label[] = coming.map((label, index) => readLabel(label, `label ${index + 1} of the file`));
      this.keeping.change(this.recording.id, 'take over the labels of the file', (remarks) =>
        carried(remarks, NO_REMARKS, { ...NO_REMARKS, labels }),
      );
    } catch (error) {
      if (!(error instanceof Unfit)) {
        throw error;
      }
      this.fault = `They cannot be taken over: ${error.message}`;
    }
  }

  #leave(): void {
    LEFT.add(this.recording.id);
    this.requestUpdate();
  }

  static override styles = [
    base,
    offerStyles,
    css`
      .row {
        display: inline-flex;
        gap: 0.4rem;
      }
    `,
  ];
}

customElements.define('carried-labels', CarriedLabels);

declare global {
  interface HTMLElementTagNameMap {
    'carried-labels': CarriedLabels;
  }
}
