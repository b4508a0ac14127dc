import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Pulse } from '../../core/client.ts';
import { frames } from '../../frames.ts';
import type { Label } from '../../keep/label.ts';
import { base } from '../../parts/base-styles.ts';
import '../../parts/term-tip.ts';
import { GROUPS, type Column } from './columns.ts';
import { markOf } from './hand/hand-mark.ts';
import type { HandMark } from './hand/matching.ts';
import { PickEvent } from './picture/events.ts';
import { NONE, written } from './plus-minus.ts';
import { labelMark } from './labels/label-mark.ts';
import { isDoubted, type Sound } from './sounds.ts';
import { tableStyles } from './table-styles.ts';
import { DOUBTS } from './words.ts';

const COLUMNS: readonly Column[] = GROUPS.flatMap((group) => group.columns);
const GROUP_STARTS = new Set(GROUPS.map((group) => group.columns[0]));
/** Rows kept on either side of those in sight. */
const SPARE_ROWS = 12;
/** Until a row was seen, it is taken to be this high, CSS pixels. */
const ROW_HEIGHT_GUESS = 38;
const HEADER_ROWS = 2;
const DOUBT_MEANING = 'Why a sound is probably none of a bat’s. Choose it, and the reason is told below the table.';

/**
 * Every pulse with all its numbers, and the doubted sounds where these are shown. Only the rows in and near sight exist, so
 * that an hour of pulses scrolls as lightly as a second of them.
 *
 * @fires pick - a row was chosen
 */
export class PulseTable extends LitElement {
  static override properties = {
    sounds: { attribute: false },
    uncertainty: { attribute: false },
    hand: { attribute: false },
    selected: { attribute: false },
    labels: { attribute: false },
    top: { state: true },
    focused: { state: true },
    cut: { state: true },
  };

  declare sounds: readonly Sound[];
  /** Whether numbers have their uncertainty beside them. */
  declare uncertainty: boolean;
  /** What was done by hand to which pulse. */
  declare hand: ReadonlyMap<Pulse, HandMark>;
  /** Index into `sounds`. */
  declare selected: number | null;
  /** The labels of each pulse that has any. */
  declare labels: ReadonlyMap<Pulse, readonly Label[]>;
  /** How far the table is scrolled, CSS pixels. */
  declare top: number;
  /** The row that the keyboard is in, or would enter. */
  declare focused: number;
  /** Whether there are columns beyond the right edge. */
  declare cut: boolean;

  #rowHeight = ROW_HEIGHT_GUESS;
  #takesFocus = false;
  /** Whether there are doubted sounds among the pulses. */
  #mixed = false;
  readonly #resize = new ResizeObserver(() => this.#takeSizes());

  constructor() {
    super();
    this.hand = new Map();
    this.top = 0;
    this.focused = 0;
    this.cut = false;
  }

