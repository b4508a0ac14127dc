import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Group, LabelCount, Row } from '../../../core/types.ts';
import { frames } from '../../../frames.ts';
import type { Certainty } from '../../../keep/label.ts';
import type { ReviewVerdict } from '../../../keep/review.ts';
import { base } from '../../../parts/base-styles.ts';
import { watch } from '../../../store.ts';
import { THEMES, type Theme } from '../../../themes.ts';
import { chosenNights, type NightSession, type NightState } from '../night-session.ts';
import { clockOf, counted, GROUPS } from '../words.ts';
import { Deciding } from './deciding.ts';
import './decide-tools.ts';
import { LabelFileEvent, ReviewEvent } from './decide-tools.ts';
import './double-check.ts';
import './file-filter.ts';
import './file-list.ts';
import { EnterEvent, SightEvent, TurnEvent } from './file-list.ts';
import './file-picture.ts';
import type { Pictured } from './file-picture.ts';
import { wantedOf, type Narrowing } from './narrowing.ts';
import { Rows } from './rows.ts';

/** The person wants to see files of the card in Call. */
export class SeeFileEvent extends Event {
  static readonly type = 'see-file';
  readonly path: string;

  constructor(path: string) {
    super(SeeFileEvent.type, { bubbles: true, composed: true });
    this.path = path;
  }
}

/**
 * The files of the nights that are looked at: narrowed down, put in order, gone through one by one, and decided about by
 * keys.
 */
export class FilesLeaf extends LitElement {
  static override properties = {
    session: { attribute: false },
    narrowing: { attribute: false },
    theme: { attribute: false },
    place: { state: true },
    row: { state: true },
    last: { state: true },
    said: { state: true },
  };

  declare session: NightSession;
  declare narrowing: Narrowing;
  declare theme: Theme;
  declare place: number;
  /** The file that is turned to; null: there is none. */
  declare row: Row | null;
  /** The label that was given last. */
  declare last: string;
  declare said: string;

  #rows: Rows | null = null;
  #deciding: Deciding | null = null;
  #listed = '';
  #edition = -1;
  #pictured: Pictured | null = null;
  /** The path of a file to turn to as soon as the list is made anew. */
  #goal: string | null = null;
  /** Decisions follow one another, however quickly the keys are pressed. */
  #turn: Promise<void> = Promise.resolve();

