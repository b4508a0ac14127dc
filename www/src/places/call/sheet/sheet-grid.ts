import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { ColourMap, Opened, Pulse } from '../../../core/client.ts';
import { frames } from '../../../frames.ts';
import { base } from '../../../parts/base-styles.ts';
import { isInked } from '../../../themes.ts';
import { bitmapPx, cssPx, type CssPx } from '../../../units.ts';
import { GoEvent, PickEvent } from '../picture/events.ts';
import { isDoubted } from '../sounds.ts';
import { belonging, drawing, frequencyTicks, numbersOf, spoken, timeTicks, type CellMatter, type CellSizePx } from './cell.ts';
import { Cells, loudest } from './cells.ts';
import { layerStyles } from '../picture/layer-styles.ts';
import { gridStyles } from './grid-styles.ts';
import type { SheetScale } from './scale.ts';
import type { CellSize, Item, SheetChoice } from './sheet-choice.ts';

/** A sound was picked for comparing, or let go of. */
export class TickEvent extends Event {
  static readonly type = 'tick';
  readonly pulse: Pulse;
  readonly isPicked: boolean;

  constructor(pulse: Pulse, isPicked: boolean) {
    super(TickEvent.type, { bubbles: true, composed: true });
    this.pulse = pulse;
    this.isPicked = isPicked;
  }
}

/** The least width of a cell's picture, and its height, CSS pixels. */
const SIZES: Readonly<Record<CellSize, { width: number; height: number }>> = {
  small: { width: 112, height: 88 },
  medium: { width: 142, height: 128 },
  large: { width: 260, height: 220 },
};
/** Left of each row, for the labels of its frequency axis; and between cells. */
const GUTTER = 34;
const GAP = 10;
/** Border of a cell. */
const FRAME = 4;
/** A label of the time axis keeps so far from the edge of its cell. */
const EDGE = 9;
/** Cells grow to so many times their least width, so that rows are full. */
const WIDEST = 1.6;
/** Rows kept on either side of those in sight. */
const SPARE_ROWS = 1;
/** Until a row was seen, it is taken to be this high. */
const ROW_HEIGHT_GUESS = 260;

/**
 * Pulses as small multiples: a grid of cells, all on one scale and lined up at the moment of most energy. Only the rows in
 * and near sight exist.
 *
 * @fires pick - a cell was chosen
 * @fires go - a sound is to be brought into the picture's view
 * @fires tick - a sound was picked for comparing, or let go of
 */
export class SheetGrid extends LitElement {
  static override properties = {
    opened: { attribute: false },
    channel: { attribute: false },
    picked: { attribute: false },
    items: { attribute: false },
    scale: { attribute: false },
    selected: { attribute: false },
    choice: { attribute: false },
    uncertainty: { attribute: false },
    theme: { attribute: false },
    map: { attribute: false },
    width: { state: true },
    top: { state: true },
    focused: { state: true },
  };

  declare opened: Opened | null;
  /** Counted from 0. */
  declare channel: number;
  /** What is picked, by its start, seconds. */
  declare picked: ReadonlySet<number>;
  declare items: readonly Item[];
  declare scale: SheetScale;
  /** Index among all sounds that are shown. */
  declare selected: number | null;
  declare choice: SheetChoice;
  declare uncertainty: boolean;
  declare theme: string;
  declare map: ColourMap;
  declare width: CssPx;
  /** How far the sheet is scrolled, CSS pixels. */
  declare top: number;
  /** The cell that the keyboard is in, or would enter: an index into `items`. */
  declare focused: number;

  #rowHeight = ROW_HEIGHT_GUESS;
  #takesFocus = false;
  readonly #cells = new Cells(() => frames.request(this, () => this.#paint()));
  readonly #resize = new ResizeObserver(() => this.#takeSizes());

  constructor() {
    super();
    this.width = cssPx(0);
    this.top = 0;
    this.focused = 0;
  }

