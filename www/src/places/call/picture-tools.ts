import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import '../../keep/undo-buttons.ts';
import { base } from '../../parts/base-styles.ts';
import './hand/hand-tools.ts';
import { DeedEvent } from './picture/events.ts';
import type { Deed } from './picture/keys.ts';
import type { Recording, Shown } from './recordings.ts';
import type { Session } from './session.ts';

/** The settings of the view shall be shown, or shown no more. */
export class SettingsEvent extends Event {
  static readonly type = 'settings';
  constructor() {
    super(SettingsEvent.type);
  }
}

/**
 * The tools above the picture.
 *
 * @fires deed - a tool was used
 * @fires settings - the settings of the view were asked for, or are to go
 */
export class PictureTools extends LitElement {
  static override properties = {
    session: { attribute: false },
    recording: { attribute: false },
    shown: { attribute: false },
    none: { attribute: false },
    contours: { attribute: false },
    settings: { attribute: false },
  };

  declare session: Session;
  declare recording: Recording;
  declare shown: Shown;
  /** Whether there is no pulse to go to. */
  declare none: boolean;
  declare contours: boolean;
  /** Whether the settings of the view are shown. */
  declare settings: boolean;

  override render(): TemplateResult {
    const { session, recording, none } = this;
    return html`
      <span class="together">
        ${this.#tool('previous-pulse', 'Previous pulse', '← Pulse', none)}
        ${this.#tool('next-pulse', 'Next pulse', 'Pulse →', none)}
      </span>
      <span class="together">
        ${this.#tool('closer', 'Closer in time', '+')} ${this.#tool('farther', 'Farther in time', '−')}
        ${this.#tool('whole', 'Fit the whole recording', 'Fit')}
        <button
          aria-expanded=${this.settings}
          title="Axis, window, levels and colours of the picture"
          @click=${() => this.dispatchEvent(new SettingsEvent())}
        >View</button>
      </span>
      <label>
        <input type="checkbox" .checked=${this.contours} @change=${() => this.#deed('contours')} />
        Contours
      </label>
      <hand-tools .session=${session} .strips=${this.shown.strips}></hand-tools>
      ${this.#channels(recording)}
      <undo-buttons .keeping=${session.keeping} .recording=${recording.id}></undo-buttons>
      <button ?disabled=${!recording.opened} @click=${() => this.#deed('take')}>Take along …</button>
      <button ?disabled=${none} @click=${() => this.#deed('share')}>Share a call …</button>
    `;
  }

  #tool(deed: Deed, label: string, sign: string, off = false): TemplateResult {
    return html`<button aria-label=${label} title=${label} ?disabled=${off} @click=${() => this.#deed(deed)}>${sign}</button>`;
  }

  #channels(recording: Recording): TemplateResult | typeof nothing {
    const count = recording.opened?.facts.channels ?? 1;
    if (count < 2) {
      return nothing;
    }
    const chosen = (event: Event) => {
      const { value } = event.currentTarget as HTMLSelectElement;
      this.session.measure(recording.id, Number(value));
    };
    return html`<label>
      Channel
      <select @change=${chosen}>
        ${Array.from(
          { length: count },
          (_, channel) => html`<option value=${channel} .selected=${channel === recording.channel}>${channel + 1} of ${count}</option>`,
        )}
      </select>
    </label>`;
  }

  #deed(deed: Deed): void {
    this.dispatchEvent(new DeedEvent(deed));
  }

  static override styles = [
    base,
    css`
      :host {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.6rem 1.1rem;
        margin-bottom: 0.8rem;
      }
      select {
        max-width: min(18rem, 70vw);
        padding-inline: 0.55rem;
      }
      .together {
        display: inline-flex;
        flex-wrap: wrap;
        gap: 0.35rem;
      }
      [aria-expanded='true'] {
        border-color: var(--ink);
        background: var(--wash);
      }
      @media (max-width: 40rem) {
        :host {
          gap: 0.5rem 0.8rem;
        }
        button {
          padding-inline: 0.7rem;
        }
      }
    `,
  ];
}

customElements.define('picture-tools', PictureTools);

declare global {
  interface HTMLElementTagNameMap {
    'picture-tools': PictureTools;
  }
}
