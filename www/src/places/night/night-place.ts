import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { frames } from '../../frames.ts';
import { base } from '../../parts/base-styles.ts';
import { LeafEvent } from '../../parts/leaf-tabs.ts';
import '../../parts/leaf-tabs.ts';
import { fieldsOf, placeFragment } from '../../shell/place-address.ts';
import {
  MovedEvent,
  NOTHING_STANDING,
  OpenInCallEvent,
  type Kit,
  type Place,
  type Standing,
  type Whereabouts,
} from '../../shell/place.ts';
import { Store, watch } from '../../store.ts';
import type { Theme } from '../../themes.ts';
import { fromDrop, type Finding } from './card/found.ts';
import './check/check-leaf.ts';
import { DrawEvent } from './files/double-check.ts';
import { NarrowEvent } from './files/file-filter.ts';
import './files/files-leaf.ts';
import { SeeFileEvent } from './files/files-leaf.ts';
import { ALL_FILES, type Narrowing } from './files/narrowing.ts';
import './glance/glance-leaf.ts';
import { ShowFilesEvent } from './glance/stretch-fields.ts';
import './hand-in/hand-in-leaf.ts';
import { FIRST_LEAF, leafOf, LEAVES, type NightLeaf } from './night-address.ts';
import { NIGHT_KEYS } from './night-keys.ts';
import { NightSession } from './night-session.ts';
import { nightStyles } from './night-styles.ts';
import './parts/card-opener.ts';
import { FindingEvent } from './parts/card-opener.ts';
import './parts/card-progress.ts';
import './parts/night-choice.ts';
import { ChooseEvent } from './parts/night-choice.ts';
import './settings/settings-leaf.ts';
import { counted } from './words.ts';

/** The Night place: from a card full of files to how the night went. */
export class NightPlace extends LitElement implements Place {
  static override properties = {
    theme: { attribute: false },
    hovering: { attribute: false },
    leaf: { state: true },
    narrowing: { state: true },
    complaint: { state: true },
  };

  declare theme: Theme;
  declare hovering: boolean;
  declare leaf: NightLeaf;
  declare narrowing: Narrowing;
  declare complaint: string;

  readonly standing = new Store<Standing>(NOTHING_STANDING);
  readonly keys = NIGHT_KEYS;
  readonly session: NightSession;

  constructor({ core, keeping }: Kit) {
    super();
    this.session = new NightSession(core, keeping);
    this.hovering = false;
    this.leaf = FIRST_LEAF;
    this.narrowing = ALL_FILES;
    this.complaint = '';
    watch(this, this.session.store);
    this.session.store.listen(() => this.#stand());
    this.#listen();
  }

  whereabouts(): Whereabouts {
    const fields: Record<string, string> = this.leaf === FIRST_LEAF ? {} : { leaf: this.leaf };
    return { fragment: placeFragment('night', fields, this.theme), note: null };
  }

  goTo({ fragment }: Whereabouts): void {
    this.leaf = leafOf(fieldsOf(fragment)['leaf']);
  }

  toContent(): void {
    this.renderRoot.querySelector('main')?.focus();
  }

  droppedItems(items: DataTransferItemList): void {
    this.#open(fromDrop(items));
  }

  focusFrom(): boolean {
    const list = this.renderRoot.querySelector('files-leaf')?.shadowRoot?.querySelector('file-list');
    list?.focus();
    return list !== null && list !== undefined;
  }

  override render(): TemplateResult {
    const { run, complaint } = this.session.store.value;
    const words = complaint ?? this.complaint;
    return html`<main tabindex="-1">
      ${words === '' ? nothing : html`<p class="complaint" role="alert">${words}</p>`}
      ${run === null ? this.#welcome() : this.#card()}
      ${this.hovering ? html`<div class="veil">Let go to work through it</div>` : nothing}
    </main>`;
  }

  #welcome(): TemplateResult {
    return html`
      <h1>A whole night’s card</h1>
      <p class="lead">
        Open the folder that a recorder brought home. In minutes you see whether it did its work, which files hold bats and
        how the night went, with tables and a report to hand in.
      </p>
      <p class="line"><card-opener></card-opener> <span class="soft">or drop the folder anywhere on this page</span></p>
      <ul>
        <li>Nothing is uploaded, and nothing on the card is moved, changed or deleted.</li>
        <li>What was found is kept in this browser: pause, close the page, open the folder again, and it goes on.</li>
        <li>It counts passes, which are a measure of activity and not a number of animals, and names no species.</li>
        <li>“Probably none” is no proof of absence: double-check some of it, by eye and ear.</li>
      </ul>
    `;
  }

