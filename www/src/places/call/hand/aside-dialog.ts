import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { base } from '../../../parts/base-styles.ts';
import { dialogStyles } from '../../../parts/dialog-styles.ts';
import type { Recording } from '../recordings.ts';
import type { Session } from '../session.ts';
import type { Sound } from '../sounds.ts';
import { REASONS } from './hand-words.ts';

const MOST_REASON = 400;

/** Asks why a pulse is set aside. Escape leaves everything as it is. */
export class AsideDialog extends LitElement {
  static override properties = {
    asked: { state: true },
  };

  declare session: Session;
  declare asked: { readonly recording: Recording; readonly sound: Sound } | null;

  constructor() {
    super();
    this.asked = null;
  }

  /** Asks about one sound. */
  async ask(session: Session, recording: Recording, sound: Sound): Promise<void> {
    this.session = session;
    this.asked = { recording, sound };
    await this.updateComplete;
    this.renderRoot.querySelector('form')?.reset();
    this.renderRoot.querySelector('dialog')?.showModal();
  }

  override render(): TemplateResult | typeof nothing {
    const { asked } = this;
    return asked === null
      ? nothing
      : html`<dialog aria-labelledby="title" @close=${this.#closed}>
          <form method="dialog" @submit=${this.#submitted}>
            <h2 id="title">Set pulse ${asked.sound.name} aside</h2>
            <p>It stays in the table with its numbers and says why; nothing is deleted.</p>
            <fieldset>
              <legend>Reason</legend>
              ${REASONS.map(
                (reason, index) => html`<label><input type="radio" name="reason" value=${reason} ?checked=${index === 0} /> ${reason}</label>`,
              )}
              <label><input type="radio" name="reason" value="" /> Other:
                <input class="field" name="other" maxlength=${MOST_REASON} aria-label="Other reason" @input=${this.#other} /></label>
            </fieldset>
            <div class="row">
              <button class="main" value="aside">Set aside</button>
              <button value="leave" formnovalidate>Leave it</button>
            </div>
          </form>
        </dialog>`;
  }

  /** Who writes a reason of their own means that one. */
  readonly #other = (): void => {
    const radio = this.renderRoot.querySelector<HTMLInputElement>('input[type="radio"][value=""]');
    if (radio) {
      radio.checked = true;
    }
  };

  readonly #submitted = (event: SubmitEvent): void => {
    const { asked } = this;
    const button = event.submitter as HTMLButtonElement | null;
    if (!asked || button?.value === 'leave') {
      return;
    }
    const fields = new FormData(event.currentTarget as HTMLFormElement);
    const said = String(fields.get('reason') ?? '') || String(fields.get('other') ?? '').trim();
    this.session.hand.setAside(asked.recording, asked.sound, said === '' ? 'No reason given' : said);
  };

  readonly #closed = (): void => {
    this.asked = null;
  };

  static override styles = [
    base,
    dialogStyles,
    css`
      dialog {
        max-width: min(30rem, calc(100vw - 2rem));
      }
      fieldset {
        display: grid;
        gap: 0.5rem;
        margin: 1rem 0;
        padding: 0.6rem 0.9rem;
        border: 1.5px solid var(--line-strong);
      }
      fieldset label {
        min-height: 1.9rem;
        flex-wrap: wrap;
      }
      .row {
        display: flex;
        gap: 0.7rem;
      }
      .field {
        width: 14rem;
        max-width: 60vw;
      }
    `,
  ];
}

customElements.define('aside-dialog', AsideDialog);

declare global {
  interface HTMLElementTagNameMap {
    'aside-dialog': AsideDialog;
  }
}