  override firstUpdated(): void {
    for (const element of this.renderRoot.querySelectorAll('.scroll, table')) {
      this.#resize.observe(element);
    }
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#resize.disconnect();
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('selected') && this.selected !== null) {
      this.focused = this.selected;
    }
    if (changed.has('sounds')) {
      this.#mixed = this.sounds.some(({ pulse }) => isDoubted(pulse));
    }
    this.focused = Math.min(this.focused, Math.max(0, this.sounds.length - 1));
  }

  override updated(changed: PropertyValues<this>): void {
    if (changed.has('selected') && this.selected !== null) {
      const { selected } = this;
      frames.request(this, () => this.#bringIntoSight(selected));
    }
    if (this.#takesFocus) {
      this.#takesFocus = false;
      this.#rowElement(this.focused)?.focus({ preventScroll: true });
    }
  }

  override render(): TemplateResult {
    const { sounds } = this;
    const [first, last] = this.#inSight();
    const rows = sounds.slice(first, last);
    return html`
      <div class="scroll" tabindex="0" role="region" aria-label="Table of pulses" @scroll=${this.#scrolled}>
        <table role="grid" aria-label="Pulses" aria-rowcount=${sounds.length + HEADER_ROWS} @keydown=${this.#key}>
          <thead>
            <tr class="groups">
              <td></td>
              ${this.#mixed ? html`<td class="words"></td>` : nothing}
              ${GROUPS.map(
                (group) => html`<th scope="colgroup" colspan=${group.columns.length}>${group.label}</th>`,
              )}
            </tr>
            <tr>
              <th scope="col"><span class="quiet">Number of the </span>Pulse</th>
              ${this.#mixed
                ? html`<th scope="col" class="words"><term-tip .meaning=${DOUBT_MEANING}>Doubt</term-tip></th>`
                : nothing}
              ${COLUMNS.map(
                (column) => html`<th scope="col" class=${`${classOf(column)}${this.uncertainty && column.hasSpread ? ' wide' : ''}`}>
                  <term-tip .meaning=${column.meaning}>${column.label}</term-tip>
                </th>`,
              )}
            </tr>
          </thead>
          <tbody>
            ${this.#spacer(first)}
            ${rows.map((sound, index) => this.#row(sound, first + index))}
            ${this.#spacer(sounds.length - last)}
          </tbody>
        </table>
      </div>
      ${this.cut ? html`<span class="more" aria-hidden="true">→</span>` : nothing}
    `;
  }

  #row({ pulse, name }: Sound, index: number): TemplateResult {
    const selected = index === this.selected;
    return html`<tr
      class=${isDoubted(pulse) ? 'doubted' : ''}
      data-index=${index}
      tabindex=${index === this.focused ? 0 : -1}
      aria-rowindex=${index + HEADER_ROWS + 1}
      aria-selected=${selected}
      @click=${() => this.dispatchEvent(new PickEvent(index))}
    >
      <th scope="row"><span class="number">${name}</span>${pulse.flags.length > 0
          ? html`<span class="flag" aria-hidden="true">⚑</span><span class="quiet">flagged</span>`
          : nothing}${markOf(this.hand.get(pulse))}${labelMark(this.labels.get(pulse))}</th>
      ${this.#mixed
        ? html`<td class="words">${pulse.doubt ? DOUBTS[pulse.doubt].label : ''}</td>`
        : nothing}
      ${COLUMNS.map(
        (column) => html`<td class=${classOf(column)}>${this.#cell(column, pulse)}</td>`,
      )}
    </tr>`;
  }

  /** A number whose point stands below those of the other rows, with its uncertainty. */
  #cell(column: Column, pulse: Pulse): TemplateResult | string {
    const { figure } = column;
    if (!figure || !this.uncertainty) {
      return column.text(pulse);
    }
    const { value, spread, decimals } = figure;
    const parts = written(value(pulse), spread(pulse), decimals);
    const digits = `--digits: ${decimals.most}`;
    return parts === null
      ? html`${NONE}<span class="fraction" style=${digits}></span>${column.hasSpread
          ? html`<span class="spread" style=${digits}></span>`
          : nothing}`
      : html`${parts.whole}<span class="fraction" style=${digits}>${parts.fraction}</span>${parts.spread === null
          ? nothing
          : html`<span class="spread" style=${digits}> ± ${parts.spread}</span>`}`;
  }

  #spacer(rows: number): TemplateResult | typeof nothing {
    return rows > 0
      ? html`<tr aria-hidden="true"><td colspan=${COLUMNS.length + (this.#mixed ? 2 : 1)} style="height: ${rows * this.#rowHeight}px; padding: 0"></td></tr>`
      : nothing;
  }

  /** The rows to be made: from, and up to without. */
  #inSight(): [number, number] {
    const view = this.renderRoot.querySelector('.scroll')?.clientHeight ?? 600;
    const first = Math.floor(this.top / this.#rowHeight) - SPARE_ROWS;
    const last = Math.ceil((this.top + view) / this.#rowHeight) + SPARE_ROWS;
    const count = this.sounds.length;
    return [Math.max(0, Math.min(first, count)), Math.min(last, count)];
  }

  /** Called when the layout is done anyway: asking for sizes before would have it done once more. */
  #takeSizes(): void {
    const row = this.renderRoot.querySelector<HTMLElement>('tbody tr[data-index]');
    if (row) {
      this.#rowHeight = row.offsetHeight;
    }
    this.#lookRight();
  }

  #lookRight(): void {
    const scroll = this.renderRoot.querySelector('.scroll');
    this.cut =
      scroll !== null && scroll.scrollLeft + scroll.clientWidth < scroll.scrollWidth - 1;
  }

  #scrolled(event: Event): void {
    this.#lookRight();
    const top = (event.currentTarget as HTMLElement).scrollTop;
    // A few rows more or less are in store; only then are new ones needed.
    if (Math.abs(top - this.top) > (this.#rowHeight * SPARE_ROWS) / 2) {
      this.top = top;
    }
  }

  #bringIntoSight(index: number): void {
    const scroll = this.renderRoot.querySelector<HTMLElement>('.scroll');
    const head = this.renderRoot.querySelector<HTMLElement>('thead');
    if (!scroll || !head) {
      return;
    }
    const room = scroll.clientHeight - head.offsetHeight;
    const at = index * this.#rowHeight;
    const seen = at >= scroll.scrollTop && at + this.#rowHeight <= scroll.scrollTop + room;
    if (!seen) {
      scroll.scrollTop = at - room / 2 + this.#rowHeight / 2;
      this.top = scroll.scrollTop;
    }
  }

  #key(event: KeyboardEvent): void {
    const index = this.focused;
    const inRow = (event.target as HTMLElement).matches('tr');
    const last = this.sounds.length - 1;
    const goal: Record<string, number | undefined> = {
      ArrowDown: Math.min(index + 1, last),
      ArrowUp: Math.max(index - 1, 0),
      Home: 0,
      End: last,
    };
    const next = goal[event.code];
    if (!inRow) {
      return;
    }
    if (event.code === 'Enter' || event.code === 'Space') {
      event.preventDefault();
      this.dispatchEvent(new PickEvent(index));
    } else if (next !== undefined) {
      event.preventDefault();
      this.#bringIntoSight(next);
      this.focused = next;
      this.#takesFocus = true;
      this.requestUpdate();
    }
  }

  #rowElement(index: number): HTMLElement | null {
    return this.renderRoot.querySelector<HTMLElement>(`tr[data-index="${index}"]`);
  }

  static override styles = [base, tableStyles];
}

function classOf(column: Column): string {
  return `${column.words ? 'words' : 'figure'}${GROUP_STARTS.has(column) ? ' first' : ''}`;
}

customElements.define('pulse-table', PulseTable);

declare global {
  interface HTMLElementTagNameMap {
    'pulse-table': PulseTable;
  }
}
