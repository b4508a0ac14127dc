import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { Core } from '../core/client.ts';
import { frames } from '../frames.ts';
import { openKeeper } from '../keep/browser-keeper.ts';
import { Keeping } from '../keep/keeping.ts';
import { Offline } from '../offline/offline.ts';
import { base } from '../parts/base-styles.ts';
import '../parts/new-version.ts';
import { LoadEvent } from '../parts/new-version.ts';
import '../parts/theme-choice.ts';
import { ThemeEvent } from '../parts/theme-choice.ts';
import { CallPlace } from '../places/call/call-place.ts';
import { NightPlace } from '../places/night/night-place.ts';
import { Watch, watch } from '../store.ts';
import { keep, startingTheme, wear, type Theme } from '../themes.ts';
import { closeDialogues } from './dialogues.ts';
import { Drops, holdsFolder } from './drops.ts';
import './key-list.ts';
import { KeysEvent } from './key-list.ts';
import { Memory } from './memory.ts';
import { pageStyles } from './page-styles.ts';
import { placeOf, themeOf } from './place-address.ts';
import {
  MovedEvent,
  OpenInCallEvent,
  PLACES,
  ReturnEvent,
  type Kit,
  type Place,
  type PlaceName,
  type Whereabouts,
} from './place.ts';
import { Wanderings } from './wanderings.ts';

/** More files than this are no longer recordings to look at one by one, but a night's. */
const MOST_IN_CALL = 20;

/** A place that has been looked at, and what is remembered of it. */
interface Settled {
  readonly place: Place;
  readonly memory: Memory;
}

/**
 * The page: its header, and its places, of which one is looked at. The others stay as they are, and go on with their
 * work. It owns what the places share: the core's workers, what is kept, the theme, the address, and what is dropped.
 */
export class DuskPage extends LitElement {
  static override properties = {
    theme: { state: true },
    current: { state: true },
    said: { state: true },
  };

  declare theme: Theme;
  declare current: PlaceName;
  /** Why another place is looked at than the person chose, in a sentence. */
  declare said: string;

