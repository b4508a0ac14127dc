import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { ColourMap, Opened, Pulse } from '../../../core/client.ts';
import { base } from '../../../parts/base-styles.ts';
import { Watch } from '../../../store.ts';
import type { Theme } from '../../../themes.ts';
import { kilohertz } from '../../../units.ts';
import '../compare/compare-panel.ts';
import { hasEnded, type Recording, type Shown } from '../recordings.ts';
import type { Session } from '../session.ts';
import type { Sound } from '../sounds.ts';
import { doubtedCount } from '../summary-words.ts';
import { scaleOf, type SheetScale } from './scale.ts';
import { arranged, FIRST_CHOICE, type Item, type SheetChoice } from './sheet-choice.ts';
import './sheet-grid.ts';
import { TickEvent } from './sheet-grid.ts';
import './sheet-tools.ts';
import { ChoiceEvent } from './sheet-tools.ts';
import { toolStyles } from './tool-styles.ts';

const MS_PER_S = 1000;

/** What is on the sheet, and what that was made of. */
interface Made {
  readonly sounds: readonly Sound[];
  readonly starts: ReadonlySet<number>;
  readonly choice: SheetChoice;
  readonly opened: Opened | null;
  readonly items: readonly Item[];
  readonly scale: SheetScale | null;
  readonly picked: readonly Sound[];
}

/** The pulse sheet: every pulse as a small picture on one scale, and what was picked laid over one another. */
export class PulseSheet extends LitElement {
  static override properties = {
    session: { attribute: false },
    recording: { attribute: false },
    shown: { attribute: false },
    sounds: { attribute: false },
    selected: { attribute: false },
    theme: { attribute: false },
    map: { attribute: false },
  };

  declare session: Session;
  declare recording: Recording;
  declare shown: Shown;
  /** The pulses, and the doubted sounds where these are shown. */
  declare sounds: readonly Sound[];
  /** Index into `sounds`. */
  declare selected: number | null;
  declare theme: Theme;
  declare map: ColourMap;

  #choice: Watch<SheetChoice> | null = null;
  /** What is made of the properties, anew only where these change: a view that moves changes none of it. */
  #made: Made | null = null;

  constructor() {
    super();
    this.addEventListener(ChoiceEvent.type, (event) => {
      this.session.sheet.update((choice) => ({ ...choice, ...(event as ChoiceEvent).change }));
    });
    this.addEventListener(TickEvent.type, (event) => {
      const { pulse, isPicked } = event as TickEvent;
      this.session.pick(this.recording.id, [pulse], isPicked);
    });
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#choice ??= new Watch(this, this.session.sheet);
  }

  override render(): TemplateResult {
    const { sounds } = this;
    const made = this.#make();
    const { scale } = made;
    return html`<section aria-label="Pulse sheet">
      <div class="heading">
        <h2>Pulse sheet</h2>
        ${scale ? html`<p class="soft">${scaleWords(scale)}</p>` : nothing}
        ${this.#doubted()}
      </div>
      ${sounds.length === 0 ? this.#nothing() : this.#matter(made)}
    </section>`;
  }

