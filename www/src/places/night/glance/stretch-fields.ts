import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { base } from '../../../parts/base-styles.ts';
import type { Stretch } from '../files/narrowing.ts';
import { clockOf } from '../words.ts';
import { StretchEvent } from './plot-brush.ts';

/** The files of the stretch are wanted. */
export class ShowFilesEvent extends Event {
  static readonly type = 'show-files';
  constructor() {
    super(ShowFilesEvent.type, { bubbles: true, composed: true });
  }
}

/** A stretch of the night in numbers, for those who do not drag: from when to when, from which frequency to which. */
export class StretchFields extends LitElement {
  static override properties = {
    stretch: { attribute: false },
    from: { attribute: false },
    to: { attribute: false },
    offsetMin: { attribute: false },
    fault: { state: true },
  };

  declare stretch: Stretch | null;
  /** The ends of the plot, seconds since 1970 UTC. */
  declare from: number;
  declare to: number;
  declare offsetMin: number;
  declare fault: string;

  constructor() {
    super();
    this.stretch = null;
    this.fault = '';
  }

  override render(): TemplateResult {
    const { stretch } = this;
    const time = (utcS: number | null | undefined): string =>
      utcS === null || utcS === undefined ? '' : clockOf(utcS, this.offsetMin);
    return html`<form @submit=${this.#submit}>
      <span>Drag over a plot to mark a part of the night, or write it:</span>
      <label>from <input name="from" type="time" class="field" .value=${time(stretch?.from)} /></label>
      <label>to <input name="to" type="time" class="field" .value=${time(stretch?.to)} /></label>
      <label>from <input name="low" type="number" min="0" max="250" class="field" .value=${khz(stretch?.lowKhz)} /> kHz</label>
      <label>to <input name="high" type="number" min="0" max="250" class="field" .value=${khz(stretch?.highKhz)} /> kHz</label>
      <button>Mark it</button>
      <button type="button" class=${stretch === null ? nothing : 'main'} ?disabled=${stretch === null} @click=${() => this.dispatchEvent(new ShowFilesEvent())}>
        Show its files
      </button>
      ${stretch === null
        ? nothing
        : html`<button type="button" @click=${() => this.dispatchEvent(new StretchEvent(null))}>Take the mark away</button>`}
      ${this.fault === '' ? nothing : html`<p role="alert">${this.fault}</p>`}
    </form>`;
  }

  readonly #submit = (event: SubmitEvent): void => {
    event.preventDefault();
    const data = new FormData(event.target as HTMLFormElement);
    const [from, to] = [this.#moment(data.get('from')), this.#moment(data.get('to'))];
    const [lowKhz, highKhz] = [numberOf(data.get('low')), numberOf(data.get('high'))];
    if (from !== null && to !== null && to <= from) {
      this.fault = 'The end lies before the beginning.';
      return;
    }
    this.fault = '';
    const isAll = from === null && to === null && lowKhz === null && highKhz === null;
    this.dispatchEvent(new StretchEvent(isAll ? null : { from, to, lowKhz, highKhz }));
  };

  /** The moment of the night when the clock says so; null for nothing. */
  #moment(value: FormDataEntryValue | null): number | null {
    const match = /^(\d{2}):(\d{2})/.exec(typeof value === 'string' ? value : '');
    if (!match) {
      return null;
    }
    const seconds = (Number(match[1]) * 60 + Number(match[2])) * 60;
    const day = 86_400;
    const local = this.from + this.offsetMin * 60;
    const first = local - (((local % day) + day) % day) + seconds;
    return (first < local - 1 ? first + day : first) - this.offsetMin * 60;
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
      }
      form {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.4rem 0.8rem;
      }
      input[type='number'] {
        width: 5rem;
      }
    `,
  ];
}

function khz(value: number | null | undefined): string {
  return value === null || value === undefined ? '' : String(Math.round(value));
}

function numberOf(value: FormDataEntryValue | null): number | null {
  const text = typeof value === 'string' ? value.trim() : '';
  const number = Number(text);
  return text === '' || !Number.isFinite(number) ? null : number;
}

customElements.define('stretch-fields', StretchFields);

declare global {
  interface HTMLElementTagNameMap {
    'stretch-fields': StretchFields;
  }
}
