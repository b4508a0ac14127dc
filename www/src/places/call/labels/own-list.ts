import { css, html, LitElement, type TemplateResult } from 'lit';
import { MOST_WORDS } from '../../../keep/keep-file.ts';
import type { Own } from '../../../keep/keeper.ts';
import type { Keeping } from '../../../keep/keeping.ts';
import { MOST_TEXT } from '../../../keep/label.ts';
import { base } from '../../../parts/base-styles.ts';
import { download } from '../../../parts/download.ts';
import { Watch } from '../../../store.ts';
import { fileStyles } from './file-styles.ts';

/** The person's own list of words for labels, one a line. None is given: what lives where is for the person to say. */
export class OwnList extends LitElement {
  static override properties = {
    keeping: { attribute: false },
    said: { state: true },
  };

  declare keeping: Keeping;
  declare said: string;
  #watch: Watch<Own> | null = null;

  constructor() {
    super();
    this.said = '';
  }

  override render(): TemplateResult {
    this.#watch ??= new Watch(this, this.keeping.own);
    const { words } = this.#watch.value;
    return html`<details>
      <summary>My list of words (${words.length})</summary>
      <p>
        These are offered when you label. One a line: species, calls, noises, in whatever language you keep your notes. The list is
        your own and starts empty.
      </p>
      <label class="wide">
        <span>Words, one a line</span>
        <textarea class="field" rows="8" spellcheck="false" .value=${words.join('\n')}></textarea>
      </label>
      <div class="row">
        <button class="main" @click=${() => this.#keep(this.#text())}>Keep the list</button>
        <button ?disabled=${words.length === 0} @click=${() => download('my-words.txt', 'text/plain', `${words.join('\n')}\n`)}>
          Save as text
        </button>
        <label class="file">
          Add from a text file
          <input type="file" accept=".txt,.csv,text/plain" @change=${this.#chosen} />
        </label>
      </div>
      <p aria-live="polite">${this.said}</p>
    </details>`;
  }

  #text(): string {
    return this.renderRoot.querySelector('textarea')?.value ?? '';
  }

  async #chosen(event: Event): Promise<void> {
    const input = event.currentTarget as HTMLInputElement;
    const [file] = input.files ?? [];
    if (!file) {
      return;
    }
    if (file.size > MOST_WORDS * MOST_TEXT) {
      this.said = `${file.name} is too long for a list of words.`;
    } else {
      this.#keep(`${this.#text()}\n${await file.text()}`);
    }
    input.value = '';
  }

  #keep(text: string): void {
    const lines = text.split(/\r\n|\r|\n/).map((line) => line.trim().slice(0, MOST_TEXT));
    const all = [...new Set(lines)].filter((line) => line !== '');
    const words = all.slice(0, MOST_WORDS);
    this.keeping.changeOwn((own) => ({ ...own, words }));
    const left = all.length - words.length;
    this.said = `Kept ${words.length} words.${left > 0 ? ` ${left} more did not fit: a list holds ${MOST_WORDS}.` : ''}`;
  }

  static override styles = [
    base,
    fileStyles,
    css`
      details {
        max-width: 40rem;
      }
      summary {
        min-height: 2rem;
        cursor: pointer;
        font-family: var(--hand);
        font-size: 1.1rem;
      }
      .wide {
        display: grid;
        gap: 0.25rem;
        margin-block: 0.7rem;
      }
      .field {
        width: 100%;
        font: inherit;
        color: inherit;
        resize: vertical;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.6rem 1rem;
        margin-bottom: 0.5rem;
      }
    `,
  ];
}

customElements.define('own-list', OwnList);

declare global {
  interface HTMLElementTagNameMap {
    'own-list': OwnList;
  }
}
