import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import type { CheckSoFar, Group, MissRate } from '../../../core/types.ts';
import { frames } from '../../../frames.ts';
import { base } from '../../../parts/base-styles.ts';
import { watch } from '../../../store.ts';
import { chosenNights, type NightSession } from '../night-session.ts';
import { counted, GROUPS } from '../words.ts';
import type { Draw, Narrowing } from './narrowing.ts';

/** Files were drawn for a double-check, or the check was left. */
export class DrawEvent extends Event {
  static readonly type = 'draw';
  readonly draw: Draw | null;

  constructor(draw: Draw | null) {
    super(DrawEvent.type, { bubbles: true, composed: true });
    this.draw = draw;
  }
}

/** How many are drawn unless the person says otherwise: with none found, at most one in twenty holds a bat. */
const USUAL = 60;
const MOST = 2000;

/**
 * The double-check: files of a group drawn at random, looked at by a person, and what that says of all of them, with its
 * interval.
 */
export class DoubleCheck extends LitElement {
  static override properties = {
    session: { attribute: false },
    narrowing: { attribute: false },
    counts: { attribute: false },
    group: { state: true },
    count: { state: true },
    soFar: { state: true },
  };

  declare session: NightSession;
  declare narrowing: Narrowing;
  declare counts: ReadonlyMap<Group, number>;
  declare group: Group;
  declare count: number;
  declare soFar: CheckSoFar | null;

  #told = '';

  constructor() {
    super();
    this.group = 'probably_none';
    this.count = USUAL;
    this.soFar = null;
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('session')) {
      watch(this, this.session.store);
    }
    const { draw } = this.narrowing;
    const asked = `${this.session.store.value.edition} ${draw?.contents.length ?? 0}`;
    if (draw && asked !== this.#told) {
      this.#told = asked;
      void frames.during(this.#ask(draw));
    }
  }

  override render(): TemplateResult {
    const { draw } = this.narrowing;
    return draw ? this.#running(draw) : this.#offer();
  }

  #offer(): TemplateResult {
    const groups = (['probably_none', 'unsure', 'holds_pulses'] as const).filter((one) => (this.counts.get(one) ?? 0) > 0);
    const there = this.counts.get(this.group) ?? 0;
    return html`<details>
      <summary>Double-check a group</summary>
      <p class="soft small">
        Draws files at random for you to look at. Each answer counts, and the page says what share of all files in the group
        holds a bat, with its interval.
      </p>
      <form class="line" @submit=${this.#begin}>
        <label>Group
          <select @change=${(event: Event) => {
            this.group = (event.target as HTMLSelectElement).value as Group;
          }}>${groups.map((one) => html`<option value=${one} ?selected=${one === this.group}>${GROUPS[one]}</option>`)}</select>
        </label>
        <label>How many
          <input
            class="field"
            type="number"
            min="1"
            max=${MOST}
            required
            .value=${String(this.count)}
            @input=${(event: Event) => {
              this.count = (event.target as HTMLInputElement).valueAsNumber;
            }}
          />
        </label>
        <button ?disabled=${there === 0}>Draw from ${counted(there, 'file')}</button>
      </form>
    </details>`;
  }

  #running(draw: Draw): TemplateResult {
    const { soFar } = this;
    const of = `${counted(draw.contents.length, 'file')} of ${draw.of.toLocaleString('en')} in “${GROUPS[draw.group]}”`;
    return html`<section aria-label="Double-check">
      <h2>Double-check: ${of}, drawn at random</h2>
      <p role="status">${soFar ? resultWords(soFar, draw) : 'Counting …'}</p>
      <p class="line">
        <progress aria-label="Files looked at" max=${draw.contents.length} .value=${soFar?.checked ?? 0}></progress>
        <button @click=${() => this.dispatchEvent(new DrawEvent(null))}>Leave the double-check</button>
      </p>
    </section>`;
  }

  readonly #begin = (event: Event): void => {
    event.preventDefault();
    void frames.during(this.#draw());
  };

  async #draw(): Promise<void> {
    const book = await this.session.book();
    const nights = chosenNights(this.session.store.value).map(({ key }) => key);
    const [seed = 1] = crypto.getRandomValues(new Uint32Array(1));
    const { contents, of } = await book.draw(nights, this.group, Math.min(MOST, this.count), seed);
    this.soFar = null;
    this.dispatchEvent(new DrawEvent({ contents, of, group: this.group }));
  }

  async #ask({ contents, of }: Draw): Promise<void> {
    const book = await this.session.book();
    this.soFar = await book.checkSoFar(contents, of);
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
        margin-bottom: 0.8rem;
      }
      summary {
        min-height: 2.5rem;
        padding: 0.4rem 0;
        cursor: pointer;
      }
      section {
        display: grid;
        gap: 0.4rem;
        padding: 0.8rem 1rem;
        border: 1.5px dashed var(--pencil);
        border-radius: 3px;
      }
      h2 {
        font-size: 1.1rem;
      }
      .line {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.5rem 1rem;
      }
      input[type='number'] {
        width: 6rem;
      }
    `,
  ];
}

/** What the double-check says so far. Without an answer it says nothing. */
function resultWords({ checked, bats, unsure, rate, rate_at_most }: CheckSoFar, { of, group }: Draw): string {
  if (!rate || checked === 0) {
    return 'Look at each file and say what is in it; the result grows with every answer.';
  }
  const told = `${counted(checked, 'file')} looked at, ${counted(bats, 'holds a bat', 'hold a bat')}.`;
  const whole = `So ${shareWords(rate)} of all ${of.toLocaleString('en')} in “${GROUPS[group]}” hold one: ${rate.missed_low.toLocaleString('en')} to ${rate.missed_high.toLocaleString('en')} files (95 % interval).`;
  const doubt =
    unsure > 0 && rate_at_most
      ? ` ${counted(unsure, 'file')} could not be told; if all of them hold one, ${shareWords(rate_at_most)}.`
      : '';
  return `${told} ${whole}${doubt}`;
}

function shareWords({ share, low, high }: MissRate): string {
  return `${percent(share)} % (${percent(low)} to ${percent(high)} %)`;
}

/** A share in percent; small ones with a decimal. */
function percent(share: number): string {
  return (share * 100).toFixed(share < 0.1 ? 1 : 0);
}

customElements.define('double-check', DoubleCheck);

declare global {
  interface HTMLElementTagNameMap {
    'double-check': DoubleCheck;
  }
}
