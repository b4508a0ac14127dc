import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { Problem, type ColourMap } from '../../core/client.ts';
import { frames } from '../../frames.ts';
import { base } from '../../parts/base-styles.ts';
import { LeafEvent } from '../../parts/leaf-tabs.ts';
import {
  MovedEvent,
  NOTHING_STANDING,
  ReturnEvent,
  type Kit,
  type Place,
  type Standing,
  type Whereabouts,
} from '../../shell/place.ts';
import { Store, Watch } from '../../store.ts';
import { isMap, type Theme } from '../../themes.ts';
import { parse, type Address } from './address.ts';
import { CALL_KEYS } from './call-keys.ts';
import { FIRST_LEAF, leafOf } from './leaves.ts';
import { whole, within } from './extent.ts';
import { Errands } from './hosted/errand.ts';
import './hosted/errand-line.ts';
import { AgainEvent, CancelEvent } from './hosted/errand-line.ts';
import { NumbersEvent } from './numbers/numbers-link.ts';
import './numbers/numbers-page.ts';
import { CloseEvent } from './numbers/numbers-page.ts';
import { LookEvent, MapEvent, PictureLookEvent } from './picture/events.ts';
import { USUAL_LOOK } from './picture/look.ts';
import { placeStyles } from './place-styles.ts';
import './recording-list.ts';
import { ShowEvent } from './recording-list.ts';
import './recording-view.ts';
import { current, find, statusWords, type Recording, type Recordings } from './recordings.ts';
import { rehearse } from './rehearsal.ts';
import { fetched, SAMPLES, type Sample } from './samples.ts';
import { Session } from './session.ts';
import { CallLinkEvent } from './share/link-field.ts';
import { received } from './share/received.ts';
import { sameStanding, standingOf, type HeaderDeeds } from './standing.ts';
import { summarySentence } from './summary-words.ts';
import './welcome-page.ts';
import { FilesEvent, SampleEvent } from './welcome-page.ts';
import { whereaboutsOf } from './whereabouts.ts';

/** The Call place: from a dropped recording to measured pulses. */
export class CallPlace extends LitElement implements Place {
  static override properties = {
    theme: { attribute: false },
    map: { state: true },
    hovering: { attribute: false },
    complaint: { state: true },
    adding: { state: true },
    reading: { state: true },
  };

  declare theme: Theme;
  /** The colour map that the person chose; null: the theme's own. */
  declare map: ColourMap | null;
  declare hovering: boolean;
  declare complaint: string | null;
  /** Whether the welcome page is shown although there are recordings. */
  declare adding: boolean;
  /** The entry that is looked up in the page about the numbers, or '' for none; null: it is closed. */
  declare reading: string | null;

