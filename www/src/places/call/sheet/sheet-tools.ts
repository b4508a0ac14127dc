import { html, LitElement, type TemplateResult } from 'lit';
import type { Measure, SequenceFacts } from '../../../core/client.ts';
import { base } from '../../../parts/base-styles.ts';
import { ALL_MEASURES, MEASURES } from './measures.ts';
import type { CellSize, Order, Part, SheetChoice } from './sheet-choice.ts';
import { toolStyles } from './tool-styles.ts';

/** The sheet is wanted another way. */
export class ChoiceEvent extends Event {
  static readonly type = 'choice';
  readonly change: Partial<SheetChoice>;

  constructor(change: Partial<SheetChoice>) {
    super(ChoiceEvent.type, { bubbles: true, composed: true });
    this.change = change;
  }
}

const SIZES: Readonly<Record<CellSize, string>> = { small: 'Small', medium: 'Medium', large: 'Large' };

/**
 * What the sheet is sorted by, what it holds and how it shows that.
 *
 * @fires choice - the sheet is wanted another way
 */
export class SheetTools extends LitElement {
  static override properties = {
    choice: { attribute: false },
    sequences: { attribute: false },
  };

  declare choice: SheetChoice;
  declare sequences: readonly SequenceFacts[];

  override render(): TemplateResult {
    const { order, descending, sameLevels } = this.choice;
    return html`<div class="tools">
      <span class="together">
        <label>
          Sort by
          <select @change=${(event: Event) => this.#change({ order: valueOf(event) as Order })}>
            <option value="time" .selected=${order === 'time'}>Time in the recording</option>
            ${ALL_MEASURES.map(
              (measure) => html`<option value=${measure} .selected=${order === measure}>${MEASURES[measure].name}</option>`,
            )}
          </select>
        </label>
        <button
          aria-pressed=${descending}
          title=${order === 'time' ? 'Turn the order round' : 'Largest first, or smallest first'}
          @click=${() => this.#change({ descending: !descending })}
        >${descending ? '↓ Descending' : '↑ Ascending'}</button>
      </span>
      <label>
        Show
        <select @change=${(event: Event) => this.#change({ part: partOf(valueOf(event)) })}>
          ${this.#parts().map(
            ([part, words]) => html`<option value=${part} .selected=${part === this.choice.part}>${words}</option>`,
          )}
        </select>
      </label>
      <label>
        Cells
        <select @change=${(event: Event) => this.#change({ size: valueOf(event) as CellSize })}>
          ${Object.entries(SIZES).map(
            ([size, words]) => html`<option value=${size} .selected=${size === this.choice.size}>${words}</option>`,
          )}
        </select>
      </label>
      <label title="Off: each cell has the colours that suit its own pulse">
        <input
          type="checkbox"
          .checked=${sameLevels}
          @change=${() => this.#change({ sameLevels: !sameLevels })}
        />
        Same levels in all
      </label>
      ${this.#numbers()}
    </div>`;
  }

  #parts(): [Part, string][] {
    const sequences = this.sequences.map(({ number, pulses }): [Part, string] => [
      number,
      `Sequence ${number} (${pulses} pulses)`,
    ]);
    return [['all', 'All'], ...sequences, ['alone', 'Those that stand alone'], ['picked', 'What is picked']];
  }

  #numbers(): TemplateResult {
    const { numbers } = this.choice;
    const toggled = (measure: Measure): Measure[] =>
      ALL_MEASURES.filter((one) => (one === measure) !== numbers.includes(one));
    return html`<details>
      <summary>Numbers below each pulse: ${numbers.length === 0 ? 'none' : numbers.length}</summary>
      <fieldset>
        <legend class="quiet">Numbers below each pulse</legend>
        ${ALL_MEASURES.map(
          (measure) => html`<label>
            <input
              type="checkbox"
              .checked=${numbers.includes(measure)}
              @change=${() => this.#change({ numbers: toggled(measure) })}
            />
            ${MEASURES[measure].name}
          </label>`,
        )}
        <button ?disabled=${numbers.length === 0} @click=${() => this.#change({ numbers: [] })}>None</button>
      </fieldset>
    </details>`;
  }

  #change(change: Partial<SheetChoice>): void {
    this.dispatchEvent(new ChoiceEvent(change));
  }

  static override styles = [base, toolStyles];
}

function valueOf(event: Event): string {
  return (event.currentTarget as HTMLSelectElement).value;
}

function partOf(value: string): Part {
  return value === 'all' || value === 'alone' || value === 'picked' ? value : Number(value);
}

customElements.define('sheet-tools', SheetTools);

declare global {
  interface HTMLElementTagNameMap {
    'sheet-tools': SheetTools;
  }
}
