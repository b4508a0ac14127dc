import type { Place } from './place.ts';

/** Where the person was in a place that is not looked at now: how far it was scrolled, and what had the focus. */
export class Memory {
  readonly #place: Place;
  #scroll = 0;
  #focused: HTMLElement | null = null;

  constructor(place: Place) {
    this.#place = place;
    place.addEventListener('focusin', (event) => {
      const [target] = event.composedPath();
      this.#focused = target instanceof HTMLElement ? target : null;
    });
  }

  /** Takes note of how far the page is scrolled, as the place is left. */
  leave(): void {
    this.#scroll = scrollY;
    if (this.#focused === focused()) {
      this.#focused?.blur();
    }
  }

  /** Scrolls back to where she was. */
  scroll(): void {
    scrollTo(0, this.#scroll);
  }

  /** Puts the focus where it was; `from` names it for a place that has laid itself out anew meanwhile. */
  focus(from: string | null): void {
    this.#focused?.focus({ preventScroll: true });
    const isBack = this.#focused !== null && focused() === this.#focused;
    if (!isBack && (from === null || this.#place.focusFrom?.(from) !== true)) {
      this.#place.toContent();
    }
  }
}

/** What has the focus, within whichever shadow root. */
function focused(): Element | null {
  let at = document.activeElement;
  while (at?.shadowRoot?.activeElement) {
    at = at.shadowRoot.activeElement;
  }
  return at;
}
