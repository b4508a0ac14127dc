import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import type { MissRate, NightTable, PlaceSharing } from '../../../core/types.ts';
import { frames } from '../../../frames.ts';
import { moment } from '../../../keep/entry.ts';
import { base } from '../../../parts/base-styles.ts';
import { download } from '../../../parts/download.ts';
import { watch } from '../../../store.ts';
import type { Narrowing } from '../files/narrowing.ts';
import { chosenNights, type NightSession } from '../night-session.ts';
import './take-files.ts';
import { zipped } from './zip.ts';

/** The tables, with what each is for. */
const TABLES: readonly { readonly table: NightTable; readonly file: string; readonly words: string; readonly what: string }[] = [
  { table: 'recordings', file: 'recordings.csv', words: 'Recordings', what: 'a row for each file, also for those that could not be read' },
  { table: 'passes', file: 'passes.csv', words: 'Passes', what: 'a row for each pass' },
  { table: 'passes_per_hour', file: 'passes_per_hour.csv', words: 'Passes per hour', what: 'with the minutes on watch, so that zero means zero' },
  { table: 'checks', file: 'checks.csv', words: 'Night check', what: 'what was checked on the recorder, with evidence' },
];

/** The parts of a Darwin Core archive, as the Darwin Core text guide has them. */
const DARWIN_CORE: readonly { readonly table: NightTable; readonly file: string }[] = [
  { table: 'event', file: 'event.csv' },
  { table: 'occurrence', file: 'occurrence.csv' },
  { table: 'meta', file: 'meta.xml' },
];

const PLACES: { readonly [P in PlaceSharing]: string } = {
  exact: 'exactly',
  rounded: 'rounded to a hundredth of a degree, about a kilometre',
  withheld: 'not at all',
};

/** Tables and reports of the nights that are looked at, and the files themselves to take along. */
export class HandInLeaf extends LitElement {
  static override properties = {
    session: { attribute: false },
    narrowing: { attribute: false },
    place: { state: true },
    said: { state: true },
    fault: { state: true },
    isWorking: { state: true },
  };

  declare session: NightSession;
  declare narrowing: Narrowing;
  declare place: PlaceSharing;
  declare said: string;
  declare fault: string;
  declare isWorking: boolean;

