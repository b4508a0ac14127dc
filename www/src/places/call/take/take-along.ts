import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { ColourMap } from '../../../core/client.ts';
import { base } from '../../../parts/base-styles.ts';
import { dialogStyles } from '../../../parts/dialog-styles.ts';
import { Doing } from '../../../parts/doing.ts';
import { download, stem } from '../../../parts/download.ts';
import { nightLight } from '../../../parts/night-light.ts';
import { sidedStyles } from '../../../parts/sided-styles.ts';
import { whole } from '../extent.ts';
import { withHand } from '../hand/matching.ts';
import type { PictureLook } from '../picture/look.ts';
import type { Recording } from '../recordings.ts';
import type { Session } from '../session.ts';
import type { Sound } from '../sounds.ts';
import { DPI, FIRST, stretch, WIDTH_MM, type Choices } from './choices.ts';
import { copy } from './clipboard.ts';
import { made, Preview, type Matter } from './preview.ts';
import { rasterised } from './raster.ts';
import { takeStyles } from './take-styles.ts';

/** The dialogue in which a figure and the table are taken along: saved, copied, printed. */
export class TakeAlong extends LitElement {
  static override properties = {
    session: { attribute: false },
    recording: { attribute: false },
    sounds: { attribute: false },
    selected: { attribute: false },
    map: { attribute: false },
    look: { attribute: false },
    choices: { state: true },
    isOpen: { state: true },
  };

  declare session: Session;
  declare recording: Recording;
  /** The pulses, and the doubted sounds where these are shown. */
  declare sounds: readonly Sound[];
  /** Index into `sounds`. */
  declare selected: number | null;
  /** The colours that the screen shows. */
  declare map: ColourMap;
  /** How the screen's picture looks beside its colours. */
  declare look: PictureLook;
  declare choices: Choices;
  declare isOpen: boolean;

  readonly #preview = new Preview(() => this.requestUpdate());
  readonly #doing = new Doing(() => this.requestUpdate());

  constructor() {
    super();
    this.choices = FIRST;
    this.isOpen = false;
  }

  /** Shows the dialogue. */
  open(): void {
    this.isOpen = true;
    if (this.choices.what === 'pulse' && this.selected === null) {
      this.choices = { ...this.choices, what: 'view' };
    }
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#closed();
  }

  override updated(changed: PropertyValues<this>): void {
    if (changed.has('isOpen') && this.isOpen) {
      this.#dialog()?.showModal();
    }
    const matter = this.isOpen ? this.#matter() : null;
    if (matter) {
      this.#preview.want(matter);
    }
  }

  override render(): TemplateResult | typeof nothing {
    if (!this.isOpen) {
      return nothing;
    }
    return html`<dialog aria-labelledby="title" @close=${this.#closed}>
      <form class="head" method="dialog">
        <h2 id="title">Take along</h2>
        <button>Close</button>
      </form>
      <div class="sides">
        <div class="choices">${this.#figureChoices()} ${this.#words()}</div>
        <div class="results">${this.#shown()} ${this.#deeds()}</div>
      </div>
    </dialog>`;
  }

