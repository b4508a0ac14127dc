import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { ColourMap } from '../../../core/client.ts';
import { base } from '../../../parts/base-styles.ts';
import { dialogStyles } from '../../../parts/dialog-styles.ts';
import { Doing } from '../../../parts/doing.ts';
import { download, stem } from '../../../parts/download.ts';
import { nightLight } from '../../../parts/night-light.ts';
import { sidedStyles } from '../../../parts/sided-styles.ts';
import type { Labelled } from '../labels/labelled.ts';
import { withHand } from '../hand/matching.ts';
import type { PictureLook } from '../picture/look.ts';
import type { Recording } from '../recordings.ts';
import type { Session } from '../session.ts';
import type { Sound } from '../sounds.ts';
import { LinkMaker } from './link-maker.ts';
import { extraWords, FIRST, MOST_NOTE, MOST_PULSES, orderOf, sent, type Extra, type Sendable, type What, type Wish } from './order.ts';
import { isFromDisk, pageAddress, remember, tidied } from './page-address.ts';
import { shareStyles } from './share-styles.ts';
import { AROUND_HEARD_S, sheetOf } from './sheet.ts';
import { carriedWords, costWords, PLACE_CAUTION, PRIVACY, sizeWords } from './words.ts';

const EXTRAS: readonly Extra[] = ['numbers', 'labels', 'view', 'file', 'time', 'recorder', 'temperature', 'place'];

/** The dialogue in which a call is put into a link. */
export class ShareCall extends LitElement {
  static override properties = {
    session: { attribute: false },
    recording: { attribute: false },
    sounds: { attribute: false },
    selected: { attribute: false },
    labelled: { attribute: false },
    wish: { state: true },
    isOpen: { state: true },
    address: { state: true },
    code: { state: true },
    look: { attribute: false },
    map: { attribute: false },
  };

  declare session: Session;
  declare recording: Recording;
  /** The pulses, and the doubted sounds where these are shown. */
  declare sounds: readonly Sound[];
  /** Index into `sounds`. */
  declare selected: number | null;
  declare labelled: Labelled;
  declare wish: Wish;
  declare isOpen: boolean;
  /** The page that a link leads to; '' where there is none. */
  declare address: string;
  /** The address of the link's picture for a camera; null: it is not wanted, or there is none. */
  declare code: string | null;
  /** How the screen's picture looks, and its colours. */
  declare look: PictureLook;
  declare map: ColourMap;

  readonly #maker = new LinkMaker(() => this.requestUpdate());
  readonly #doing = new Doing(() => this.requestUpdate());

  constructor() {
    super();
    this.wish = FIRST;
    this.isOpen = false;
    this.address = pageAddress();
    this.code = null;
  }

  /** Shows the dialogue. */
  open(): void {
    this.isOpen = true;
    const sendable = this.#sendable();
    const fits = this.#count(sendable, this.wish.what) > 0;
    const first = (['pulse', 'picked', 'view'] as const).find((what) => this.#count(sendable, what) > 0);
    this.wish = fits || !first ? this.wish : { ...this.wish, what: first };
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#closed();
  }

  override updated(changed: PropertyValues<this>): void {
    if (changed.has('isOpen') && this.isOpen) {
      this.renderRoot.querySelector('dialog')?.showModal();
    }
    if (!this.isOpen) {
      return;
    }
    const { opened, channel } = this.recording;
    const sendable = this.#sendable();
    const count = this.#count(sendable, this.wish.what);
    if (opened && count > 0 && count <= MOST_PULSES) {
      this.#maker.want(opened, channel, orderOf(this.wish, sendable, this.address.length));
    }
  }

  override render(): TemplateResult | typeof nothing {
    if (!this.isOpen) {
      return nothing;
    }
    const sendable = this.#sendable();
    return html`<dialog aria-labelledby="title" @close=${this.#closed}>
      <form class="head" method="dialog">
        <h2 id="title">Share a call</h2>
        <button>Close</button>
      </form>
      <div class="sides">
        <div class="choices">${this.#which(sendable)} ${this.#note()}</div>
        <div class="results">${this.#carries(sendable)} ${this.#link(sendable)}</div>
      </div>
    </dialog>`;
  }

  #which(sendable: Sendable): TemplateResult {
    const { selected } = sendable;
    return html`<fieldset>
      <legend>Which call</legend>
      ${this.#radio(sendable, 'pulse', selected ? `Pulse ${selected.name}` : 'The chosen pulse (none is chosen)')}
      ${this.#radio(sendable, 'sequence', 'Its whole sequence')} ${this.#radio(sendable, 'picked', 'The pulses picked on the sheet')}
      ${this.#radio(sendable, 'view', 'All pulses in view')}
    </fieldset>`;
  }