  constructor() {
    super();
    this.place = 0;
    this.row = null;
    this.last = '';
    this.said = '';
    this.addEventListener(TurnEvent.type, (event) => this.#goTo((event as TurnEvent).place));
    this.addEventListener(SightEvent.type, (event) => {
      const { from, to } = event as SightEvent;
      this.#rows?.see(from, to);
    });
    this.addEventListener(EnterEvent.type, () => this.#see());
    this.addEventListener(ReviewEvent.type, (event) => this.#review((event as ReviewEvent).verdict));
    this.addEventListener(LabelFileEvent.type, (event) => {
      const { text, certainty } = event as LabelFileEvent;
      this.#label(text, certainty);
    });
    this.addEventListener('keydown', (event) => this.#key(event));
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('session')) {
      this.#rows = new Rows(
        () => this.session.book(),
        (path, place, count) => this.#follow(path, place, count),
      );
      this.#deciding = new Deciding(this.session.keeping);
      this.#listed = '';
      watch(this, this.session.store, this.#rows.store, this.session.keeping.own);
    }
    this.#relist();
    const row = this.#rows?.store.value.rows.get(this.place) ?? null;
    this.row = row ?? (this.#count() === 0 ? null : this.row);
    this.#pictured = this.#picturedOf(this.row);
  }

  override render(): TemplateResult {
    const state = this.session.store.value;
    const nights = chosenNights(state);
    const listed = this.#rows?.store.value ?? { count: null, rows: new Map<number, Row>() };
    return html`
      <double-check
        .session=${this.session}
        .narrowing=${this.narrowing}
        .counts=${countsOf(state)}
      ></double-check>
      ${this.narrowing.draw
        ? nothing
        : html`<file-filter
            .narrowing=${this.narrowing}
            .counts=${countsOf(state)}
            .labels=${labelsOf(state)}
            .crowds=${nights.length === 1 ? (nights[0]?.crowds ?? []) : []}
            .clock=${(utcS: number) => clockOf(utcS, state.settings.utc_offset_min)}
          ></file-filter>`}
      <p class="soft" role="status">${this.#words(listed.count, nights.length)}</p>
      <div class="sides">
        <file-list .listed=${listed} .place=${this.place}></file-list>
        <section aria-label="The file that is turned to">${this.#side()}</section>
      </div>
      <p class="quiet" role="status">${this.said}</p>
    `;
  }

  #side(): TemplateResult {
    const { row } = this;
    if (!row) {
      return html`<p class="soft">No file is turned to.</p>`;
    }
    return html`
      <h2>${row.path.slice(row.path.lastIndexOf('/') + 1)}</h2>
      <p class="small soft path">${row.path}</p>
      <file-picture
        .core=${this.session.core}
        .pictured=${this.#pictured}
        .map=${THEMES[this.theme].map}
      ></file-picture>
      <p class="small">${factsOf(row)}</p>
      <decide-tools
        .row=${row}
        .words=${this.session.keeping.own.value.words}
        .last=${this.last}
      ></decide-tools>
      <p class="line">
        <button @click=${() => this.#step(-1)} ?disabled=${this.place === 0}>Back</button>
        <button @click=${() => this.#step(1)} ?disabled=${this.place + 1 >= this.#count()}>Next</button>
        <button ?disabled=${this.#deciding?.canUndo !== true} @click=${() => this.#undo()}>Undo the last</button>
        <button @click=${() => this.#see()}>See it in Call</button>
      </p>
    `;
  }

  #words(count: number | null, nights: number): string {
    if (count === null) {
      return 'Making the list …';
    }
    const at = count > 0 ? `, number ${this.place + 1} turned to` : '';
    return nights === 0 ? 'No night is looked at.' : `${counted(count, 'file')}${at}`;
  }

  /** Lists anew where nights, settings or the narrowing have changed. */
  #relist(): void {
    const state = this.session.store.value;
    const nights = chosenNights(state).map(({ key }) => key);
    const wanted = wantedOf(this.narrowing, nights);
    const asked = JSON.stringify(wanted);
    if (asked !== this.#listed) {
      this.place = 0;
      this.#listed = asked;
      this.#edition = state.edition;
      this.#rows?.list(wanted, null);
    } else if (state.edition !== this.#edition) {
      this.#edition = state.edition;
      this.#rows?.list(wanted, this.#goal ?? this.row?.path ?? null);
    }
  }

  /** Files come and go while she looks at one: the one that is turned to stays the one that is turned to. */
  #follow(path: string, place: number | null, count: number): void {
    if (path === this.#goal) {
      this.#goal = null;
      this.place = place ?? this.place;
    } else if (place !== null && path === this.row?.path) {
      this.place = place;
    }
    this.place = Math.max(0, Math.min(this.place, count - 1));
  }