  override firstUpdated(): void {
    const scroll = this.#scroll();
    if (scroll) {
      this.#resize.observe(scroll);
    }
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#resize.disconnect();
    this.#cells.clear();
    frames.drop(this);
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if ((changed.has('selected') || changed.has('items')) && this.selected !== null) {
      const at = this.items.findIndex(({ index }) => index === this.selected);
      this.focused = at < 0 ? this.focused : at;
    }
    this.focused = Math.max(0, Math.min(this.focused, this.items.length - 1));
  }

  override updated(changed: PropertyValues<this>): void {
    this.#measureRow();
    const isNew = changed.has('selected') || changed.has('choice');
    if (isNew && this.selected !== null && this.items[this.focused]?.index === this.selected) {
      frames.request(this.#scrollOwner, () => this.#bringIntoSight(this.focused));
    }
    if (this.#takesFocus) {
      this.#takesFocus = false;
      this.#cell(this.focused)?.focus({ preventScroll: true });
    }
    frames.request(this, () => this.#paint());
  }

  override render(): TemplateResult {
    const columns = this.#columns();
    const size = this.#size();
    const rows = Math.ceil(this.items.length / columns);
    const [first, last] = this.#inSight(rows);
    const style = `--columns: ${columns}; --cell: ${size.width + FRAME}px; --gutter: ${GUTTER}px; --gap: ${GAP}px`;
    return html`<div class="scroll" style=${style} @scroll=${this.#scrolled}>
      ${this.#timeAxis(Math.min(columns, this.items.length), size)}
      <div
        role="grid"
        aria-label="Pulses side by side"
        aria-rowcount=${rows}
        aria-colcount=${columns}
        aria-multiselectable="false"
        aria-describedby="keys"
        @keydown=${this.#key}
      >
        ${this.#spacer(first)}
        ${Array.from({ length: last - first }, (_, n) => this.#row(first + n, columns, size))}
        ${this.#spacer(rows - last)}
      </div>
      <p id="keys" class="quiet">
        Arrow keys go from cell to cell. Enter selects the pulse everywhere, Shift and Enter shows it in the picture, V picks it
        for comparing.
      </p>
    </div>`;
  }

  #timeAxis(columns: number, size: CellSizePx): TemplateResult {
    // Labels at an edge would run into those of the next cell.
    const ticks = timeTicks(this.scale, size).filter(({ at }) => at > EDGE && at < size.width - EDGE);
    return html`<div class="row axis" aria-hidden="true">
      <span class="unit">ms</span>
      ${Array.from(
        { length: columns },
        () => html`<span class="times">${ticks.map(
          ({ at, label }) => html`<i style="left: ${at + FRAME / 2}px">${label.replace('-', '−')}</i>`,
        )}</span>`,
      )}
    </div>`;
  }

  #row(row: number, columns: number, size: CellSizePx): TemplateResult {
    const items = this.items.slice(row * columns, (row + 1) * columns);
    return html`<div class="row" role="row" aria-rowindex=${row + 1}>
      <span class="gutter" role="presentation" aria-hidden="true">
        ${frequencyTicks(this.scale, size).map(
          ({ at, label }) => html`<i style="top: ${at}px">${label}</i>`,
        )}
      </span>
      ${items.map((item, column) => this.#cellOf(item, row * columns + column, column, size))}
    </div>`;
  }