  #radio(sendable: Sendable, what: What, label: string): TemplateResult {
    const count = this.#count(sendable, what);
    const number = what === 'pulse' ? '' : `: ${count === 0 ? 'none' : count}`;
    return html`<label>
      <input
        type="radio"
        name="what"
        .checked=${this.wish.what === what}
        ?disabled=${count === 0}
        @change=${() => this.#set({ what })}
      />
      ${label}${number}
    </label>`;
  }

  #note(): TemplateResult {
    return html`<label class="above">
      A few words to the receiver
      <textarea
        class="field"
        rows="3"
        maxlength=${MOST_NOTE}
        .value=${this.wish.note}
        @change=${(event: Event) => this.#set({ note: (event.currentTarget as HTMLTextAreaElement).value })}
      ></textarea>
    </label>`;
  }

  /** Exactly what will be in the link. */
  #carries(sendable: Sendable): TemplateResult {
    const { made } = this.#maker;
    const { extras, note } = this.wish;
    return html`<section aria-labelledby="carries">
      <h3 id="carries">The link will carry</h3>
      <ul class="carries">
        <li>${made ? carriedWords(made) : 'the sound around the calls'}</li>
        ${EXTRAS.map((extra) => {
          const words = extraWords(extra, sendable);
          return words === null ? nothing : html`<li>${this.#extra(extra, words, extras.has(extra))}</li>`;
        })}
        ${note.trim() === '' ? nothing : html`<li>your words: “${note.trim()}”</li>`}
        <li>the version of Dusklens, and where in the recording the call lies</li>
      </ul>
      ${extraWords('place', sendable) === null ? nothing : html`<p class="small caution">${PLACE_CAUTION}</p>`}
      <p class="small">Nothing else. ${PRIVACY}</p>
    </section>`;
  }

  #extra(extra: Extra, words: string, checked: boolean): TemplateResult {
    return html`<label>
      <input type="checkbox" .checked=${checked} @change=${() => this.#toggle(extra)} />
      <span>${words}</span>
    </label>`;
  }

  #link(sendable: Sendable): TemplateResult {
    const { made, share, problem } = this.#maker;
    const count = this.#count(sendable, this.wish.what);
    if (count === 0 || count > MOST_PULSES) {
      return html`<p role="status">
        ${count === 0
          ? 'Choose a pulse in the picture or in the table first.'
          : `${count} pulses are too many for a link: up to ${MOST_PULSES} can be sent. Come closer, or send the recording itself.`}
      </p>`;
    }
    return html`<section aria-labelledby="link">
      <h3 id="link">The link</h3>
      ${isFromDisk() ? this.#pageField() : nothing}
      <textarea
        class="field text"
        rows="4"
        readonly
        aria-label="The link"
        aria-busy=${share !== null}
        .value=${made ? this.#text(made.fragment) : ''}
        @focus=${(event: Event) => (event.currentTarget as HTMLTextAreaElement).select()}
      ></textarea>
      <div class="row">
        <button class="main" ?disabled=${!made} @click=${() => this.#copy()}>Copy the link</button>
        <button ?disabled=${!made} @click=${() => this.#showCode()}>Show as QR code</button>
        <button ?disabled=${!made} @click=${() => this.#saveSheet()}>Save a call sheet (HTML)</button>
        ${share === null ? nothing : html`<label>Making it <progress max="1" .value=${share}></progress></label>`}
      </div>
      ${made ? html`<p>${sizeWords(this.#text(made.fragment).length)}</p><p>${costWords(made)}</p>` : nothing}
      ${problem === null ? nothing : html`<p role="alert">${problem}</p>`}
      <p class="said" role="status">${this.#doing.said}</p>
      ${this.code === null ? nothing : html`<figure class="code proof"><img src=${this.code} alt="QR code of the link" /></figure>`}
      <p class="small soft">
        A call sheet is one file with the picture, the numbers, the link and a sound to listen to (with ${AROUND_HEARD_S * 1000} ms before
        and after, slower than life), for people without this page and for a wall: open it and print it.
      </p>
    </section>`;
  }

  /** A page from a memory stick has no address that others could open. */
  #pageField(): TemplateResult {
    const changed = (event: Event) => {
      const field = event.currentTarget as HTMLInputElement;
      this.address = tidied(field.value);
      field.value = this.address;
      remember(this.address);
    };
    return html`<label class="above">
        Address of a Dusklens page that the receiver can open
        <input class="field" type="url" .value=${this.address} @change=${changed} />
      </label>
      ${this.address === ''
        ? html`<p class="small">Without one, the receiver pastes the text into “Open a call link” on the first page.</p>`
        : nothing}`;
  }

  #text(fragment: string): string {
    return this.address === '' ? fragment : `${this.address}#${fragment}`;
  }

  #sendable(): Sendable {
    const { recording, sounds, selected, labelled } = this;
    const marked = withHand(recording, this.session.hand.entries(recording), sounds);
    const chosen = selected === null ? undefined : sounds[selected];
    // A corrected pulse takes the place of the one that was chosen.
    const stands = marked.find(({ pulse }) => pulse === chosen?.pulse) ?? marked.find(({ pulse }) => overlap(pulse, chosen?.pulse));
    return { recording, sounds: marked, selected: stands ?? null, labels: labelled.labels };
  }

  #count(sendable: Sendable, what: What): number {
    return sent({ ...this.wish, what }, sendable).length;
  }

  #toggle(extra: Extra): void {
    const extras = new Set(this.wish.extras);
    if (!extras.delete(extra)) {
      extras.add(extra);
    }
    this.#set({ extras });
  }

  #set(change: Partial<Wish>): void {
    this.wish = { ...this.wish, ...change };
    this.#doing.end();
    this.code = null;
  }

  #copy(): void {
    const { made } = this.#maker;
    if (made) {
      this.#doing.begin('The link is in the clipboard: paste it into a message.', async () => {
        try {
          await navigator.clipboard.writeText(this.#text(made.fragment));
        } catch {
          this.renderRoot.querySelector<HTMLTextAreaElement>('textarea.text')?.select();
          throw new Error('The browser did not let the page copy it. The link is selected: copy it with the keyboard or the menu.');
        }
      });
    }
  }

  #showCode(): void {
    const { made } = this.#maker;
    if (made) {
      this.#doing.begin('Point a camera at it.', async (signal) => {
        const svg = await this.session.core.qrCode(signal, this.#text(made.fragment));
        this.code = `data:image/svg+xml,${encodeURIComponent(svg)}`;
      });
    }
  }

  #saveSheet(): void {
    const { made } = this.#maker;
    const { recording, look, map, address } = this;
    const { opened, channel } = recording;
    if (made && opened) {
      const sounds = sent(this.wish, this.#sendable());
      this.#doing.begin('The call sheet is saved.', async (signal) => {
        const sheet = await sheetOf(signal, { core: this.session.core, opened, channel, sounds, made, look, map, address });
        download(`${stem(recording.name)}-call.html`, 'text/html', sheet);
      });
    }
  }

  readonly #closed = (): void => {
    this.isOpen = false;
    this.code = null;
    this.#doing.end();
    this.#maker.clear();
  };

  static override styles = [base, dialogStyles, sidedStyles, nightLight, shareStyles];
}

function overlap(pulse: Sound['pulse'], other: Sound['pulse'] | undefined): boolean {
  return other !== undefined && pulse.start_s < other.end_s && pulse.end_s > other.start_s;
}

customElements.define('share-call', ShareCall);

declare global {
  interface HTMLElementTagNameMap {
    'share-call': ShareCall;
  }
}