  readonly keys = CALL_KEYS;
  readonly standing = new Store<Standing>(NOTHING_STANDING);
  /** How far the place was scrolled when the page about the numbers was opened. */
  #left = 0;
  readonly #session: Session;
  readonly #recordings: Watch<Recordings>;
  readonly #errands = new Errands();
  readonly #errand = new Watch(this, this.#errands.store);
  readonly #headerDeeds: HeaderDeeds = {
    toggleAdding: () => {
      this.adding = !this.adding;
    },
    goBack: () => this.dispatchEvent(new ReturnEvent(current(this.#session.store.value)?.from ?? '')),
  };

  /** `fragment` is the address that the page was opened with; empty where it leads elsewhere. */
  constructor({ core, keeping }: Kit, fragment: string) {
    super();
    this.#session = new Session(core, keeping);
    this.#recordings = new Watch(this, this.#session.store);
    const address = parse(fragment);
    this.map = isMap(address.map) ? address.map : null;
    this.hovering = false;
    this.adding = false;
    this.reading = address.numbers ?? null;
    this.#turnTo(address);
    this.complaint = null;
    this.#listen();
    if (address.sample !== null) {
      this.#named(address.sample, address);
    } else if (address.call !== undefined) {
      this.#open(address.call, address);
    } else if (address.hosted !== undefined) {
      this.#fetch(address.hosted, address);
    }
  }

  /** Makes ready for the first recording. */
  async rehearse(): Promise<void> {
    await rehearse(this.#session, this.theme);
  }

  /** A button and no link leads here: the address's fragment belongs to the view. */
  toContent(): void {
    this.renderRoot.querySelector<HTMLElement>('main')?.focus();
  }

  droppedItems(_items: DataTransferItemList, files: readonly File[]): void {
    this.#add(files);
  }

  /** Shows files of the Night place, and offers the way back to where they were opened. */
  openFromNight(files: readonly File[], from: string): void {
    if (files.length > 0) {
      this.#begin(() => this.#session.openFromNight(files, from));
      void frames.during(this.#toPicture());
    }
  }

  /** A picture that is there takes the keys; one that is still to come takes them by itself. */
  async #toPicture(): Promise<void> {
    await this.updateComplete;
    this.renderRoot.querySelector('recording-view')?.focus({ preventScroll: true });
  }

  override updated(): void {
    const next = standingOf(this.#recordings.value, this.adding, this.reading !== null, this.#headerDeeds);
    this.standing.update((before) => (sameStanding(before, next) ? before : next));
  }

  override render(): TemplateResult {
    const { list, currentId, shown: kinds } = this.#recordings.value;
    const shown = current(this.#recordings.value);
    const reading = this.reading !== null;
    const working = shown !== null && !this.adding && !reading;
    return html`
      <p class="quiet" role="status">${shown ? `${shown.name}: ${this.#spoken(shown)}` : ''}</p>
      ${this.#errandLine()}
      ${this.complaint === null ? nothing : html`<p class="complaint" role="alert">${this.complaint}</p>`}
      <main id="main" tabindex="-1" class=${working && list.length > 1 ? 'several' : ''}>
        ${working && list.length > 1
          ? html`<recording-list .recordings=${list} .currentId=${currentId}></recording-list>`
          : nothing}
        ${reading
          ? html`<numbers-page
              .entry=${this.reading}
              .recording=${this.adding ? null : (shown?.name ?? null)}
            ></numbers-page>`
          : nothing}
        ${working
          ? html`<recording-view
              .session=${this.#session}
              .recording=${shown}
              .shown=${kinds}
              .theme=${this.theme}
              .map=${this.map}
            ></recording-view>`
          : nothing}
        ${working || reading
          ? nothing
          : html`<welcome-page .hovering=${this.hovering}></welcome-page>`}
      </main>
      ${this.hovering && (working || reading) ? html`<div class="veil">Let go to open</div>` : nothing}
    `;
  }

  #errandLine(): TemplateResult {
    const errand = this.#errand.value;
    const isThere = errand.kind !== 'none';
    return html`<errand-line
      role=${isThere ? 'region' : nothing}
      aria-label=${isThere ? 'Recording of the link' : nothing}
      .errand=${errand}
    ></errand-line>`;
  }

  /** What a screen reader says: not every percent, only what begins and ends. */
  #spoken(recording: Recording): string {
    switch (recording.status.kind) {
      case 'measuring':
        return 'measuring';
      case 'measured':
        return summarySentence(recording.findings);
      default:
        return statusWords(recording);
    }
  }

  #listen(): void {
    this.addEventListener(FilesEvent.type, (event) => this.#add((event as FilesEvent).files));
    this.addEventListener(SampleEvent.type, (event) => {
      void frames.during(this.#sample((event as SampleEvent).sample, null));
    });
    this.addEventListener(CallLinkEvent.type, (event) => this.#open((event as CallLinkEvent).text, null));
    this.addEventListener(ShowEvent.type, (event) => {
      this.#session.show((event as ShowEvent).id);
      this.#write(true);
    });
    this.addEventListener(LookEvent.type, (event) => {
      const { manner } = event as LookEvent;
      if (manner !== 'moving') {
        this.#write(manner === 'leap');
      }
    });
    this.addEventListener(CancelEvent.type, () => this.#errands.cancel());
    this.addEventListener(AgainEvent.type, (event) => this.#fetch((event as AgainEvent).path, parse(location.hash)));
    this.addEventListener(NumbersEvent.type, (event) => this.#read((event as NumbersEvent).entry));
    this.addEventListener(CloseEvent.type, () => {
      this.#stopReading();
      this.#write(true);
    });
    // The recording's view has turned to it by now.
    this.addEventListener(LeafEvent.type, () => this.#write(false));
    // So has its picture.
    this.addEventListener(PictureLookEvent.type, () => this.#write(false));
    this.addEventListener(MapEvent.type, (event) => {
      this.map = (event as MapEvent).map;
      this.#write(false);
    });
  }

  /** Opens the page about the numbers, or goes to another entry of it, which Back need not undo. */
  #read(entry: string): void {
    const opens = this.reading === null;
    if (opens) {
      this.#left = scrollY;
    }
    this.reading = entry;
    this.#write(opens);
  }

  #stopReading(): void {
    if (this.reading !== null) {
      this.reading = null;
      void frames.during(this.#scrollBack());
    }
  }

  /** To where the person was before reading, once that is laid out again. */
  async #scrollBack(): Promise<void> {
    await this.updateComplete;
    await new Promise(requestAnimationFrame);
    await new Promise(requestAnimationFrame);
    scrollTo(0, this.#left);
  }

  #add(files: readonly File[]): void {
    if (files.length > 0) {
      this.#begin(() => this.#session.add(files, {}));
    }
  }

  async #sample(sample: Sample, address: Address | null): Promise<void> {
    try {
      const file = await fetched(sample);
      const extent = address?.extent ?? null;
      this.#begin(() => this.#session.add([file], { sample: true, extent }), address?.numbers);
    } catch (error) {
      this.complaint = wordsOf(error);
    }
  }

  #fetch(path: string, address: Address): void {
    this.complaint = null;
    void frames.during(this.#hosted(path, address));
  }

  /** Opens a recording that lies beside the page, where a link asks for it. */
  async #hosted(path: string, { extent, numbers }: Address): Promise<void> {
    try {
      const file = await this.#errands.run(path);
      if (file) {
        // The link itself leads here. If the person has gone on meanwhile, Back leads to where they are.
        const isStep = parse(location.hash).hosted !== path;
        this.#begin(() => this.#session.add([file], { hosted: path, extent }), numbers, isStep);
      }
    } catch (error) {
      this.complaint = wordsOf(error);
    }
  }

  #named(name: string, address: Address): void {
    const sample = SAMPLES.find((one) => one.file === name);
    if (sample) {
      void frames.during(this.#sample(sample, address));
    }
  }

  /** Opens the call of a link, or shows it if it is open already. */
  #open(text: string, address: Address | null): void {
    const known = this.#session.store.value.list.find(({ call }) => call?.text === text);
    if (known) {
      this.adding = false;
      this.#session.show(known.id);
      this.#write(true);
    } else {
      void frames.during(this.#received(text, address));
    }
  }

  async #received(text: string, address: Address | null): Promise<void> {
    try {
      const { file, call, extent } = await received(this.#session.core, text);
      const view = address?.extent ?? extent;
      this.#begin(() => this.#session.add([file], { sample: false, extent: view, call }), address?.numbers);
    } catch (error) {
      this.complaint = error instanceof Problem ? `${error.message} ${error.advice}` : String(error);
    }
  }

  /** `entry` is what the person goes on reading meanwhile. */
  #begin(add: () => void, entry?: string, isStep = true): void {
    this.complaint = null;
    this.adding = false;
    this.reading = entry ?? null;
    add();
    this.#write(isStep);
  }

  #write(step: boolean): void {
    this.dispatchEvent(new MovedEvent(step));
  }

  whereabouts(): Whereabouts {
    return whereaboutsOf(this.#session.store.value, this.#errands.store.value, this);
  }

  /** Turns to the leaf and the look that an address names. */
  #turnTo(address: Address): void {
    this.#session.reveal({ leaf: leafOf(address.leaf ?? null)?.id ?? FIRST_LEAF });
    this.#session.relook(address.look ?? USUAL_LOOK);
  }

  goTo({ fragment, note: id }: Whereabouts): void {
    const address = parse(fragment);
    this.#turnTo(address);
    this.map = isMap(address.map) ? address.map : null;
    if (address.numbers !== undefined) {
      this.reading = address.numbers;
      return;
    }
    this.#stopReading();
    if (id === null && address.call !== undefined) {
      this.#open(address.call, address);
      return;
    }
    const recording = find(this.#session.store.value, id);
    this.adding = recording === null;
    if (id === null && address.hosted !== undefined) {
      // A link that was put into the address of the page as it is open.
      this.#fetch(address.hosted, address);
    }
    if (recording) {
      this.#session.show(recording.id);
      const facts = recording.opened?.facts;
      if (facts) {
        const limits = whole(facts, address.look?.scale);
        const wanted = address.extent;
        this.#session.look(recording.id, wanted ? within(wanted, limits) : limits);
      }
    }
  }

  static override styles = [base, placeStyles];
}

/** What went wrong and what can be done, as one text. */
function wordsOf(error: unknown): string {
  if (error instanceof Problem) {
    return `${error.message} ${error.advice}`.trim();
  }
  return error instanceof Error ? error.message : String(error);
}

customElements.define('call-place', CallPlace);

declare global {
  interface HTMLElementTagNameMap {
    'call-place': CallPlace;
  }
}
