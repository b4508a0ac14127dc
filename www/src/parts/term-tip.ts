import { css, html, LitElement, type TemplateResult } from 'lit';
import { base } from './base-styles.ts';

/** Distance between a word and its explanation, CSS pixels. */
const GAP = 6;
/** Distance that an explanation keeps from the window's edge, CSS pixels. */
const EDGE = 8;

/**
 * A word with its meaning, which shows while the word has the pointer or the
 * focus, and goes with Escape. It lies above everything, so that no scrolling
 * table cuts it off.
 *
 * @slot - the word
 */
export class TermTip extends LitElement {
  static override properties = { meaning: { attribute: false } };

  declare meaning: string;

  override render(): TemplateResult {
    // No space around the word: a comma may follow it.
    return html`<button
        type="button"
        aria-describedby="meaning"
        @focus=${this.#show}
        @blur=${this.#hide}
        @click=${this.#show}
        @pointerenter=${this.#show}
        @pointerleave=${this.#leave}
        @keydown=${this.#key}
      ><slot></slot></button><span
        id="meaning"
        role="tooltip"
        popover="manual"
        @pointerleave=${this.#hide}
      >${this.meaning}</span>`;
  }

  #show(): void {
    const [word, tip] = this.#both();
    if (!word || !tip || tip.matches(':popover-open')) {
      return;
    }
    tip.showPopover();
    const at = word.getBoundingClientRect();
    const { offsetWidth, offsetHeight } = tip;
    const rightmost = innerWidth - offsetWidth - EDGE;
    const below = at.bottom + GAP;
    const above = at.top - offsetHeight - GAP;
    tip.style.left = `${Math.max(EDGE, Math.min(at.left, rightmost))}px`;
    tip.style.top = `${below + offsetHeight > innerHeight ? above : below}px`;
  }

  /** The pointer may go on to the explanation itself without losing it. */
  #leave(event: PointerEvent): void {
    const [word, tip] = this.#both();
    const stays = event.relatedTarget === tip || word?.matches(':focus');
    if (!stays) {
      this.#hide();
    }
  }

  #hide(): void {
    const [, tip] = this.#both();
    if (tip?.matches(':popover-open')) {
      tip.hidePopover();
    }
  }

  #key(event: KeyboardEvent): void {
    if (event.key === 'Escape') {
      this.#hide();
    }
  }

  #both(): [HTMLElement | null, HTMLElement | null] {
    return [
      this.renderRoot.querySelector<HTMLElement>('button'),
      this.renderRoot.querySelector<HTMLElement>('[popover]'),
    ];
  }

  static override styles = [
    base,
    css`
      button {
        min-height: 1.6rem;
        padding: 0;
        border: 0;
        background: none;
        text-align: inherit;
        font-weight: inherit;
        text-decoration: underline dotted 1.5px;
        text-underline-offset: 0.25em;
        cursor: help;
      }
      [popover] {
        position: fixed;
        inset: auto;
        margin: 0;
        width: max-content;
        max-width: min(24rem, calc(100vw - 1rem));
        padding: 0.6rem 0.85rem;
        border: 1.5px solid var(--ink);
        border-radius: 3px;
        background: var(--sheet);
        color: var(--ink);
        font: 400 0.95rem/1.45 var(--plain);
        text-align: left;
        white-space: normal;
        overflow-wrap: break-word;
      }
    `,
  ];
}

customElements.define('term-tip', TermTip);

declare global {
  interface HTMLElementTagNameMap {
    'term-tip': TermTip;
  }
}
