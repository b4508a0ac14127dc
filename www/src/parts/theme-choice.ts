import { css, html, LitElement, type TemplateResult } from 'lit';
import { THEMES, type Theme } from '../themes.ts';
import { base } from './base-styles.ts';

/** Another theme was chosen. */
export class ThemeEvent extends Event {
  static readonly type = 'theme';
  readonly theme: Theme;

  constructor(theme: Theme) {
    super(ThemeEvent.type, { bubbles: true, composed: true });
    this.theme = theme;
  }
}

/**
 * The three themes side by side.
 *
 * @fires theme - another theme was chosen
 */
export class ThemeChoice extends LitElement {
  static override properties = { theme: { attribute: false } };

  declare theme: Theme;

  override render(): TemplateResult {
    return html`<fieldset>
      <legend class="quiet">Theme</legend>
      ${(Object.keys(THEMES) as Theme[]).map(
        (theme) => html`<label>
          <input
            type="radio"
            name="theme"
            .checked=${theme === this.theme}
            @change=${() => this.dispatchEvent(new ThemeEvent(theme))}
          />
          <span>${THEMES[theme].label}<span class="quiet">, ${THEMES[theme].purpose}</span></span>
        </label>`,
      )}
    </fieldset>`;
  }

  static override styles = [
    base,
    css`
      fieldset {
        position: relative;
        display: flex;
        margin: 0;
        padding: 0;
        border: 0;
        gap: 0.2rem 1.1rem;
      }
      label {
        min-height: 2.5rem;
        cursor: pointer;
      }
    `,
  ];
}

customElements.define('theme-choice', ThemeChoice);

declare global {
  interface HTMLElementTagNameMap {
    'theme-choice': ThemeChoice;
  }
}
