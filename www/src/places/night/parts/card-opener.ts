import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { base } from '../../../parts/base-styles.ts';
import { fromFolder, fromInput, type Finding } from '../card/found.ts';

/** The person opened a folder. */
export class FindingEvent extends Event {
  static readonly type = 'finding';
  readonly finding: Finding;

  constructor(finding: Finding) {
    super(FindingEvent.type, { bubbles: true, composed: true });
    this.finding = finding;
  }
}

/** Browsers with the File System Access API give a handle, which asks for less than an upload field does. */
interface WithPicker {
  showDirectoryPicker?: (options: { mode: 'read'; id: string }) => Promise<FileSystemDirectoryHandle>;
}

/**
 * The way to open a folder: by the browser's own picker where it has one, by a folder field elsewhere.
 *
 * @fires finding - a folder was opened
 */
export class CardOpener extends LitElement {
  static override properties = {
    label: { attribute: false },
    complaint: { state: true },
  };

  declare label: string;
  declare complaint: string;

  constructor() {
    super();
    this.label = 'Open a folder';
    this.complaint = '';
  }

  override render(): TemplateResult {
    return html`
      <button class="main" @click=${() => void this.#open()}>${this.label}</button>
      <input
        type="file"
        class="quiet"
        tabindex="-1"
        aria-label="Folder of recordings"
        webkitdirectory
        multiple
        @change=${this.#chosen}
      />
      ${this.complaint === '' ? nothing : html`<p role="alert">${this.complaint}</p>`}
    `;
  }

  async #open(): Promise<void> {
    this.complaint = '';
    const { showDirectoryPicker } = window as WithPicker;
    if (!showDirectoryPicker) {
      this.renderRoot.querySelector('input')?.click();
      return;
    }
    try {
      const folder = await showDirectoryPicker.call(window, { mode: 'read', id: 'card' });
      this.dispatchEvent(new FindingEvent(fromFolder(folder)));
    } catch (error) {
      if (!(error instanceof DOMException && error.name === 'AbortError')) {
        // A page from a memory stick may not be given handles.
        this.renderRoot.querySelector('input')?.click();
      }
    }
  }

  readonly #chosen = (event: Event): void => {
    const input = event.target as HTMLInputElement;
    const files = [...(input.files ?? [])];
    input.value = '';
    if (files.length > 0) {
      this.dispatchEvent(new FindingEvent(fromInput(files)));
    }
  };

  static override styles = [
    base,
    css`
      :host {
        display: inline-block;
        position: relative;
      }
      button {
        font-size: 1.1rem;
        min-height: 3rem;
      }
    `,
  ];
}

customElements.define('card-opener', CardOpener);

declare global {
  interface HTMLElementTagNameMap {
    'card-opener': CardOpener;
  }
}