  readonly #kit: Kit = { core: Core.start(), keeping: new Keeping(openKeeper()) };
  readonly #settled = new Map<PlaceName, Settled>();
  readonly #call: CallPlace;
  readonly #offline = new Offline();
  readonly #next = new Watch(this, this.#offline.next);
  readonly #wanderings = new Wanderings((where) => this.#back(where));
  readonly #drops = new Drops(
    (items, files) => this.#dropped(items, files),
    (hovering) => {
      this.#place().hovering = hovering;
    },
  );

  constructor() {
    super();
    const { hash } = location;
    this.current = placeOf(hash);
    this.said = '';
    this.theme = themeOf(hash) ?? startingTheme();
    wear(this.theme);
    // The other places are made once they are wanted.
    this.#call = new CallPlace(this.#kit, this.current === 'call' ? hash : '');
    this.#settle('call', this.#call);
    if (this.current !== 'call') {
      this.#place().goTo({ fragment: hash, note: null });
    }
    this.#listen();
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#drops.start();
    void this.#start();
  }

  /** Makes ready for the first recording, and only then for visits without a network. */
  async #start(): Promise<void> {
    await frames.during(this.#call.rehearse());
    await this.#offline.start();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#drops.stop();
    this.#wanderings.stop();
    this.#kit.core.dispose();
  }

  override render(): TemplateResult {
    return html`
      ${this.#header()}
      <p class="said" role="status">${this.said}</p>
      ${[...this.#settled].map(
        ([name, { place }]) => html`<div class="place" ?inert=${name !== this.current}>${place}</div>`,
      )}
      <key-list .keys=${this.#place().keys}></key-list>
    `;
  }

  #header(): TemplateResult {
    const isNews = this.#next.value !== null;
    const { deeds } = this.#place().standing.value;
    const open = [...this.#settled.values()].reduce((sum, { place }) => sum + place.standing.value.open, 0);
    return html`<header>
      <button class="skip" @click=${() => this.#place().toContent()}>Skip to the content</button>
      <span class="mark">${mark()} Dusklens</span>
      <nav aria-label="Places">${(Object.keys(PLACES) as PlaceName[]).map((name) => this.#link(name))}</nav>
      ${deeds.map(({ label, run }) => html`<button @click=${run}>${label}</button>`)}
      <span class="right">
        <theme-choice .theme=${this.theme}></theme-choice>
        ${this.#place().keys ? html`<button @click=${() => this.#keys()}>Keys</button>` : nothing}
      </span>
      <new-version class=${isNews ? 'news' : nothing} .ready=${isNews} .open=${open}></new-version>
    </header>`;
  }

  #link(name: PlaceName): TemplateResult {
    return html`<a
      href=${`#place=${name}`}
      aria-current=${name === this.current ? 'page' : nothing}
      @click=${(event: MouseEvent) => this.#follow(event, name)}
    >${PLACES[name]}</a>`;
  }

  /** Turns to a place as it was left; into another tab it goes as any link does. */
  #follow(event: MouseEvent, name: PlaceName): void {
    if (event.ctrlKey || event.metaKey || event.shiftKey) {
      return;
    }
    event.preventDefault();
    this.#turn(name);
    this.#wanderings.write(this.#place().whereabouts(), true);
  }

  #listen(): void {
    this.addEventListener(LoadEvent.type, () => void this.#offline.load());
    this.addEventListener(KeysEvent.type, () => this.#keys());
    this.addEventListener(ThemeEvent.type, (event) => {
      this.#wear((event as ThemeEvent).theme);
      keep(this.theme);
      this.#wanderings.write(this.#place().whereabouts(), false);
    });
  }

  /** The place that is looked at. */
  #place(): Place {
    return this.#settledAs(this.current).place;
  }

  #settledAs(name: PlaceName): Settled {
    return this.#settled.get(name) ?? this.#settle(name, name === 'call' ? this.#call : new NightPlace(this.#kit));
  }

  #settle(name: PlaceName, place: Place): Settled {
    const settled = { place, memory: new Memory(place) };
    this.#settled.set(name, settled);
    place.theme = this.theme;
    watch(this, place.standing);
    place.addEventListener(MovedEvent.type, (event) => {
      // What goes on in a place that is not seen leads nobody anywhere.
      if (name === this.current) {
        this.#wanderings.write(place.whereabouts(), (event as MovedEvent).step);
      }
    });
    place.addEventListener(OpenInCallEvent.type, (event) => this.#openInCall(event as OpenInCallEvent));
    place.addEventListener(ReturnEvent.type, (event) => this.#return((event as ReturnEvent).from));
    return settled;
  }

  /** Has another place looked at, at the height where it was left. */
  #turn(name: PlaceName): void {
    this.said = '';
    if (name === this.current) {
      return;
    }
    this.#wanderings.settle();
    closeDialogues(this);
    this.#settledAs(this.current).memory.leave();
    this.#place().hovering = false;
    this.current = name;
    void frames.during(this.#laidOut(this.#settledAs(name).memory));
  }

  async #laidOut(memory: Memory): Promise<void> {
    await this.updateComplete;
    memory.scroll();
  }

  /** The address has changed: by Back, by Forward, or by hand. */
  #back(where: Whereabouts): void {
    const name = placeOf(where.fragment);
    const isOther = name !== this.current;
    this.#turn(name);
    this.#wear(themeOf(where.fragment) ?? this.theme);
    this.#place().goTo(where);
    if (isOther && document.activeElement === document.body) {
      void frames.during(this.#refocus(name, null));
    }
  }

  async #refocus(name: PlaceName, from: string | null): Promise<void> {
    await this.updateComplete;
    this.#settledAs(name).memory.focus(from);
  }

  #openInCall({ files, from }: OpenInCallEvent): void {
    this.#turn('call');
    this.#call.openFromNight(files, from);
  }

  #return(from: string): void {
    this.#turn('night');
    this.#wanderings.write(this.#place().whereabouts(), true);
    void frames.during(this.#refocus('night', from));
  }

  #dropped(items: DataTransferItemList, files: readonly File[]): void {
    const isFolder = holdsFolder(items);
    if (this.current === 'call' && (isFolder || files.length > MOST_IN_CALL)) {
      this.#turn('night');
      this.#wanderings.write(this.#place().whereabouts(), true);
      this.said = isFolder
        ? 'A folder is looked through here, in Night. Call opens recordings one by one.'
        : `${files.length} files are looked through here, in Night. Call opens up to ${MOST_IN_CALL} at once.`;
    }
    this.#place().droppedItems(items, files);
  }

  #wear(theme: Theme): void {
    this.theme = theme;
    for (const { place } of this.#settled.values()) {
      place.theme = theme;
    }
    wear(theme);
  }

  #keys(): void {
    this.renderRoot.querySelector('key-list')?.open();
  }

  static override styles = [base, pageStyles];
}

/** A pulse and the lens that looks at it. */
function mark(): TemplateResult {
  return html`<svg viewBox="0 0 32 32" aria-hidden="true">
    <circle cx="16" cy="16" r="13.5" />
    <path d="M9 6 C10 17 12 21 23 22" />
  </svg>`;
}

customElements.define('dusk-page', DuskPage);

declare global {
  interface HTMLElementTagNameMap {
    'dusk-page': DuskPage;
  }
}
