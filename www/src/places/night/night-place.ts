import { css, html, LitElement, type TemplateResult } from 'lit';
import { base } from '../../parts/base-styles.ts';
import { fieldsOf, placeFragment } from '../../shell/place-address.ts';
import { NOTHING_STANDING, type Kit, type Place, type Whereabouts } from '../../shell/place.ts';
import { Store } from '../../store.ts';
import type { Theme } from '../../themes.ts';

/** The Night place: from a card full of files to how the night went. */
export class NightPlace extends LitElement implements Place {
  static override properties = {
    theme: { attribute: false },
    hovering: { attribute: false },
  };

  declare theme: Theme;
  declare hovering: boolean;

  readonly standing = new Store(NOTHING_STANDING);
  readonly keys = null;
  readonly kit: Kit;
  /** What the address says of the night. */
  #night: string | null = null;

  constructor(kit: Kit) {
    super();
    this.kit = kit;
    this.hovering = false;
  }

  whereabouts(): Whereabouts {
    return { fragment: placeFragment('night', this.#night === null ? {} : { night: this.#night }, this.theme), note: null };
  }

  goTo({ fragment }: Whereabouts): void {
    this.#night = fieldsOf(fragment)['night'] ?? null;
  }

  toContent(): void {
    this.renderRoot.querySelector('main')?.focus();
  }

  droppedItems(_items: DataTransferItemList, _files: readonly File[]): void {}

  override render(): TemplateResult {
    return html`<main tabindex="-1">
      <h1>A whole night’s card</h1>
      <p>
        What a recorder brought home in one night: which files hold bats, how the night went, and whether the recorder did
        its work. Nothing leaves this computer.
      </p>
    </main>`;
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
      }
      main:focus {
        outline: none;
      }
      h1 {
        font-size: clamp(2rem, 5vw, 3.1rem);
        letter-spacing: -0.01em;
      }
      p {
        margin-top: 0.8rem;
        font-size: 1.2rem;
      }
    `,
  ];
}

customElements.define('night-place', NightPlace);

declare global {
  interface HTMLElementTagNameMap {
    'night-place': NightPlace;
  }
}
