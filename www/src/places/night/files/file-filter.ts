import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Crowd, Group, LabelCount, Order } from '../../../core/types.ts';
import { base } from '../../../parts/base-styles.ts';
import { toggleStyles } from '../../../parts/toggle-styles.ts';
import { counted, GROUPS } from '../words.ts';
import type { Narrowing, Stretch } from './narrowing.ts';

/** The person narrows the list in another way. */
export class NarrowEvent extends Event {
  static readonly type = 'narrow';
  readonly change: Partial<Narrowing>;

  constructor(change: Partial<Narrowing>) {
    super(NarrowEvent.type, { bubbles: true, composed: true });
    this.change = change;
  }
}

const ORDERS: { readonly [O in Order]?: string } = {
  time: 'Time',
  path: 'Name',
  passes: 'Passes',
  pulses: 'Pulses',
  snr: 'Signal-to-noise',
  frequency: 'Frequency',
};

/** Where the list of files is narrowed down and put in order. */
export class FileFilter extends LitElement {
  static override properties = {
    narrowing: { attribute: false },
    counts: { attribute: false },
    labels: { attribute: false },
    crowds: { attribute: false },
    clock: { attribute: false },
  };

  declare narrowing: Narrowing;
  /** How many files each group has in the nights that are looked at. */
  declare counts: ReadonlyMap<Group, number>;
  declare labels: readonly LabelCount[];
  /** Passes that are together in frequency, where one night is looked at. */
  declare crowds: readonly Crowd[];
  /** A moment as the night's clock has it. */
  declare clock: (utcS: number) => string;

  override render(): TemplateResult {
    const { groups, buzzes, path, order, descending, stretch, label } = this.narrowing;
    return html`
      <div class="groups" role="group" aria-label="Groups">
        ${(Object.keys(GROUPS) as Group[]).map((group) => {
          const count = this.counts.get(group) ?? 0;
          return count === 0 && !groups.has(group)
            ? nothing
            : html`<button
                class="toggle"
                aria-pressed=${groups.has(group)}
                @click=${() => this.#toggle(group)}
              >${GROUPS[group]} <span class="count">${count.toLocaleString('en')}</span></button>`;
        })}
      </div>
      <div class="more">
        <label>Label
          <select @change=${(event: Event) => this.#label((event.target as HTMLSelectElement).value)}>
            <option value="*" ?selected=${label === null}>any</option>
            <option value="" ?selected=${label === ''}>none</option>
            ${this.labels.map(
              ({ text, files }) => html`<option value=${`=${text}`} ?selected=${label === text}>${text} (${files})</option>`,
            )}
          </select>
        </label>
        ${this.crowds.length === 0
          ? nothing
          : html`<label>Crowd
              <select @change=${(event: Event) => this.#crowd((event.target as HTMLSelectElement).value)}>
                <option value="" ?selected=${this.#crowdAt(stretch) === null}>any frequency</option>
                ${this.crowds.map(
                  (crowd, at) => html`<option value=${at} ?selected=${this.#crowdAt(stretch) === at}>
                    ${crowd.from_khz.toFixed(0)} to ${crowd.to_khz.toFixed(0)} kHz (${counted(crowd.passes, 'pass', 'passes')})
                  </option>`,
                )}
              </select>
            </label>`}
        <label>Order
          <select @change=${(event: Event) => this.#order((event.target as HTMLSelectElement).value as Order)}>
            ${Object.entries(ORDERS).map(
              ([name, words]) => html`<option value=${name} ?selected=${order === name}>${words}</option>`,
            )}
          </select>
        </label>
        <label><input
          type="checkbox"
          .checked=${descending}
          @change=${(event: Event) => this.#narrow({ descending: (event.target as HTMLInputElement).checked })}
        /> Largest first</label>
        <label><input
          type="checkbox"
          .checked=${buzzes}
          @change=${(event: Event) => this.#narrow({ buzzes: (event.target as HTMLInputElement).checked })}
        /> With a feeding buzz</label>
        <label>Name holds
          <input
            class="field"
            type="search"
            spellcheck="false"
            .value=${path}
            @input=${(event: Event) => this.#narrow({ path: (event.target as HTMLInputElement).value })}
          />
        </label>
        ${stretch
          ? html`<span class="stretch">Marked on the plot: ${this.#stretchWords(stretch)}
              <button class="plain" @click=${() => this.#narrow({ stretch: null })}>All of the night</button></span>`
          : nothing}
      </div>
    `;
  }

  #stretchWords({ from, to, lowKhz, highKhz }: Stretch): string {
    const time = from !== null && to !== null ? `${this.clock(from)} to ${this.clock(to)}` : '';
    const band = lowKhz !== null && highKhz !== null ? `${Math.round(lowKhz)} to ${Math.round(highKhz)} kHz` : '';
    return [time, band].filter((words) => words !== '').join(', ');
  }

  /** The crowd that the list is narrowed to; null: none of them. */
  #crowdAt(stretch: Stretch | null): number | null {
    const at = this.crowds.findIndex(
      ({ from_khz, to_khz }) => stretch?.lowKhz === from_khz && stretch.highKhz === to_khz && stretch.from === null,
    );
    return at === -1 ? null : at;
  }

  #crowd(value: string): void {
    const crowd = value === '' ? undefined : this.crowds[Number(value)];
    const stretch = crowd ? { from: null, to: null, lowKhz: crowd.from_khz, highKhz: crowd.to_khz } : null;
    this.#narrow({ stretch });
  }

  #toggle(group: Group): void {
    const groups = new Set(this.narrowing.groups);
    if (!groups.delete(group)) {
      groups.add(group);
    }
    this.#narrow({ groups });
  }

  #label(value: string): void {
    this.#narrow({ label: value === '*' ? null : value.replace(/^=/, '') });
  }

  /** Numbers begin with the largest, times and names with the first. */
  #order(order: Order): void {
    this.#narrow({ order, descending: order !== 'time' && order !== 'path' });
  }

  #narrow(change: Partial<Narrowing>): void {
    this.dispatchEvent(new NarrowEvent(change));
  }

  static override styles = [
    base,
    toggleStyles,
    css`
      :host {
        display: grid;
        gap: 0.6rem;
        margin-bottom: 0.8rem;
      }
      .groups,
      .more {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.4rem 0.9rem;
      }
      .groups {
        gap: 0.4rem;
      }
      .count {
        font-variant-numeric: tabular-nums;
        font-weight: 400;
      }
      input[type='search'] {
        width: 9rem;
      }
      .stretch {
        padding: 0.1rem 0.7rem;
        border: 1.5px dashed var(--pencil);
        border-radius: 3px;
      }
      .more label {
        min-height: 2.5rem;
      }
    `,
  ];
}

customElements.define('file-filter', FileFilter);

declare global {
  interface HTMLElementTagNameMap {
    'file-filter': FileFilter;
  }
}
