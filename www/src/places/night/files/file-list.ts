import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Row } from '../../../core/types.ts';
import { base } from '../../../parts/base-styles.ts';
import { GROUPS, REVIEWS } from '../words.ts';
import { listStyles } from './list-styles.ts';
import type { Listed } from './rows.ts';

/** The person turned to a file of the list. */
export class TurnEvent extends Event {
  static readonly type = 'turn';
  readonly place: number;

  constructor(place: number) {
    super(TurnEvent.type, { bubbles: true, composed: true });
    this.place = place;
  }
}

/** Other rows have come in sight. */
export class SightEvent extends Event {
  static readonly type = 'sight';
  readonly from: number;
  readonly to: number;

  constructor(from: number, to: number) {
    super(SightEvent.type, { bubbles: true, composed: true });
    this.from = from;
    this.to = to;
  }
}

/** The person wants to see the file that she turned to in Call. */
export class EnterEvent extends Event {
  static readonly type = 'enter';
  constructor() {
    super(EnterEvent.type, { bubbles: true, composed: true });
  }
}

/** Height of a row, CSS pixels: a finger meets it. */
const ROW_PX = 46;
/** Rows beyond those in sight that are laid out too. */
const SPARE = 6;

/**
 * The files as a list of which only the rows in sight exist. Arrow keys, Page Up and Down, Home and End turn to others.
 *
 * @fires turn - another file
 * @fires sight - other rows are in sight
 * @fires enter - Enter was pressed on a file, or it was clicked twice
 */
export class FileList extends LitElement {
  static override properties = {
    listed: { attribute: false },
    place: { attribute: false },
    top: { state: true },
    height: { state: true },
  };

  declare listed: Listed;
  /** The place of the file that is turned to. */
  declare place: number;
  declare top: number;
  declare height: number;

  readonly #watcher = new ResizeObserver(() => this.#look());

  constructor() {
    super();
    this.place = 0;
    this.top = 0;
    this.height = 400;
  }

  override firstUpdated(): void {
    const scroller = this.#scroller();
    if (scroller) {
      this.#watcher.observe(scroller);
    }
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#watcher.disconnect();
  }

  override connectedCallback(): void {
    super.connectedCallback();
    const scroller = this.#scroller();
    if (scroller) {
      this.#watcher.observe(scroller);
    }
  }

  override updated(changed: PropertyValues<this>): void {
    if (changed.has('place')) {
      this.#bringInSight();
    }
    if (changed.has('top') || changed.has('height') || changed.has('listed')) {
      const [from, to] = this.#sight();
      this.dispatchEvent(new SightEvent(from, to));
    }
  }

  /** Puts the focus on the list. */
  override focus(): void {
    this.#scroller()?.focus();
  }

  override render(): TemplateResult {
    const count = this.listed.count ?? 0;
    const [from, to] = this.#sight();
    const places = Array.from({ length: Math.max(0, to - from + 1) }, (_, index) => from + index);
    return html`<div
      class="scroller"
      role="listbox"
      tabindex="0"
      aria-label="Files"
      aria-activedescendant=${count > 0 ? `row-${this.place}` : nothing}
      @scroll=${() => this.#look()}
      @keydown=${this.#key}
    >
      <div class="all" style=${`height: ${count * ROW_PX}px`}>
        ${places.map((place) => this.#row(place, count))}
      </div>
    </div>`;
  }

  #row(place: number, count: number): TemplateResult {
    const row = this.listed.rows.get(place);
    return html`<div
      id=${`row-${place}`}
      class="row ${row?.group ?? ''}"
      role="option"
      aria-selected=${place === this.place}
      aria-posinset=${place + 1}
      aria-setsize=${count}
      style=${`transform: translateY(${place * ROW_PX}px)`}
      @click=${() => this.#turn(place)}
      @dblclick=${() => this.dispatchEvent(new EnterEvent())}
    >${row ? cells(row) : html`<span class="soft">…</span>`}</div>`;
  }

  readonly #key = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) {
      return;
    }
    const page = Math.max(1, Math.floor(this.height / ROW_PX) - 1);
    const last = (this.listed.count ?? 0) - 1;
    const goals: Record<string, number | undefined> = {
      ArrowDown: this.place + 1,
      ArrowUp: this.place - 1,
      PageDown: this.place + page,
      PageUp: this.place - page,
      Home: 0,
      End: last,
    };
    const goal = goals[event.key];
    if (goal !== undefined) {
      event.preventDefault();
      this.#turn(Math.max(0, Math.min(last, goal)));
    } else if (event.key === 'Enter') {
      event.preventDefault();
      this.dispatchEvent(new EnterEvent());
    }
  };

  #turn(place: number): void {
    if (place !== this.place && place >= 0) {
      this.dispatchEvent(new TurnEvent(place));
    }
  }

  #sight(): [number, number] {
    const last = (this.listed.count ?? 0) - 1;
    const from = Math.max(0, Math.floor(this.top / ROW_PX) - SPARE);
    return [from, Math.min(last, Math.ceil((this.top + this.height) / ROW_PX) + SPARE)];
  }

  #look(): void {
    const scroller = this.#scroller();
    if (scroller && scroller.clientHeight > 0) {
      this.top = scroller.scrollTop;
      this.height = scroller.clientHeight;
    }
  }

  #bringInSight(): void {
    const scroller = this.#scroller();
    if (!scroller) {
      return;
    }
    const top = this.place * ROW_PX;
    if (top < scroller.scrollTop) {
      scroller.scrollTop = top;
    } else if (top + ROW_PX > scroller.scrollTop + scroller.clientHeight) {
      scroller.scrollTop = top + ROW_PX - scroller.clientHeight;
    }
  }

  #scroller(): HTMLElement | null {
    return this.renderRoot.querySelector<HTMLElement>('.scroller');
  }

  static override styles = [base, listStyles];
}

/** One line: when, what, how high and how loud, what people said. */
function cells(row: Row): TemplateResult {
  const passes = row.passes > 0 ? `${row.passes} pass${row.passes === 1 ? '' : 'es'}` : '';
  const buzzes = row.buzzes > 0 ? `${row.buzzes} buzz${row.buzzes === 1 ? '' : 'es'}` : '';
  const said = [...row.labels, ...(row.review ? [REVIEWS[row.review]] : [])].join(', ');
  return html`
    <span class="when">${row.local.slice(11)}</span>
    <span class="what"><span class="glyph" aria-hidden="true"></span>${GROUPS[row.group]}</span>
    <span class="khz">${row.khz === undefined ? '' : `${row.khz.toFixed(1)} kHz`}</span>
    <span class="activity">${[passes, buzzes].filter((text) => text !== '').join(', ')}</span>
    <span class="said">${said}</span>
    <span class="notes soft">${row.notes.join(', ')}</span>
  `;
}

customElements.define('file-list', FileList);

declare global {
  interface HTMLElementTagNameMap {
    'file-list': FileList;
  }
}