  constructor() {
    super();
    this.place = 'rounded';
    this.said = '';
    this.fault = '';
    this.isWorking = false;
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('session')) {
      watch(this, this.session.store);
    }
  }

  override render(): TemplateResult {
    const phase = this.session.store.value.run?.progress.value.phase;
    return html`
      ${phase === 'done' ? '' : html`<p class="warn">Not all files have been examined: tables and report hold what is there by now.</p>`}
      <p>
        All of it is about the nights that are ticked above, and is made on this computer. A pass is a measure of activity and
        not a number of animals; how long the recorder was on watch stands beside every total.
      </p>
      <label>Say where the recorder stood
        <select @change=${(event: Event) => {
          this.place = (event.target as HTMLSelectElement).value as PlaceSharing;
        }}>${(Object.keys(PLACES) as PlaceSharing[]).map(
          (one) => html`<option value=${one} ?selected=${one === this.place}>${PLACES[one]}</option>`,
        )}</select>
      </label>
      <p class="soft small">Roosts are betrayed by places: give them away exactly only to those who need them.</p>
      <section aria-labelledby="report">
        <h2 id="report">Report</h2>
        <p class="line">
          ${this.#button('Save the report', () => this.#report())}
          <span class="soft">one HTML file with plots, checks, counts, method and cautions, to be read anywhere and printed</span>
        </p>
      </section>
      <section aria-labelledby="tables">
        <h2 id="tables">Tables</h2>
        <ul>
          ${TABLES.map(({ table, file, words, what }) => html`<li>
            ${this.#button(`${words} (CSV)`, () => this.#table(table, file))} <span class="soft">${what}</span>
          </li>`)}
          <li>${this.#button('Pulses (CSV)', () => this.#pulses())} <span class="soft">every pulse of every file, with its uncertainty</span></li>
          <li>${this.#button('Darwin Core (ZIP)', () => this.#darwinCore())}
            <span class="soft">events and occurrences in the terms of the standard, with how sure each identification is</span></li>
          <li>${this.#button('All of it (ZIP)', () => this.#all())} <span class="soft">report and tables together</span></li>
        </ul>
      </section>
      <take-files .session=${this.session} .narrowing=${this.narrowing}></take-files>
      <p role="status">${this.said}</p>
      ${this.fault === '' ? '' : html`<p class="warn" role="alert">${this.fault}</p>`}
    `;
  }

  #button(label: string, work: () => Promise<void>): TemplateResult {
    return html`<button ?disabled=${this.isWorking} @click=${() => void frames.during(this.#do(label, work))}>${label}</button>`;
  }

  async #do(label: string, work: () => Promise<void>): Promise<void> {
    this.isWorking = true;
    this.fault = '';
    this.said = `Making it: ${label} …`;
    try {
      await work();
      this.said = `Saved: ${label}.`;
    } catch (error) {
      this.said = '';
      this.fault = `It could not be made: ${error instanceof Error ? error.message : String(error)}`;
    } finally {
      this.isWorking = false;
    }
  }

  async #text(table: NightTable): Promise<string> {
    const book = await this.session.book();
    return await book.table(table, this.#keys(), this.place);
  }

  async #table(table: NightTable, file: string): Promise<void> {
    download(this.#named(file), 'text/csv', await this.#text(table));
  }

  async #pulses(): Promise<void> {
    download(this.#named('pulses.csv'), 'text/csv', await this.#pulseTable());
  }

  async #pulseTable(): Promise<Blob> {
    const book = await this.session.book();
    return await book.pulseTable(this.#keys());
  }

  async #reportText(): Promise<string> {
    const book = await this.session.book();
    return await book.report(this.#keys(), {
      title: '',
      who: '',
      written: moment(new Date()),
      place: this.place,
      miss_rate: await this.#missRate(),
    });
  }

  /** What the double-check says that is under way, if there is one. */
  async #missRate(): Promise<MissRate | undefined> {
    const { draw } = this.narrowing;
    const book = await this.session.book();
    return draw?.group === 'probably_none' ? (await book.checkSoFar(draw.contents, draw.of)).rate : undefined;
  }

  async #report(): Promise<void> {
    download(this.#named('report.html'), 'text/html', await this.#reportText());
  }

  async #darwinCore(): Promise<void> {
    const parts = await Promise.all(DARWIN_CORE.map(async ({ table, file }) => ({ name: file, content: await this.#text(table) })));
    download(this.#named('darwin-core.zip'), 'application/zip', await zipped(parts));
  }

  async #all(): Promise<void> {
    const tables = [...TABLES, ...DARWIN_CORE.map(({ table, file }) => ({ table, file: `darwin-core/${file}` }))];
    const parts = await Promise.all(tables.map(async ({ table, file }) => ({ name: file, content: await this.#text(table) })));
    const more = [
      { name: 'report.html', content: await this.#reportText() },
      { name: 'pulses.csv', content: await this.#pulseTable() },
    ];
    download(this.#named('night.zip'), 'application/zip', await zipped([...parts, ...more]));
  }

  #keys() {
    return chosenNights(this.session.store.value).map(({ key }) => key);
  }

  /** A file's name with the night in it, where it is one. */
  #named(file: string): string {
    const keys = this.#keys();
    const [first] = keys;
    const name = keys.length === 1 && first ? `${first.evening}-${first.recorder}` : 'nights';
    return `${name.replaceAll(/[^\w.-]+/g, '_')}-${file}`;
  }

  static override styles = [
    base,
    css`
      :host {
        display: grid;
        grid-template-columns: minmax(0, 1fr);
        gap: 0.9rem;
        max-width: 60rem;
      }
      select {
        max-width: 100%;
      }
      ul {
        display: grid;
        gap: 0.5rem;
        margin: 0.5rem 0 0;
        padding: 0;
        list-style: none;
      }
      li,
      .line {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.3rem 0.8rem;
      }
      .line {
        margin-top: 0.5rem;
      }
      .warn {
        padding: 0.6rem 0.9rem;
        border-left: 5px solid var(--line-strong);
        background: var(--warn);
      }
      label {
        flex-wrap: wrap;
      }
    `,
  ];
}

customElements.define('hand-in-leaf', HandInLeaf);

declare global {
  interface HTMLElementTagNameMap {
    'hand-in-leaf': HandInLeaf;
  }
}