  #figureChoices(): TemplateResult {
    const { choices } = this;
    return html`<fieldset>
        <legend>What</legend>
        ${this.#radio('view', 'What is in view')}
        ${this.#radio('pulse', this.#pulseWords(), this.selected === null)}
        ${this.#radio('whole', 'The whole recording')}
      </fieldset>
      <div class="row">
        <label class="above">
          Colours
          <select @change=${(event: Event) => this.#set({ colours: valueOf(event) as Choices['colours'] })}>
            ${options({ paper: 'Ink, red lines', grey: 'Black and white', screen: 'As on the screen' }, choices.colours)}
          </select>
        </label>
        <label class="above">
          Height
          <select @change=${(event: Event) => this.#set({ shape: valueOf(event) as Choices['shape'] })}>
            ${options({ low: 'Low', middle: 'Middle', tall: 'Tall' }, choices.shape)}
          </select>
        </label>
      </div>
      <div class="row">
        ${this.#number('Width, mm', choices.widthMm, WIDTH_MM, (widthMm) => this.#set({ widthMm }))}
        ${this.#number('Dots per inch', choices.dpi, DPI, (dpi) => this.#set({ dpi }))}
      </div>
      <div class="row">
        ${this.#box('Contours', choices.contours, (contours) => this.#set({ contours }))}
        ${this.#box('Numbers', choices.numbers, (numbers) => this.#set({ numbers }))}
        ${this.#box('Scale bar', choices.scaleBar, (scaleBar) => this.#set({ scaleBar }))}
      </div>`;
  }

  #words(): TemplateResult {
    const { title, note } = this.choices;
    return html`<label class="above">
        Title
        <input
          class="field"
          type="text"
          maxlength="200"
          autocomplete="off"
          .value=${title}
          @change=${(event: Event) => this.#set({ title: valueOf(event) })}
        />
      </label>
      <label class="above">
        Note
        <textarea
          class="field"
          rows="3"
          maxlength="2000"
          .value=${note}
          @change=${(event: Event) => this.#set({ note: valueOf(event) })}
        ></textarea>
      </label>`;
  }

  #shown(): TemplateResult {
    const { address, share, problem } = this.#preview;
    return html`<div class="sheet proof">
      ${address === null ? nothing : html`<img src=${address} alt="Preview of the figure" />`}
      ${share === null
        ? nothing
        : html`<label class="late">Drawing <progress max="1" .value=${share}></progress></label>`}
      ${problem === null ? nothing : html`<p role="alert">The figure could not be drawn. ${problem}</p>`}
    </div>`;
  }

  #deeds(): TemplateResult {
    const { about } = this.session.store.value.shown;
    const unmeasured = this.recording.status.kind !== 'measured';
    return html`<div class="row">
        <button class="main" @click=${() => this.#savePng()}>Save PNG</button>
        <button @click=${() => this.#saveSvg()}>Save SVG</button>
        <button @click=${() => this.#copyPicture()}>Copy picture</button>
      </div>
      <div class="row">
        <button ?disabled=${unmeasured} @click=${() => this.#saveTable()}>Save table (CSV)</button>
        <button ?disabled=${unmeasured} @click=${() => this.#copyTable()}>Copy table</button>
        ${this.#box('Definitions in the file, in lines that begin with #', about, (wanted) => {
          this.session.reveal({ about: wanted });
          this.requestUpdate();
        })}
      </div>
      <div class="row">
        <button @click=${() => void this.#print()}>Print</button>
        <span class="soft small">The picture in view, all numbers, the settings and the cautions, in black on white.</span>
      </div>
      <p class="said" role="status">${this.#doing.said}</p>`;
  }

  #pulseWords(): string {
    const sound = this.selected === null ? undefined : this.sounds[this.selected];
    return sound ? `Pulse ${sound.name}` : 'The chosen pulse (none is chosen)';
  }

  #radio(what: Choices['what'], label: string, off = false): TemplateResult {
    return html`<label>
      <input
        type="radio"
        name="what"
        value=${what}
        .checked=${this.choices.what === what}
        ?disabled=${off}
        @change=${() => this.#set({ what })}
      />
      ${label}
    </label>`;
  }

  #box(label: string, checked: boolean, set: (checked: boolean) => void): TemplateResult {
    return html`<label>
      <input
        type="checkbox"
        .checked=${checked}
        @change=${(event: Event) => set((event.currentTarget as HTMLInputElement).checked)}
      />
      ${label}
    </label>`;
  }

  #number(
    label: string,
    value: number,
    { least, most }: { least: number; most: number },
    set: (value: number) => void,
  ): TemplateResult {
    const changed = (event: Event) => {
      const field = event.currentTarget as HTMLInputElement;
      const wanted = field.valueAsNumber;
      const taken = Number.isFinite(wanted) ? Math.min(Math.max(Math.round(wanted), least), most) : value;
      field.value = String(taken);
      set(taken);
    };
    return html`<label class="above">
      ${label}
      <input class="field number" type="number" min=${least} max=${most} .value=${String(value)} @change=${changed} />
    </label>`;
  }

  #set(change: Partial<Choices>): void {
    this.choices = { ...this.choices, ...change };
  }

  #matter(): Matter | null {
    const { recording, choices, sounds, selected, map, look } = this;
    const limits = recording.opened ? whole(recording.opened.facts, look.scale) : null;
    const pulse = selected === null ? null : (sounds[selected]?.pulse ?? null);
    const extent = stretch(choices.what, recording.extent, limits, pulse);
    const marked = withHand(recording, this.session.hand.entries(recording), sounds);
    return extent && { recording, choices, extent, sounds: marked, map, look };
  }

  #saveSvg(): void {
    this.#doing.begin('The figure is saved as SVG.', async (signal) => {
      download(this.#name('svg'), 'image/svg+xml', await this.#svg(signal));
    });
  }

  #savePng(): void {
    this.#doing.begin('The figure is saved as PNG.', async (signal) => {
      download(this.#name('png'), 'image/png', await this.#png(signal));
    });
  }

  #copyPicture(): void {
    this.#doing.begin('The picture is in the clipboard.', (signal) => copy('image/png', this.#png(signal)));
  }

  #saveTable(): void {
    this.#doing.begin('The table is saved.', async () => {
      download(this.#name('csv'), 'text/csv', await this.session.csv(this.recording));
    });
  }

  #copyTable(): void {
    this.#doing.begin('The table is in the clipboard: paste it into a spreadsheet.', (signal) =>
      copy('text/plain', this.#tabbed(signal)),
    );
  }

  async #tabbed(signal: AbortSignal): Promise<string> {
    return this.session.core.tabbed(signal, await this.session.csv(this.recording, { about: false }));
  }

  /** Closes the dialogue first: what is printed is the page. */
  async #print(): Promise<void> {
    this.#dialog()?.close();
    await this.updateComplete;
    print();
  }

  async #svg(signal: AbortSignal): Promise<string> {
    const matter = this.#matter();
    if (!matter) {
      throw new Error('There is no stretch to draw.');
    }
    return made(signal, matter, false, () => undefined);
  }

  async #png(signal: AbortSignal): Promise<Uint8Array<ArrayBuffer>> {
    const { widthMm, dpi } = this.choices;
    const bare = await rasterised(await this.#svg(signal), widthMm, dpi);
    return this.session.core.withResolution(signal, bare, dpi);
  }

  #name(extension: string): string {
    return `${stem(this.recording.name)}.${extension}`;
  }

  readonly #closed = (): void => {
    this.isOpen = false;
    this.#doing.end();
    this.#preview.clear();
  };

  #dialog(): HTMLDialogElement | null {
    return this.renderRoot.querySelector('dialog');
  }

  static override styles = [base, dialogStyles, sidedStyles, nightLight, takeStyles];
}

function options(all: Readonly<Record<string, string>>, chosen: string): TemplateResult[] {
  return Object.entries(all).map(
    ([value, label]) => html`<option value=${value} .selected=${value === chosen}>${label}</option>`,
  );
}

function valueOf(event: Event): string {
  return (event.currentTarget as HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement).value;
}

customElements.define('take-along', TakeAlong);

declare global {
  interface HTMLElementTagNameMap {
    'take-along': TakeAlong;
  }
}
