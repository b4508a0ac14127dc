import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { freshEntry } from '../../../keep/entry.ts';
import type { Keeping } from '../../../keep/keeping.ts';
import { CERTAINTIES, MOST_NOTE, MOST_TEXT, type Certainty, type Label, type Span } from '../../../keep/label.ts';
import { base } from '../../../parts/base-styles.ts';
import { dialogStyles } from '../../../parts/dialog-styles.ts';
import type { Recording } from '../recordings.ts';
import { soundsOf, type Sound } from '../sounds.ts';
import { labelDialogStyles } from './dialog-styles.ts';
import { CERTAINTY_WORDS, LABEL_CAUTION } from './label-words.ts';
import { pulseWords, ranges, soundsIn, spansOf } from './labelled.ts';

/** What a label is put on. */
type Goal = 'selected' | 'sequence' | 'list' | 'recording' | 'as-before';

/** A dialogue in which a label is made or changed; Escape leaves everything as it was. */
export class LabelDialog extends LitElement {
  static override properties = {
    keeping: { attribute: false },
    recording: { attribute: false },
    label: { state: true },
    goal: { state: true },
    certainty: { state: true },
    fault: { state: true },
  };

  declare keeping: Keeping;
  declare recording: Recording;
  /** The label that is changed; null: a new one is made. */
  declare label: Label | null;
  declare goal: Goal;
  declare certainty: Certainty;
  /** What cannot be kept as it is written. */
  declare fault: string | null;

  constructor() {
    super();
    this.label = null;
    this.goal = 'recording';
    this.certainty = 'probable';
    this.fault = null;
  }

  /** Opens for a new label: of the selected pulse if there is one and `about` does not say otherwise. */
  async make(about?: 'recording'): Promise<void> {
    this.label = null;
    this.goal = about ?? (this.#selected() ? 'selected' : 'recording');
    this.certainty = 'probable';
    await this.#show();
  }

  /** Opens for a change of a label. */
  async change(label: Label): Promise<void> {
    this.label = label;
    this.goal = 'as-before';
    this.certainty = label.certainty;
    await this.#show();
  }

  async #show(): Promise<void> {
    this.fault = null;
    // The words on the list may be others by now.
    this.requestUpdate();
    await this.updateComplete;
    const { label } = this;
    const { own } = this.keeping;
    this.#field('text').value = label?.text ?? '';
    this.#field('note').value = label?.note ?? '';
    this.#field('who').value = label?.who ?? own.value.who;
    const selected = this.#selected();
    this.#field('list').value = selected ? selected.name : '';
    this.renderRoot.querySelector('dialog')?.showModal();
    this.#field('text').focus();
  }

  override render(): TemplateResult {
    const { words } = this.keeping.own.value;
    return html`<dialog aria-labelledby="title">
      <form @submit=${this.#submit} novalidate>
        <h2 id="title">${this.label ? 'Change the label' : 'Label'}</h2>
        <label class="wide">
          <span>What it is</span>
          <input class="field" name="text" list="words" maxlength=${MOST_TEXT} autocomplete="off" aria-describedby="fault" />
        </label>
        <datalist id="words">${words.map((word) => html`<option value=${word}></option>`)}</datalist>
        ${this.#certainties()} ${this.#goals()}
        <label class="wide">
          <span>Note</span>
          <textarea class="field" name="note" rows="2" maxlength=${MOST_NOTE}></textarea>
        </label>
        <label class="wide">
          <span>Who says so</span>
          <input class="field" name="who" maxlength=${MOST_TEXT} autocomplete="name" />
        </label>
        <label><input type="checkbox" name="remember" checked /> Put the words on my list</label>
        <p id="fault" class="fault" role="alert">${this.fault ?? nothing}</p>
        <p class="small soft">${LABEL_CAUTION}</p>
        <div class="row">
          <button class="main" type="submit">Keep the label</button>
          <button type="button" @click=${this.#close}>Cancel</button>
        </div>
      </form>
    </dialog>`;
  }

