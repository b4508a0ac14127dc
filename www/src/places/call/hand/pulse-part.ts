import { html, LitElement, nothing, type TemplateResult } from 'lit';
import type { CorrectedPulse, PulseSetAside } from '../../../keep/hand.ts';
import { base } from '../../../parts/base-styles.ts';
import { watch } from '../../../store.ts';
import type { Recording } from '../recordings.ts';
import type { Session } from '../session.ts';
import type { Sound } from '../sounds.ts';
import { comparison } from './comparison.ts';
import { STEPS } from './desk.ts';
import { handStyles } from './hand-styles.ts';
import { madeWords } from './hand-words.ts';
import { asideOf, correctionOf } from './matching.ts';

/** Asks for the form in which a pulse is set aside. */
export class AsideEvent extends Event {
  static readonly type = 'ask-aside';
  constructor() {
    super(AsideEvent.type, { bubbles: true, composed: true });
  }
}

/**
 * The chosen pulse: its start, end and contour corrected, or the whole of it set aside.
 *
 * @fires ask-aside - it shall be set aside, and a reason is to be asked for
 */
export class PulsePart extends LitElement {
  static override properties = {
    session: { attribute: false },
    recording: { attribute: false },
    sound: { attribute: false },
  };

  declare session: Session;
  declare recording: Recording;
  declare sound: Sound | null;

  override willUpdate(): void {
    watch(this, this.session.hand.store, this.session.keeping.store);
  }

  override render(): TemplateResult {
    const { sound } = this;
    return html`<section aria-labelledby="pulse">
      <h3 id="pulse">${sound ? `Pulse ${sound.name}` : 'Chosen pulse'}</h3>
      ${sound
        ? this.#chosen(sound)
        : html`<p class="soft">Choose a pulse, in the picture or the table, to correct it or set it aside.</p>`}
    </section>`;
  }

  #chosen(sound: Sound): TemplateResult {
    const { session, recording } = this;
    const entries = session.hand.entries(recording);
    const correction = correctionOf(recording, entries, sound.pulse);
    const aside = asideOf(recording, entries, sound.pulse);
    return html`
      <div class="row">
        ${this.#nudges(sound, 'start')} ${this.#nudges(sound, 'end')} ${this.#steps()}
      </div>
      <p class="soft small">
        Or drag S and E and the rings of the contour on the picture; come closer for more rings. The automatic numbers stay.
      </p>
      ${this.#aside(sound, aside)} ${correction ? this.#correction(sound, correction) : nothing}
    `;
  }

  #nudges(sound: Sound, edge: 'start' | 'end'): TemplateResult {
    const { hand } = this.session;
    const by = (direction: 1 | -1): void =>
      hand.nudge(this.recording, sound, edge, direction * hand.store.value.step.ms * 1e-3);
    const label = edge === 'start' ? 'Start' : 'End';
    return html`<span class="together" role="group" aria-label=${label}>
      <button aria-label="${label} earlier" title="${label} earlier" @click=${() => by(-1)}>← ${label}</button>
      <button aria-label="${label} later" title="${label} later" @click=${() => by(1)}>${label} →</button>
    </span>`;
  }

  #steps(): TemplateResult {
    const { hand } = this.session;
    const chosen = (event: Event): void => {
      const step = STEPS[Number((event.currentTarget as HTMLSelectElement).value)];
      if (step) {
        hand.set({ step });
      }
    };
    return html`<label>Step
      <select @change=${chosen}>
        ${STEPS.map(
          (step, index) => html`<option value=${index} .selected=${step === hand.store.value.step}>${step.ms} ms, ${step.khz} kHz</option>`,
        )}
      </select></label>`;
  }

  #aside(sound: Sound, aside: PulseSetAside | null): TemplateResult {
    const { session, recording } = this;
    return aside
      ? html`<p class="row aside">
          <span><b>✕ Set aside:</b> ${aside.reason} <span class="soft">(${madeWords(aside)})</span></span>
          <button @click=${() => session.hand.bringBack(recording, sound)}>Bring back</button>
        </p>`
      : html`<div class="row"><button @click=${() => this.dispatchEvent(new AsideEvent())}>Set aside …</button></div>`;
  }

  #correction(sound: Sound, correction: CorrectedPulse): TemplateResult {
    const { session, recording } = this;
    const what = `take back the correction of pulse ${sound.name}`;
    return html`${comparison(
        { head: `pulse ${sound.name}`, pulse: sound.pulse },
        { head: 'corrected', measurement: correction.measurement },
      )}
      <p class="row">
        <span class="soft">Corrected ${madeWords(correction)}</span>
        <button @click=${() => session.hand.remove(recording, correction.id, what)}>Back to the automatic numbers</button>
      </p>`;
  }

  static override styles = [base, handStyles];
}

customElements.define('pulse-part', PulsePart);

declare global {
  interface HTMLElementTagNameMap {
    'pulse-part': PulsePart;
  }
}