  #cellOf(item: Item, at: number, column: number, size: CellSizePx): TemplateResult {
    const { pulse, name } = item.sound;
    const matter: CellMatter = {
      item,
      selected: item.index === this.selected,
      picked: this.picked.has(pulse.start_s),
      numbers: this.choice.numbers,
      // Smaller cells have no room for it.
      withSpread: this.uncertainty && this.choice.size === 'large',
    };
    const tab = at === this.focused ? 0 : -1;
    const kind = isDoubted(pulse) ? 'Doubted sound' : 'Pulse';
    return html`<div
      class="cell"
      role="gridcell"
      data-at=${at}
      aria-colindex=${column + 1}
      aria-selected=${matter.selected}
      aria-label=${spoken(matter)}
      tabindex=${tab}
      @click=${(event: Event) => this.#clicked(event, at)}
      @dblclick=${() => this.dispatchEvent(new GoEvent(item.index))}
    >
      <div class="head">
        <label class="tick" title="Pick for comparing (key V)">
          <input
            type="checkbox"
            tabindex=${tab}
            aria-label=${`Pick ${kind.toLowerCase()} ${name} for comparing`}
            .checked=${matter.picked}
            @change=${() => this.#tick(pulse)}
          />
          <b>${name}</b>
        </label>
        <span class="belongs">${belonging(pulse)}${pulse.flags.length > 0 ? html` <i aria-hidden="true" title="flagged">⚑</i>` : nothing}</span>
        <button
          class="plain go"
          tabindex=${tab}
          aria-label=${`Show ${kind.toLowerCase()} ${name} in the picture`}
          title="Show in the picture (Shift and Enter, or a double click)"
          @click=${() => this.dispatchEvent(new GoEvent(item.index))}
        >↗</button>
      </div>
      <div class="plot" style="width: ${size.width}px; height: ${size.height}px">
        <canvas class=${isInked(this.map) ? 'inked' : ''} data-start=${pulse.start_s}></canvas>
        <div class="red"></div>
        ${drawing(pulse, this.scale, size)}
      </div>
      ${numbersOf(matter)}
    </div>`;
  }

  #spacer(rows: number): TemplateResult | typeof nothing {
    return rows > 0 ? html`<div role="presentation" style="height: ${rows * this.#rowHeight}px"></div>` : nothing;
  }

  /** A click on what a cell holds is about that alone. */
  #clicked(event: Event, at: number): void {
    if ((event.target as HTMLElement).closest('label, button') === null) {
      this.#choose(at);
    }
  }

  #choose(at: number): void {
    const item = this.items[at];
    if (item) {
      this.focused = at;
      this.#takesFocus = true;
      this.requestUpdate();
      this.dispatchEvent(new PickEvent(item.index));
    }
  }

  #tick(pulse: Pulse): void {
    this.dispatchEvent(new TickEvent(pulse, !this.picked.has(pulse.start_s)));
  }

  #key(event: KeyboardEvent): void {
    const item = this.items[this.focused];
    const isCell = (event.target as HTMLElement).matches('.cell');
    if (!isCell || !item || event.altKey || event.metaKey) {
      return;
    }
    const next = this.#goal(event);
    if (next !== undefined) {
      event.preventDefault();
      this.#bringIntoSight(next);
      this.focused = next;
      this.#takesFocus = true;
      this.requestUpdate();
    } else if (event.code === 'Enter' || event.code === 'Space') {
      event.preventDefault();
      if (event.shiftKey) {
        this.dispatchEvent(new GoEvent(item.index));
      } else {
        this.#choose(this.focused);
      }
    } else if (event.code === 'KeyV' && !event.ctrlKey) {
      event.preventDefault();
      this.#tick(item.sound.pulse);
    }
  }

  /** The cell that a key leads to. */
  #goal({ code, ctrlKey }: KeyboardEvent): number | undefined {
    const at = this.focused;
    const last = this.items.length - 1;
    const columns = this.#columns();
    const begin = at - (at % columns);
    const page = columns * Math.max(1, Math.floor((this.#scroll()?.clientHeight ?? 0) / this.#rowHeight));
    const goals: Record<string, number | undefined> = {
      ArrowRight: at + 1,
      ArrowLeft: at - 1,
      ArrowDown: at + columns > last ? at : at + columns,
      ArrowUp: at - columns < 0 ? at : at - columns,
      Home: ctrlKey ? 0 : begin,
      End: ctrlKey ? last : begin + columns - 1,
      PageDown: at + page,
      PageUp: at - page,
    };
    const goal = goals[code];
    return goal === undefined ? undefined : Math.max(0, Math.min(goal, last));
  }

  #columns(): number {
    const room = this.width - GUTTER;
    return Math.max(1, Math.floor(room / (SIZES[this.choice.size].width + FRAME + GAP)));
  }

  #size(): CellSizePx {
    const { width, height } = SIZES[this.choice.size];
    const room = Math.floor((this.width - GUTTER) / this.#columns()) - FRAME - GAP;
    return { width: cssPx(Math.max(80, Math.min(room, width * WIDEST))), height: cssPx(height) };
  }

  /** The rows to be made: from, and up to without. */
  #inSight(rows: number): [number, number] {
    const view = this.#scroll()?.clientHeight ?? 600;
    const first = Math.floor(this.top / this.#rowHeight) - SPARE_ROWS;
    const last = Math.ceil((this.top + view) / this.#rowHeight) + SPARE_ROWS;
    return [Math.max(0, Math.min(first, rows)), Math.min(last, rows)];
  }

  #takeSizes(): void {
    const scroll = this.#scroll();
    if (scroll) {
      this.width = cssPx(scroll.clientWidth);
    }
  }

  #measureRow(): void {
    const row = this.renderRoot.querySelector<HTMLElement>('[role="row"]');
    if (row && row.offsetHeight > 0 && Math.abs(row.offsetHeight + GAP - this.#rowHeight) > 1) {
      this.#rowHeight = row.offsetHeight + GAP;
      this.requestUpdate();
    }
  }

  #scrolled(event: Event): void {
    const { scrollTop } = event.currentTarget as HTMLElement;
    // A row on either side is in store; only then are new ones needed.
    if (Math.abs(scrollTop - this.top) > this.#rowHeight / 3) {
      this.top = scrollTop;
    }
  }

  readonly #scrollOwner = {};

  #bringIntoSight(at: number): void {
    const scroll = this.#scroll();
    const axis = this.renderRoot.querySelector<HTMLElement>('.axis');
    if (!scroll || !axis) {
      return;
    }
    const top = Math.floor(at / this.#columns()) * this.#rowHeight;
    const room = scroll.clientHeight - axis.offsetHeight;
    if (top < scroll.scrollTop || top + this.#rowHeight > scroll.scrollTop + room) {
      const below = top > scroll.scrollTop;
      scroll.scrollTop = below && this.#rowHeight < room ? top + this.#rowHeight - room : top;
      this.top = scroll.scrollTop;
    }
  }

  /** Puts the pictures that are there into the cells, and asks for those that are not. */
  #paint(): void {
    const { opened, channel } = this;
    const size = this.#size();
    if (!opened || this.width < 1) {
      return;
    }
    const look = {
      opened,
      channel,
      scale: this.scale,
      width: bitmapPx(size.width, devicePixelRatio),
      height: bitmapPx(size.height, devicePixelRatio),
      map: this.map,
      levelsOf: this.choice.sameLevels ? loudest(this.items.map(({ sound }) => sound.pulse)) : null,
    };
    const columns = this.#columns();
    const [first, last] = this.#inSight(Math.ceil(this.items.length / columns));
    const pulses = this.items.slice(first * columns, last * columns).map(({ sound }) => sound.pulse);
    this.#cells.want(look, pulses);
    const canvases = [...this.renderRoot.querySelectorAll<HTMLCanvasElement>('canvas')];
    canvases.forEach((canvas, at) => {
      const pulse = pulses[at];
      this.#fill(canvas, pulse ? this.#cells.picture(pulse) : null);
    });
  }

  readonly #filled = new WeakMap<HTMLCanvasElement, ImageData | null>();

  #fill(canvas: HTMLCanvasElement, picture: ImageData | null): void {
    if (this.#filled.get(canvas) === picture) {
      return;
    }
    this.#filled.set(canvas, picture);
    // Setting the size also clears the canvas.
    canvas.width = picture?.width ?? 1;
    canvas.height = picture?.height ?? 1;
    if (picture) {
      canvas.getContext('2d')?.putImageData(picture, 0, 0);
    }
  }

  #cell(at: number): HTMLElement | null {
    return this.renderRoot.querySelector<HTMLElement>(`[data-at="${at}"]`);
  }

  #scroll(): HTMLElement | null {
    return this.renderRoot.querySelector<HTMLElement>('.scroll');
  }

  static override styles = [base, layerStyles, gridStyles];
}

customElements.define('sheet-grid', SheetGrid);

declare global {
  interface HTMLElementTagNameMap {
    'sheet-grid': SheetGrid;
  }
}