  #certainties(): TemplateResult {
    return html`<fieldset>
      <legend>How sure</legend>
      ${CERTAINTIES.map(
        (certainty) => html`<label>
          <input
            type="radio"
            name="certainty"
            .checked=${this.certainty === certainty}
            @change=${() => {
              this.certainty = certainty;
            }}
          />
          <span>${CERTAINTY_WORDS[certainty].label}<span class="soft small"> · ${CERTAINTY_WORDS[certainty].meaning}</span></span>
        </label>`,
      )}
    </fieldset>`;
  }

  #goals(): TemplateResult {
    const selected = this.#selected();
    const sequence = this.#sequence();
    const before = this.label?.about.map(({ name }) => name) ?? [];
    return html`<fieldset>
      <legend>For</legend>
      ${this.label ? this.#goal('as-before', `As before: ${before.length > 0 ? pulseWords(before) : 'the whole recording'}`) : nothing}
      ${selected ? this.#goal('selected', pulseWords([selected.name]).replace('p', 'P')) : nothing}
      ${sequence.length > 1
        ? this.#goal('sequence', `Its whole sequence: ${pulseWords(sequence.map(({ name }) => name))}`)
        : nothing}
      ${this.#sounds().length > 0 ? this.#list() : nothing}
      ${this.label?.about.length === 0 ? nothing : this.#goal('recording', 'The whole recording')}
    </fieldset>`;
  }

  #goal(goal: Goal, words: string): TemplateResult {
    return html`<label>
      <input type="radio" name="goal" .checked=${this.goal === goal} @change=${() => this.#aim(goal)} />
      <span>${words}</span>
    </label>`;
  }

  #list(): TemplateResult {
    const names = this.#sounds().map(({ name }) => name);
    return html`<div class="together">
      ${this.#goal('list', 'These pulses:')}
      <input
        class="field"
        name="list"
        aria-label="Numbers of pulses"
        placeholder="3-5, 9"
        title=${`There are ${ranges(names)}`}
        autocomplete="off"
        @input=${() => this.#aim('list')}
      />
    </div>`;
  }

  #aim(goal: Goal): void {
    this.goal = goal;
    this.fault = null;
  }

  #sounds(): readonly Sound[] {
    return soundsOf(this.recording.findings, true);
  }

  #selected(): Sound | null {
    return this.#sounds().find(({ pulse }) => pulse === this.recording.selected) ?? null;
  }

  #sequence(): readonly Sound[] {
    const sequence = this.recording.selected?.sequence ?? null;
    return sequence === null ? [] : this.#sounds().filter(({ pulse }) => pulse.sequence === sequence);
  }

  /** What the label is about, or a sentence about what is wrong. */
  #about(): readonly Span[] | string {
    switch (this.goal) {
      case 'recording':
        return [];
      case 'as-before':
        return this.label?.about ?? [];
      case 'sequence':
        return spansOf(this.#sequence(), this.recording);
      case 'selected': {
        const selected = this.#selected();
        return selected ? spansOf([selected], this.recording) : 'No pulse is chosen any more.';
      }
      default: {
        const sounds = soundsIn(this.#field('list').value, this.#sounds());
        return typeof sounds === 'string' ? sounds : spansOf(sounds, this.recording);
      }
    }
  }

  #submit(event: SubmitEvent): void {
    event.preventDefault();
    const text = this.#field('text').value.trim();
    const about = this.#about();
    if (text === '' || typeof about === 'string') {
      this.fault = typeof about === 'string' ? about : 'Write what it is: a word of your own will do.';
      this.#field(text === '' ? 'text' : 'list').focus();
      return;
    }
    const who = this.#field('who').value.trim();
    const { id, when } = freshEntry();
    const { certainty } = this;
    this.#keep({ id: this.label?.id ?? id, when, about, text, certainty, note: this.#field('note').value.trim(), who });
    const remember = this.renderRoot.querySelector<HTMLInputElement>('[name=remember]')?.checked ?? false;
    this.keeping.changeOwn((own) => ({
      words: remember && !own.words.includes(text) ? [...own.words, text] : own.words,
      who,
    }));
    this.#close();
  }

  #keep(label: Label): void {
    const about = label.about.length > 0 ? pulseWords(label.about.map(({ name }) => name)) : 'the recording';
    const what = this.label ? `change the label of ${about}` : `label ${about}`;
    this.keeping.change(this.recording.id, what, (remarks) => ({
      ...remarks,
      labels: this.label
        ? remarks.labels.map((other) => (other.id === label.id ? label : other))
        : [...remarks.labels, label],
    }));
  }

  #close(): void {
    this.renderRoot.querySelector('dialog')?.close();
  }

  #field(name: string): HTMLInputElement {
    const field = this.renderRoot.querySelector<HTMLInputElement>(`[name=${name}]`);
    // Where there are no pulses, there is no field for their numbers.
    return field ?? document.createElement('input');
  }

  static override styles = [base, dialogStyles, labelDialogStyles];
}

customElements.define('label-dialog', LabelDialog);

declare global {
  interface HTMLElementTagNameMap {
    'label-dialog': LabelDialog;
  }
}
