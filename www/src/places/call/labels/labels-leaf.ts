import { html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Kept } from '../../../keep/keeping.ts';
import type { Label } from '../../../keep/label.ts';
import { base } from '../../../parts/base-styles.ts';
import type { Recording } from '../recordings.ts';
import type { Session } from '../session.ts';
import './keep-line.ts';
import './keep-tools.ts';
import { CERTAINTY_WORDS, LABEL_CAUTION } from './label-words.ts';
import type { Labelled } from './labelled.ts';
import { leafStyles } from './leaf-styles.ts';
import './own-list.ts';

/** A label is to be made or changed. */
export class LabelEvent extends Event {
  static readonly type = 'label';
  /** The label to be changed; null: a new one. */
  readonly label: Label | null;
  /** Whether a new one is for the whole recording, whatever is selected. */
  readonly whole: boolean;

  constructor(label: Label | null, whole = false) {
    super(LabelEvent.type, { bubbles: true, composed: true });
    this.label = label;
    this.whole = whole;
  }
}

/**
 * All labels of a recording, and the ways to keep and to give them away.
 *
 * @fires label - a label is to be made or changed
 */
export class LabelsLeaf extends LitElement {
  static override properties = {
    session: { attribute: false },
    recording: { attribute: false },
    kept: { attribute: false },
    labelled: { attribute: false },
    selected: { attribute: false },
  };

  declare session: Session;
  declare recording: Recording;
  declare kept: Kept;
  declare labelled: Labelled;
  /** Name of the selected sound; null where there is none. */
  declare selected: string | null;

  override render(): TemplateResult {
    const { session, recording, kept, labelled, selected } = this;
    return html`
      <section aria-label="Labels">
        <div class="heading">
          <h2>Labels</h2>
          <span class="row">
            ${selected === null
              ? nothing
              : html`<button class="main" aria-keyshortcuts="n" @click=${() => this.#ask(new LabelEvent(null))}>
                  Label pulse ${selected}
                </button>`}
            <button
              class=${selected === null ? 'main' : ''}
              @click=${() => this.#ask(new LabelEvent(null, true))}
            >Label the recording</button>
          </span>
        </div>
        <keep-line .keeping=${session.keeping} .recording=${recording.id} .state=${kept.state}></keep-line>
        ${labelled.labels.length === 0
          ? html`<p class="told soft">
              None yet. Choose a pulse and press N, or label the recording as a whole.
            </p>`
          : html`<ul class="labels">${labelled.labels.map((label) => this.#item(label))}</ul>`}
        <p class="caution">${LABEL_CAUTION}</p>
      </section>
      <keep-tools .session=${session} .recording=${recording} .labels=${labelled.labels}></keep-tools>
      <own-list .keeping=${session.keeping}></own-list>
    `;
  }

  #item(label: Label): TemplateResult {
    const about = this.labelled.about(label);
    const when = new Date(label.when).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
    return html`<li>
      <div class="words">
        <p><b>${label.text}</b> · ${CERTAINTY_WORDS[label.certainty].label.toLowerCase()} · ${about}</p>
        ${label.note === '' ? nothing : html`<p class="note">${label.note}</p>`}
        <p class="small soft">${label.who === '' ? 'Nobody named' : label.who}, ${when}</p>
      </div>
      <span class="row">
        <button aria-label=${`Change the label ${label.text} of ${about}`} @click=${() => this.#ask(new LabelEvent(label))}>
          Change
        </button>
        <button aria-label=${`Remove the label ${label.text} of ${about}`} @click=${() => this.#remove(label, about)}>
          Remove
        </button>
      </span>
    </li>`;
  }

  #ask(event: LabelEvent): void {
    this.dispatchEvent(event);
  }

  #remove(label: Label, about: string): void {
    this.session.keeping.change(this.recording.id, `remove the label of ${about}`, (remarks) => ({
      ...remarks,
      labels: remarks.labels.filter(({ id }) => id !== label.id),
    }));
    // What had the focus is gone.
    this.renderRoot.querySelector<HTMLElement>('button.main')?.focus();
  }

  static override styles = [base, leafStyles];
}

customElements.define('labels-leaf', LabelsLeaf);

declare global {
  interface HTMLElementTagNameMap {
    'labels-leaf': LabelsLeaf;
  }
}
