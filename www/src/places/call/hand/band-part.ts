import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { base } from '../../../parts/base-styles.ts';
import { toggleStyles } from '../../../parts/toggle-styles.ts';
import { watch } from '../../../store.ts';
import { whole, type Extent } from '../extent.ts';
import { fixed } from '../plus-minus.ts';
import type { Recording } from '../recordings.ts';
import type { Session } from '../session.ts';
import type { Sound } from '../sounds.ts';
import { bandOf, bandWithin, extentOf } from './band.ts';
import { comparison } from './comparison.ts';
import { isOf } from './desk.ts';
import { handStyles } from './hand-styles.ts';

const FIELDS = [
  { key: 'start_s', label: 'From, s', decimals: 5 },
  { key: 'end_s', label: 'To, s', decimals: 5 },
  { key: 'low_khz', label: 'From, kHz', decimals: 2 },
  { key: 'high_khz', label: 'To, kHz', decimals: 2 },
] as const;

/** Marking a band, by the picture or by typing, and what is measured in it. */
export class BandPart extends LitElement {
  static override properties = {
    session: { attribute: false },
    recording: { attribute: false },
    sounds: { attribute: false },
    refused: { state: true },
  };

  declare session: Session;
  declare recording: Recording;
  declare sounds: readonly Sound[];
  /** What is wrong with what was typed. */
  declare refused: string | null;

  constructor() {
    super();
    this.refused = null;
  }

  override willUpdate(): void {
    watch(this, this.session.hand.store);
  }

  override render(): TemplateResult {
    const { hand } = this.session;
    const { recording } = this;
    const { marking, busy, measured } = hand.store.value;
    const fresh = measured && isOf(measured, recording) ? measured.measurement : null;
    const none = recording.band === null;
    return html`<section aria-labelledby="band">
      <h3 id="band">Band</h3>
      <div class="row">
        <button class="toggle" aria-pressed=${marking} @click=${() => hand.mark(!marking)}>Mark a band</button>
        <button ?disabled=${none || busy} @click=${() => hand.measureBand(recording)}>Measure</button>
        <button ?disabled=${none || busy} @click=${() => hand.keepBand(recording, 'added')}>Add as a pulse</button>
        <button ?disabled=${none || busy} @click=${() => hand.keepBand(recording, 'band')}>Keep the numbers</button>
        <button ?disabled=${none} @click=${() => this.session.mark(recording.id, null)}>Clear the band</button>
      </div>
      <form class="row fields" @submit=${this.#typed}>
        ${FIELDS.map(
          ({ key, label, decimals }) => html`<label>${label}
            <input
              class="field"
              name=${key}
              type="number"
              step="any"
              inputmode="decimal"
              required
              .value=${recording.band ? String(Number(bandOf(recording.band)[key].toFixed(decimals))) : ''}
            /></label>`,
        )}
        <button>Mark these</button>
      </form>
      ${this.refused === null ? nothing : html`<p role="alert">${this.refused}</p>`}
      ${none && !marking
        ? html`<p class="soft">A band is a stretch of time and frequency. Mark one on the picture (key B), or type its sides.</p>`
        : nothing}
      ${busy ? html`<p class="late soft">Measuring …</p>` : nothing}
      ${fresh ? comparison(this.#automatic(fresh.pulse ?? null), { head: 'the band', measurement: fresh }) : nothing}
      ${fresh
        ? html`<p class="soft small">
            Power spectrum’s peak within the band: ${fixed(fresh.band_peak_khz, 2)} kHz. Strongest spot:
            ${fixed(fresh.band_level_db, 1)} dB re full scale, ${fixed(fresh.band_over_noise_db, 1)} dB over the noise.
          </p>`
        : nothing}
    </section>`;
  }

  /** The automatic sound in the band: the one that begins nearest to what was measured, else the first. */
  #automatic(measured: { start_s: number } | null): { head: string; pulse: Sound['pulse'] } | null {
    const { band } = this.recording;
    if (!band) {
      return null;
    }
    const inside = this.sounds.filter(
      ({ pulse }) =>
        pulse.end_s > band.time.from &&
        pulse.start_s < band.time.to &&
        pulse.high_khz > band.frequency.from &&
        pulse.low_khz < band.frequency.to,
    );
    const off = ({ pulse }: Sound): number => Math.abs(pulse.start_s - (measured?.start_s ?? band.time.from));
    const [nearest] = inside.toSorted((a, b) => off(a) - off(b));
    return nearest ? { head: `pulse ${nearest.name}`, pulse: nearest.pulse } : null;
  }

  readonly #typed = (event: SubmitEvent): void => {
    event.preventDefault();
    const { opened } = this.recording;
    const fields = new FormData(event.currentTarget as HTMLFormElement);
    const number = (key: string): number => Number(fields.get(key));
    const band: Extent = extentOf({
      start_s: number('start_s'),
      end_s: number('end_s'),
      low_khz: number('low_khz'),
      high_khz: number('high_khz'),
    });
    const inside = opened ? bandWithin(band, whole(opened.facts)) : null;
    if (!inside) {
      this.refused =
        'That is no band within this recording: it must end after it begins, reach above its lowest frequency, and lie in the recording.';
      return;
    }
    this.refused = null;
    this.session.mark(this.recording.id, inside);
    this.session.hand.measureBand({ ...this.recording, band: inside });
  };

  static override styles = [base, toggleStyles, handStyles];
}

customElements.define('band-part', BandPart);

declare global {
  interface HTMLElementTagNameMap {
    'band-part': BandPart;
  }
}
