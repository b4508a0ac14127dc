import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { base } from '../../parts/base-styles.ts';
import { toggleStyles } from '../../parts/toggle-styles.ts';
import { download, stem } from '../../parts/download.ts';
import '../../parts/term-tip.ts';
import { watch } from '../../store.ts';
import { marksOf } from './hand/matching.ts';
import type { Labelled } from './labels/labelled.ts';
import './numbers/numbers-link.ts';
import './pulse-note.ts';
import './pulse-table.ts';
import type { Recording, Shown } from './recordings.ts';
import type { Session } from './session.ts';
import type { Sound } from './sounds.ts';
import { doubtedCount, doubtWords } from './summary-words.ts';
import { CAUTION, DOUBTS } from './words.ts';

/** What was found in a recording: the table, what is shown in it, and the way to save it. */
export class PulseSection extends LitElement {
  static override properties = {
    session: { attribute: false },
    recording: { attribute: false },
    shown: { attribute: false },
    sounds: { attribute: false },
    selected: { attribute: false },
    labelled: { attribute: false },
    saving: { state: true },
  };

  declare session: Session;
  declare recording: Recording;
  declare shown: Shown;
  /** The pulses, and the doubted sounds where these are shown. */
  declare sounds: readonly Sound[];
  /** Index into `sounds`. */
  declare selected: number | null;
  declare labelled: Labelled;
  /** What went wrong when the table was saved. */
  declare saving: string | null;

  constructor() {
    super();
    this.saving = null;
  }

  override willUpdate(): void {
    watch(this, this.session.keeping.store);
  }

  override render(): TemplateResult {
    const { sounds, selected, shown, labelled } = this;
    const chosen = selected === null ? null : (sounds[selected] ?? null);
    return html`<section aria-label="Pulses">
      ${this.#heading()} ${this.#told()}
      ${this.saving === null ? nothing : html`<p role="alert">${this.saving}</p>`}
      ${sounds.length === 0
        ? nothing
        : html`<pulse-table
              .sounds=${sounds}
              .selected=${selected}
              .uncertainty=${shown.uncertainty}
              .hand=${marksOf(this.recording, this.session.hand.entries(this.recording))}
              .labels=${labelled.byPulse}
            ></pulse-table>
            <pulse-note
              .sound=${chosen}
              .labels=${(chosen && labelled.byPulse.get(chosen.pulse)) ?? []}
            ></pulse-note>
            <p class="caution">${CAUTION}</p>`}
    </section>`;
  }

  #heading(): TemplateResult {
    const { findings, status } = this.recording;
    const doubted = findings.doubted.length;
    if (findings.pulses.length + doubted === 0) {
      return html`<h2>Pulses</h2>`;
    }
    return html`<div class="heading">
      <h2>Pulses</h2>
      <numbers-link></numbers-link>
      ${this.#uncertainty()}
      ${doubted > 0
        ? html`<button
            class="toggle"
            aria-pressed=${this.shown.doubted}
            @click=${() => this.session.reveal({ doubted: !this.shown.doubted })}
          >
            Show ${doubtedCount(doubted)}
          </button>`
        : nothing}
      <button ?disabled=${status.kind !== 'measured'} @click=${() => void this.#save()}>
        Save table (CSV)
      </button>
      ${this.#about()}
    </div>`;
  }

  #about(): TemplateResult {
    const changed = (event: Event) => {
      this.session.reveal({ about: (event.currentTarget as HTMLInputElement).checked });
    };
    return html`<label title="What the columns mean and how was measured, in lines that begin with #">
      <input type="checkbox" .checked=${this.shown.about} @change=${changed} />
      with definitions
    </label>`;
  }

  #uncertainty(): TemplateResult {
    const changed = (event: Event) => {
      this.session.reveal({ uncertainty: (event.currentTarget as HTMLInputElement).checked });
    };
    return html`<label>
      <input type="checkbox" .checked=${this.shown.uncertainty} @change=${changed} />
      Uncertainty, ±
    </label>`;
  }

  /** What there is, where the table does not say so by itself. */
  #told(): TemplateResult | typeof nothing {
    const { findings, status } = this.recording;
    const over = status.kind === 'measured' || status.kind === 'stopped';
    const doubted = findings.doubted.length;
    const none = findings.pulses.length === 0;
    if (none && !over) {
      return html`<p class="told">They appear here as they are found.</p>`;
    }
    if (!none && (doubted === 0 || !this.shown.doubted)) {
      return nothing;
    }
    return html`<p class="told">
      ${none ? 'No bat pulses were found.' : nothing} ${doubted > 0 ? this.#doubts() : nothing}
    </p>`;
  }

  #doubts(): TemplateResult {
    const { doubted, summary } = this.recording.findings;
    return html`${doubted.length === 1 ? '1 sound is' : `${doubted.length} sounds are`} doubted:
      ${summary.doubts.map(
        (count, index) => html`${index > 0 ? ', ' : ''}<term-tip .meaning=${DOUBTS[count.doubt].meaning}
            >${doubtWords(count)}</term-tip>`,
      )}.
      ${this.shown.doubted
        ? 'They are measured like pulses, drawn in dots, and saved with the table; none is deleted.'
        : nothing}`;
  }

  async #save(): Promise<void> {
    const { recording } = this;
    try {
      const text = await this.session.csv(recording);
      download(`${stem(recording.name)}.csv`, 'text/csv', text);
      this.saving = null;
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      this.saving = `The table could not be saved: ${reason}`;
    }
  }

  static override styles = [
    base,
    toggleStyles,
    css`
      :host {
        display: block;
        min-width: 0;
      }
      .heading {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.5rem 1rem;
        margin-bottom: 0.7rem;
      }
      .heading numbers-link {
        margin-inline: auto 0.4rem;
      }
      .told {
        margin-bottom: 0.7rem;
        max-width: 62rem;
      }
      .told term-tip {
        white-space: nowrap;
      }
      pulse-note {
        margin: 1.2rem 0;
      }
      .caution {
        max-width: 62rem;
        padding-left: 1rem;
        border-left: 3px double var(--pencil);
      }
    `,
  ];
}

customElements.define('pulse-section', PulseSection);

declare global {
  interface HTMLElementTagNameMap {
    'pulse-section': PulseSection;
  }
}