  #make(): Made {
    const { sounds } = this;
    const { picked: starts, opened } = this.recording;
    const choice = this.#choice?.value ?? FIRST_CHOICE;
    const before = this.#made;
    if (before?.sounds === sounds && before.starts === starts && before.choice === choice && before.opened === opened) {
      return before;
    }
    const items = arranged(sounds, starts, choice);
    const scale = scaleOf(items, kilohertz((opened?.facts.rate_hz ?? 0) / 2000));
    const isSame = JSON.stringify(scale) === JSON.stringify(before?.scale);
    this.#made = {
      sounds,
      starts,
      choice,
      opened,
      items,
      scale: isSame && before ? before.scale : scale,
      // Another order of the sheet is no reason to compare anew.
      picked:
        before?.sounds === sounds && before.starts === starts
          ? before.picked
          : sounds.filter(({ pulse }) => starts.has(pulse.start_s)),
    };
    return this.#made;
  }

  #matter({ items, scale, picked, choice }: Made): TemplateResult {
    const { recording, sounds, selected } = this;
    return html`
      <sheet-tools
        .choice=${choice}
        .sequences=${recording.findings.summary.sequences}
      ></sheet-tools>
      ${this.#picks(items, picked.length)}
      <div class="sides">
        ${scale
          ? html`<sheet-grid
              .opened=${recording.opened}
              .channel=${recording.channel}
              .picked=${recording.picked}
              .items=${items}
              .scale=${scale}
              .selected=${selected}
              .choice=${choice}
              .uncertainty=${this.shown.uncertainty}
              .theme=${this.theme}
              .map=${this.map}
            ></sheet-grid>`
          : html`<p class="empty">There is none of these here. Choose something else under “Show”.</p>`}
        <compare-panel
          .core=${this.session.core}
          .file=${recording.name}
          .sounds=${sounds}
          .picked=${picked}
          .selected=${selected}
        ></compare-panel>
      </div>
    `;
  }

  /** Picking many at once. */
  #picks(items: readonly Item[], count: number): TemplateResult {
    const { sounds, selected, recording, session } = this;
    const pick = (pulses: readonly Pulse[], isPicked: boolean): void => session.pick(recording.id, pulses, isPicked);
    const sequence = (selected === null ? null : sounds[selected]?.pulse.sequence) ?? null;
    const all = sounds.map(({ pulse }) => pulse);
    return html`<div class="tools">
      <span class="count" role="status">${count === 0 ? 'None picked' : `${count} picked`}</span>
      <button ?disabled=${items.length === 0} @click=${() => pick(items.map(({ sound }) => sound.pulse), true)}>
        Pick all on the sheet
      </button>
      <button
        ?disabled=${sequence === null}
        title="Of the pulse that is selected"
        @click=${() => pick(all.filter((pulse) => pulse.sequence === sequence), true)}
      >
        Pick all of ${sequence === null ? 'this sequence' : `sequence ${sequence}`}
      </button>
      <button ?disabled=${count === 0} @click=${() => pick(all, false)}>Pick none</button>
    </div>`;
  }

  #doubted(): TemplateResult | typeof nothing {
    const doubted = this.recording.findings.doubted.length;
    return doubted > 0
      ? html`<button
          class="doubts"
          aria-pressed=${this.shown.doubted}
          @click=${() => this.session.reveal({ doubted: !this.shown.doubted })}
        >Show ${doubtedCount(doubted)}</button>`
      : nothing;
  }

  #nothing(): TemplateResult {
    return html`<p>${hasEnded(this.recording) ? 'There are no pulses to lay side by side.' : 'Pulses appear here as they are found.'}</p>`;
  }

  static override styles = [
    base,
    toolStyles,
    css`
      .doubts {
        margin-left: auto;
      }
      .count {
        min-width: 6.5rem;
        font-weight: 600;
      }
      .sides {
        display: grid;
        grid-template-columns: minmax(0, 1fr);
        gap: 1.4rem;
        align-items: start;
      }
      .empty {
        padding: 1.5rem;
        border: 1.5px dashed var(--line-strong);
      }
      @media (min-width: 70rem) {
        .sides {
          grid-template-columns: minmax(0, 1fr) minmax(24rem, 37%);
        }
      }
    `,
  ];
}

/** "All on one scale: 20 to 95 kHz, 4 ms before the moment of most energy to 3 ms after it." */
function scaleWords({ time, frequency }: SheetScale): string {
  return `All on one scale: ${frequency.from} to ${frequency.to} kHz, ${inMs(-time.from)} before the moment of most energy (dotted) to ${inMs(time.to)} after it.`;
}

function inMs(value: number): string {
  return `${Math.round(value * MS_PER_S)} ms`;
}

customElements.define('pulse-sheet', PulseSheet);

declare global {
  interface HTMLElementTagNameMap {
    'pulse-sheet': PulseSheet;
  }
}
