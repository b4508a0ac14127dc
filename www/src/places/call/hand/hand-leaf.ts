import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { base } from '../../../parts/base-styles.ts';
import { watch } from '../../../store.ts';
import type { Recording } from '../recordings.ts';
import type { Session } from '../session.ts';
import type { Sound } from '../sounds.ts';
import './band-part.ts';
import './entry-list.ts';
import { handStyles } from './hand-styles.ts';
import './pulse-part.ts';

/** The leaf with all that a person measures by hand. */
export class HandLeaf extends LitElement {
  static override properties = {
    session: { attribute: false },
    recording: { attribute: false },
    sounds: { attribute: false },
    selected: { attribute: false },
  };

  declare session: Session;
  declare recording: Recording;
  declare sounds: readonly Sound[];
  /** Index into `sounds`. */
  declare selected: number | null;

  override willUpdate(): void {
    watch(this, this.session.hand.store, this.session.keeping.own);
  }

  override render(): TemplateResult {
    const { session, recording, sounds } = this;
    const { problem } = session.hand.store.value;
    const sound = this.selected === null ? null : (sounds[this.selected] ?? null);
    return html`
      <h2>By hand</h2>
      <div class="row">
        <p class="grow">What you measure here stands beside the automatic numbers and never takes their place.</p>
        <label>Your name
          <input class="field" maxlength="200" autocomplete="name" .value=${this.session.keeping.own.value.who} @change=${this.#named} /></label>
      </div>
      ${problem === null ? nothing : html`<p role="alert" class="problem">${problem.message} ${problem.advice}</p>`}
      <div class="parts">
        <band-part .session=${session} .recording=${recording} .sounds=${sounds}></band-part>
        <pulse-part .session=${session} .recording=${recording} .sound=${sound}></pulse-part>
      </div>
      <entry-list .session=${session} .recording=${recording}></entry-list>
    `;
  }

  readonly #named = (event: Event): void => {
    const who = (event.currentTarget as HTMLInputElement).value.trim();
    this.session.keeping.changeOwn((own) => ({ ...own, who }));
  };

  static override styles = [base, handStyles];
}

customElements.define('hand-leaf', HandLeaf);

declare global {
  interface HTMLElementTagNameMap {
    'hand-leaf': HandLeaf;
  }
}
