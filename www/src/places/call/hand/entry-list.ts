import { html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Span } from '../../../keep/label.ts';
import { base } from '../../../parts/base-styles.ts';
import { watch } from '../../../store.ts';
import { fixed, inWords } from '../plus-minus.ts';
import type { Recording } from '../recordings.ts';
import type { Session } from '../session.ts';
import { soundsOf } from '../sounds.ts';
import { handStyles } from './hand-styles.ts';
import { KINDS, madeWords, NOTES } from './hand-words.ts';
import { namedEntries, nameNow, type NamedEntry, type RowEntry } from './matching.ts';

/** All that was done by hand to a recording, and the interval between two pulses. */
export class EntryList extends LitElement {
  static override properties = {
    session: { attribute: false },
    recording: { attribute: false },
    from: { state: true },
    to: { state: true },
    refused: { state: true },
  };

  declare session: Session;
  declare recording: Recording;
  /** Numbers of the two pulses, as they were typed; null: as the choice of a pulse suggests. */
  declare from: string | null;
  declare to: string | null;
  declare refused: string | null;

  constructor() {
    super();
    this.from = null;
    this.to = null;
    this.refused = null;
  }

  override willUpdate(): void {
    watch(this, this.session.keeping.store);
  }

  override render(): TemplateResult {
    const named = namedEntries(this.recording, this.session.hand.entries(this.recording));
    return html`${this.#interval()}
      <section aria-labelledby="list">
        <h3 id="list">All by hand</h3>
        ${named.length === 0
          ? html`<p class="soft">Nothing yet. What you do here is kept on this machine, and saved with the table.</p>`
          : html`<div class="scroll" tabindex="0" role="region" aria-label="Table of what was done by hand"><table class="list">
              <thead><tr>
                <th scope="col">Number</th><th scope="col">What</th><th scope="col">Start, s</th><th scope="col">Duration, ms</th>
                <th scope="col">Peak, kHz</th><th scope="col">High to low, kHz</th><th scope="col">Level, dB</th>
                <th scope="col">Made</th><th scope="col"><span class="quiet">Take away</span></th>
              </tr></thead>
              <tbody>${named.map((one) => this.#row(one))}</tbody>
            </table></div>`}
      </section>`;
  }

  #row({ name, entry }: NamedEntry): TemplateResult {
    return html`<tr>
      <th scope="row">✎ ${name}</th>
      <td class="words">${this.#what(entry)}</td>
      ${this.#numbers(entry)}
      <td class="words">${madeWords(entry)}</td>
      <td>
        <button
          aria-label="Take away ${name}"
          title="Take away ${name}"
          @click=${() => this.session.hand.remove(this.recording, entry.id, `take away ${name}`)}
        >Take away</button>
      </td>
    </tr>`;
  }

  #what(entry: RowEntry): TemplateResult {
    const name = (span: Span): string => nameNow(this.recording, span);
    switch (entry.kind) {
      case 'interval':
        return html`${KINDS.interval}, pulse ${name(entry.first)} to ${name(entry.second)}`;
      case 'corrected':
        return html`${KINDS.corrected} ${name(entry.of)}`;
      default:
        return html`${KINDS[entry.kind]}${entry.measurement.pulse ? nothing : html`: ${entry.measurement.notes.map((note) => NOTES[note]).join(' ')}`}`;
    }
  }

  #numbers(entry: RowEntry): TemplateResult {
    if (entry.kind === 'interval') {
      const { interval_ms, interval_u95_ms, gap_ms, rate_hz, first_start_s } = entry.interval;
      return html`<td>${fixed(first_start_s, 4)}</td>
        <td colspan="4" class="words">
          start to start ${inWords(interval_ms, interval_u95_ms, { usual: 2, most: 2 })} ms, end to start
          ${fixed(gap_ms, 2)} ms, ${fixed(rate_hz, 1)} pulses a second
        </td>`;
    }
    const { pulse, band, band_peak_khz, band_level_db } = entry.measurement;
    return html`<td>${fixed(pulse?.start_s ?? band.start_s, 4)}</td>
      <td>${fixed(pulse?.duration_ms ?? (band.end_s - band.start_s) * 1e3, 2)}</td>
      <td>${fixed(pulse?.peak_khz ?? band_peak_khz, 1)}</td>
      <td>${fixed(pulse?.high_khz ?? band.high_khz, 1)} to ${fixed(pulse?.low_khz ?? band.low_khz, 1)}</td>
      <td>${fixed(pulse?.level_db ?? band_level_db, 1)}</td>`;
  }

  /** The chosen pulse and the one after it, where nothing else was typed. */
  #suggested(): [string, string] {
    const all = soundsOf(this.recording.findings, true);
    const at = all.findIndex(({ pulse }) => pulse === this.recording.selected);
    return [all[at]?.name ?? '', at < 0 ? '' : (all[at + 1]?.name ?? '')];
  }

  #interval(): TemplateResult {
    const [first, second] = this.#suggested();
    const typed = (key: 'from' | 'to') => (event: Event): void => {
      this[key] = (event.currentTarget as HTMLInputElement).value;
    };
    return html`<section aria-labelledby="interval">
      <h3 id="interval">Interval between two pulses</h3>
      <form class="row fields" @submit=${this.#measure}>
        <label>From pulse
          <input class="field short" required maxlength="8" .value=${this.from ?? first} @input=${typed('from')} /></label>
        <label>to pulse
          <input class="field short" required maxlength="8" .value=${this.to ?? second} @input=${typed('to')} /></label>
        <button>Measure the interval</button>
      </form>
      ${this.refused === null ? nothing : html`<p role="alert">${this.refused}</p>`}
    </section>`;
  }

  readonly #measure = (event: SubmitEvent): void => {
    event.preventDefault();
    const [first, second] = this.#suggested();
    const all = soundsOf(this.recording.findings, true);
    const wanted = [this.from ?? first, this.to ?? second].map((name) => name.trim().toUpperCase());
    const [one, other] = wanted.map((name) => all.find((sound) => sound.name === name));
    if (!one || !other) {
      this.refused = `There is no pulse ${one ? wanted[1] : wanted[0]} in the table.`;
      return;
    }
    this.refused = null;
    this.from = null;
    this.to = null;
    this.session.hand.interval(this.recording, one, other);
  };

  static override styles = [base, handStyles];
}

customElements.define('entry-list', EntryList);

declare global {
  interface HTMLElementTagNameMap {
    'entry-list': EntryList;
  }
}
