import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { base } from '../parts/base-styles.ts';
import { Watch } from '../store.ts';
import { keptOf, type Kept, type Keeping } from './keeping.ts';

/** Undo and redo of what a person decided about a recording, as buttons and as keys anywhere on the page. */
export class UndoButtons extends LitElement {
  static override properties = {
    keeping: { attribute: false },
    recording: { attribute: false },
    said: { state: true },
  };

  declare keeping: Keeping;
  /** The number of the recording. */
  declare recording: number;
  /** What a screen reader is told. */
  declare said: string;

  #watch: Watch<ReadonlyMap<number, Kept>> | null = null;
  readonly #onKey = (event: KeyboardEvent): void => this.#key(event);

  constructor() {
    super();
    this.said = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('keydown', this.#onKey);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    removeEventListener('keydown', this.#onKey);
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('recording')) {
      this.said = '';
    }
  }

  override render(): TemplateResult {
    this.#watch ??= new Watch(this, this.keeping.store);
    const { history } = keptOf(this.#watch.value, this.recording);
    return html`
      ${this.#button('Undo', '↶', history.undoes, () => this.#undo())}
      ${this.#button('Redo', '↷', history.redoes, () => this.#redo())}
      <span class="quiet" aria-live="polite">${this.said}</span>
    `;
  }

  #button(label: string, sign: string, what: string | null, act: () => void): TemplateResult {
    const whole = what === null ? label : `${label}: ${what}`;
    return html`<button
      aria-label=${whole}
      title=${what === null ? `Nothing to ${label.toLowerCase()}` : whole}
      ?disabled=${what === null}
      @click=${act}
    ><span class="sign" aria-hidden="true">${sign}</span> ${label}</button>`;
  }

  #undo(): void {
    this.#say('Undone', this.keeping.of(this.recording).history.undoes);
    this.keeping.undo(this.recording);
  }

  #redo(): void {
    this.#say('Done again', this.keeping.of(this.recording).history.redoes);
    this.keeping.redo(this.recording);
  }

  #say(done: string, what: string | null): void {
    this.said = what === null ? 'Nothing to undo or redo' : `${done}: ${what}`;
  }

  #key(event: KeyboardEvent): void {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || writes(event)) {
      return;
    }
    const key = event.key.toLowerCase();
    if (key === 'y' || (key === 'z' && event.shiftKey)) {
      event.preventDefault();
      this.#redo();
    } else if (key === 'z') {
      event.preventDefault();
      this.#undo();
    }
  }

  static override styles = [
    base,
    css`
      :host {
        display: inline-flex;
        gap: 0.35rem;
      }
      .sign {
        font-size: 1.2em;
        line-height: 1;
      }
    `,
  ];
}

/** Whether a key press goes into a text, which has an undo of its own. */
function writes(event: KeyboardEvent): boolean {
  const [target] = event.composedPath();
  return (
    target instanceof HTMLTextAreaElement ||
    (target instanceof HTMLInputElement && !['checkbox', 'radio', 'range', 'button', 'file'].includes(target.type)) ||
    (target instanceof HTMLElement && target.isContentEditable)
  );
}

customElements.define('undo-buttons', UndoButtons);

declare global {
  interface HTMLElementTagNameMap {
    'undo-buttons': UndoButtons;
  }
}