  /** The same object for the same file, so that its picture is not drawn anew. */
  #picturedOf(row: Row | null): Pictured | null {
    if (row === null || row.duration_s === undefined) {
      return null;
    }
    const { path } = row;
    const { run } = this.session.store.value;
    return this.#pictured?.path === path
      ? this.#pictured
      : { path, file: async () => (await run?.file(path)) ?? null };
  }

  #count(): number {
    return this.#rows?.store.value.count ?? 0;
  }

  #goTo(place: number): void {
    this.place = Math.max(0, Math.min(place, this.#count() - 1));
  }

  #step(by: number): void {
    this.#goTo(this.place + by);
  }

  #see(): void {
    if (this.row) {
      this.dispatchEvent(new SeeFileEvent(this.row.path));
    }
  }

  #key(event: KeyboardEvent): void {
    const [target] = event.composedPath();
    const isWriting = target instanceof HTMLElement && target.matches('input:not([type="checkbox"]), select');
    if (event.ctrlKey || event.metaKey || event.altKey || event.shiftKey || isWriting || event.defaultPrevented) {
      return;
    }
    const deeds: Record<string, (() => void) | undefined> = {
      b: () => this.#review('bat'),
      o: () => this.#review('no_bat'),
      u: () => this.#review('unsure'),
      n: () => this.renderRoot.querySelector('decide-tools')?.write(),
      r: () => this.last !== '' && this.#label(this.last, 'probable'),
      ' ': target instanceof HTMLButtonElement ? undefined : () => this.#step(1),
    };
    const deed = deeds[event.key.toLowerCase()];
    if (deed) {
      event.preventDefault();
      deed();
    }
  }

  #review(verdict: ReviewVerdict): void {
    this.#decide((deciding, row) => deciding.review(row, verdict));
  }

  #label(text: string, certainty: Certainty): void {
    this.last = text;
    this.#decide((deciding, row) => deciding.label(row, text, certainty));
    this.renderRoot.querySelector('file-list')?.focus();
  }

  /** Keeps a decision about the file that is turned to, and goes on to the next one. */
  #decide(decide: (deciding: Deciding, row: Row) => Promise<void>): void {
    const { row } = this;
    const deciding = this.#deciding;
    if (!row || row.sha256 === '' || !deciding) {
      return;
    }
    this.#step(1);
    this.#after(async () => {
      await decide(deciding, row);
      this.said = `Kept for ${row.path}`;
    });
  }

  #undo(): void {
    this.#after(async () => {
      const row = await this.#deciding?.undo((path) => {
        this.#goal = path;
      });
      if (row) {
        this.said = `Taken back for ${row.path}`;
        this.requestUpdate();
        // The button may have nothing left to do; a focus that is nowhere would take the keys away.
        this.renderRoot.querySelector('file-list')?.focus();
      }
    });
  }

  #after(work: () => Promise<void>): void {
    this.#turn = this.#turn.then(work).catch((error: unknown) => {
      this.said = `It could not be kept: ${error instanceof Error ? error.message : String(error)}`;
    });
    void frames.during(this.#turn);
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
      }
      .sides {
        display: grid;
        grid-template-columns: minmax(0, 1.7fr) minmax(20rem, 1fr);
        gap: 1.2rem;
        margin-top: 0.4rem;
      }
      section {
        display: grid;
        gap: 0.6rem;
        align-content: start;
        min-width: 0;
      }
      h2 {
        font-size: 1.1rem;
      }
      h2,
      .path {
        overflow-wrap: anywhere;
      }
      .line {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
      @media (max-width: 60rem) {
        .sides {
          grid-template-columns: minmax(0, 1fr);
        }
        section {
          order: -1;
        }
        file-list {
          --list-height: 22rem;
        }
      }
    `,
  ];
}

/** What there is to say of a file beside its picture. */
function factsOf(row: Row): string {
  const said = [
    `${row.local.replace('T', ' ')}`,
    GROUPS[row.group].toLowerCase(),
    row.pulses > 0 ? counted(row.pulses, 'pulse') : '',
    row.passes > 0 ? counted(row.passes, 'pass', 'passes') : '',
    row.buzzes > 0 ? counted(row.buzzes, 'feeding buzz', 'feeding buzzes') : '',
    row.snr_db === undefined ? '' : `${row.snr_db.toFixed(0)} dB above the noise`,
    row.labels.length > 0 ? `labelled ${row.labels.join(', ')}` : '',
    ...row.notes,
  ];
  return said.filter((text) => text !== '').join(' · ');
}

function countsOf(state: NightState): ReadonlyMap<Group, number> {
  const sum = new Map<Group, number>();
  for (const { totals } of chosenNights(state)) {
    const own: readonly [Group, number][] = [
      ['holds_pulses', totals.holding_pulses],
      ['unsure', totals.unsure],
      ['probably_none', totals.probably_none],
      ['broken', totals.broken],
      ['copy', totals.copies],
    ];
    for (const [group, count] of own) {
      sum.set(group, (sum.get(group) ?? 0) + count);
    }
  }
  return sum;
}

function labelsOf(state: NightState): readonly LabelCount[] {
  const sum = new Map<string, number>();
  for (const { text, files } of chosenNights(state).flatMap(({ labels }) => labels)) {
    sum.set(text, (sum.get(text) ?? 0) + files);
  }
  return [...sum].map(([text, files]) => ({ text, files })).toSorted((a, b) => b.files - a.files);
}

customElements.define('files-leaf', FilesLeaf);

declare global {
  interface HTMLElementTagNameMap {
    'files-leaf': FilesLeaf;
  }
}