  #card(): TemplateResult {
    const { run, overview, chosen, refusal } = this.session.store.value;
    const nights = overview?.nights ?? [];
    return html`
      <div class="head">
        <h1>A whole night’s card</h1>
        <card-opener .label=${'Open another folder'}></card-opener>
      </div>
      ${run ? html`<card-progress .run=${run}></card-progress>` : nothing}
      ${refusal === null ? nothing : html`<p class="notice">${refusal}</p>`}
      ${overview && overview.unplaced_count > 0
        ? html`<details class="notice">
            <summary>${counted(overview.unplaced_count, 'file')} say nowhere when they were recorded, and belong to no night</summary>
            <p>A pattern of date and time in their names can be given in the settings.</p>
            <ul>${overview.unplaced.map((path) => html`<li>${path}</li>`)}</ul>
          </details>`
        : nothing}
      ${nights.length === 0
        ? html`<p class="soft">The first results are a moment away.</p>`
        : html`
            <night-choice .nights=${nights} .chosen=${chosen}></night-choice>
            <leaf-tabs .label=${'The nights that are looked at'} .leaves=${LEAVES} .chosen=${this.leaf}>
              ${this.#leaf()}
            </leaf-tabs>
          `}
    `;
  }

  #leaf(): TemplateResult {
    const { session } = this;
    switch (this.leaf) {
      case 'glance':
        return html`<glance-leaf .session=${session} .narrowing=${this.narrowing}></glance-leaf>`;
      case 'check':
        return html`<check-leaf .session=${session}></check-leaf>`;
      case 'files':
        return html`<files-leaf .session=${session} .narrowing=${this.narrowing} .theme=${this.theme}></files-leaf>`;
      case 'hand-in':
        return html`<hand-in-leaf .session=${session} .narrowing=${this.narrowing}></hand-in-leaf>`;
      case 'settings':
        return html`<settings-leaf .session=${session}></settings-leaf>`;
    }
  }

  #listen(): void {
    this.addEventListener(FindingEvent.type, (event) => this.#open((event as FindingEvent).finding));
    this.addEventListener(ChooseEvent.type, (event) => this.session.choose((event as ChooseEvent).chosen));
    this.addEventListener(LeafEvent.type, (event) => this.#turn((event as LeafEvent).leaf));
    this.addEventListener(NarrowEvent.type, (event) => {
      this.narrowing = { ...this.narrowing, ...(event as NarrowEvent).change };
    });
    this.addEventListener(DrawEvent.type, (event) => {
      this.narrowing = { ...this.narrowing, draw: (event as DrawEvent).draw };
    });
    this.addEventListener(ShowFilesEvent.type, () => this.#turn('files'));
    this.addEventListener(SeeFileEvent.type, (event) => {
      void frames.during(this.#see((event as SeeFileEvent).path));
    });
  }

  #turn(leaf: string): void {
    this.leaf = leafOf(leaf);
    this.dispatchEvent(new MovedEvent(false));
  }

  #open(finding: Finding): void {
    this.complaint = '';
    this.narrowing = ALL_FILES;
    this.session.open(finding);
  }

  /** Shows a file of the card in Call. */
  async #see(path: string): Promise<void> {
    try {
      const file = (await this.session.store.value.run?.file(path)) ?? null;
      if (file) {
        this.dispatchEvent(new OpenInCallEvent([file], path));
      } else {
        this.complaint = `${path} is not in the folder that is open.`;
      }
    } catch (error) {
      this.complaint = `${path} could not be opened: ${error instanceof Error ? error.message : String(error)}`;
    }
  }

  /** What the page's header says: what would be lost by loading it anew. */
  #stand(): void {
    const { run } = this.session.store.value;
    const open = run?.progress.value.recordings ?? 0;
    this.standing.update((standing) => (standing.open === open ? standing : { ...standing, open }));
  }

  static override styles = [base, nightStyles];
}

customElements.define('night-place', NightPlace);

declare global {
  interface HTMLElementTagNameMap {
    'night-place': NightPlace;
  }
}
