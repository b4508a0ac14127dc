import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { base } from './base-styles.ts';

/** One leaf, as its tab names it. */
export interface LeafName {
  readonly id: string;
  readonly label: string;
}

/** Another leaf was chosen. */
export class LeafEvent extends Event {
  static readonly type = 'leaf';
  readonly leaf: string;

  constructor(leaf: string) {
    super(LeafEvent.type, { bubbles: true, composed: true });
    this.leaf = leaf;
  }
}

/**
 * Leaves that lie on one another, of which one is seen: the tabs pattern of the WAI-ARIA Authoring Practices. What is
 * put inside is the chosen leaf; the others need not exist. The keys 1, 2, 3 ... choose a leaf wherever the focus is in
 * the component that the tabs stand in, and not elsewhere (WCAG 2.2, 2.1.4).
 *
 * @fires leaf - another leaf was chosen
 */
export class LeafTabs extends LitElement {
  static override properties = {
    label: { attribute: false },
    leaves: { attribute: false },
    chosen: { attribute: false },
  };

  /** What the leaves are about, for a screen reader. */
  declare label: string;
  declare leaves: readonly LeafName[];
  /** The `id` of the leaf that is seen. */
  declare chosen: string;

  #takesFocus = false;
  #around: EventTarget | null = null;
  readonly #listener = (event: Event): void => this.#digit(event as KeyboardEvent);

  override connectedCallback(): void {
    super.connectedCallback();
    const root = this.getRootNode();
    this.#around = root instanceof ShadowRoot ? root.host : root;
    this.#around.addEventListener('keydown', this.#listener);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#around?.removeEventListener('keydown', this.#listener);
  }

  override updated(changed: PropertyValues<this>): void {
    if (!changed.has('chosen')) {
      return;
    }
    const tab = this.#tab(this.chosen);
    // Sideways only: the page itself stays where it is.
    const list = tab?.parentElement;
    if (tab && list && list.scrollWidth > list.clientWidth) {
      list.scrollLeft = tab.offsetLeft - (list.clientWidth - tab.offsetWidth) / 2;
    }
    if (this.#takesFocus) {
      this.#takesFocus = false;
      tab?.focus({ preventScroll: true });
    }
  }

  override render(): TemplateResult {
    return html`
      <div class="tabs" role="tablist" aria-label=${this.label} @keydown=${this.#key}>
        ${this.leaves.map(({ id, label }, index) => this.#tabOf(id, label, index))}
      </div>
      <div class="leaf" role="tabpanel" id="leaf" tabindex="0" aria-labelledby=${`tab-${this.chosen}`}>
        <slot></slot>
      </div>
    `;
  }

  #tabOf(id: string, label: string, index: number): TemplateResult {
    const chosen = id === this.chosen;
    return html`<button
      role="tab"
      id=${`tab-${id}`}
      aria-selected=${chosen}
      aria-controls=${chosen ? 'leaf' : nothing}
      aria-keyshortcuts=${index + 1}
      tabindex=${chosen ? 0 : -1}
      title=${`${label} (key ${index + 1})`}
      @click=${() => this.#choose(id)}
    >${label}</button>`;
  }

  #key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey || event.shiftKey) {
      return;
    }
    const count = this.leaves.length;
    const index = this.leaves.findIndex(({ id }) => id === this.chosen);
    const goal: Record<string, number | undefined> = {
      ArrowRight: (index + 1) % count,
      ArrowLeft: (index - 1 + count) % count,
      Home: 0,
      End: count - 1,
    };
    const next = this.leaves[goal[event.code] ?? -1];
    if (next) {
      event.preventDefault();
      this.#takesFocus = true;
      this.#choose(next.id);
    }
  }

  #digit(event: KeyboardEvent): void {
    const [target] = event.composedPath();
    const digit = /^(?:Digit|Numpad)([1-9])$/.exec(event.code)?.[1];
    const isHeld = event.ctrlKey || event.metaKey || event.altKey || event.shiftKey;
    if (event.defaultPrevented || digit === undefined || isHeld || isWriting(target)) {
      return;
    }
    const leaf = this.leaves[Number(digit) - 1];
    if (leaf) {
      event.preventDefault();
      // What had the focus may go away with its leaf.
      this.#takesFocus = event.composedPath().includes(this);
      this.#choose(leaf.id);
    }
  }

  #choose(id: string): void {
    if (id === this.chosen) {
      this.#takesFocus = false;
    } else {
      this.dispatchEvent(new LeafEvent(id));
    }
  }

  #tab(id: string): HTMLElement | null {
    return this.renderRoot.querySelector<HTMLElement>(`#tab-${CSS.escape(id)}`);
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
        min-width: 0;
      }
      .tabs {
        position: relative;
        display: flex;
        gap: 0.3rem;
        padding: 0.3rem 0.3rem 0;
        margin-bottom: 1.1rem;
        overflow-x: auto;
        scrollbar-width: thin;
        box-shadow: inset 0 -1.5px var(--line-strong);
      }
      [role='tab'] {
        flex: none;
        min-height: 2.75rem;
        border-bottom-color: transparent;
        border-radius: 5px 5px 0 0;
        border-color: var(--line) var(--line) var(--line-strong);
        background: none;
        color: var(--soft);
        font-family: var(--hand);
        font-size: 1.1rem;
        white-space: nowrap;
      }
      [role='tab'][aria-selected='true'] {
        border-color: var(--line-strong) var(--line-strong) var(--page);
        border-top: 3px solid var(--pencil);
        background: var(--page);
        color: var(--ink);
        font-weight: 600;
      }
      [role='tab']:focus-visible {
        outline-offset: -4px;
      }
      .leaf {
        min-width: 0;
      }
      @media print {
        .tabs {
          display: none;
        }
      }
    `,
  ];
}

/** Whether keys write something where they are pressed. */
function isWriting(target: EventTarget | undefined): boolean {
  return (
    target instanceof HTMLElement &&
    (target.isContentEditable || target.matches('input:not([type="checkbox"], [type="radio"]), textarea, select'))
  );
}

customElements.define('leaf-tabs', LeafTabs);

declare global {
  interface HTMLElementTagNameMap {
    'leaf-tabs': LeafTabs;
  }
}
