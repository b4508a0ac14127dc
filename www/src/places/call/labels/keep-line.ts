import { css, html, LitElement, type TemplateResult } from 'lit';
import type { KeepState, Keeping } from '../../../keep/keeping.ts';
import { base } from '../../../parts/base-styles.ts';

/** A line that says whether what was decided outlasts the page. */
export class KeepLine extends LitElement {
  static override properties = {
    keeping: { attribute: false },
    recording: { attribute: false },
    state: { attribute: false },
  };

  declare keeping: Keeping;
  /** The number of the recording. */
  declare recording: number;
  declare state: KeepState;

  override render(): TemplateResult {
    return html`<div class="line" aria-live="polite">${this.#words()}</div>`;
  }

  #words(): TemplateResult {
    const { state, keeping, recording } = this;
    switch (state.kind) {
      case 'nothing':
        return html`<p class="soft">
          Labels are kept in this browser, on this machine alone, and found again when the same recording is opened, whatever its
          file is called then.
        </p>`;
      case 'reading': {
        const percent = Math.floor(state.share * 100);
        return html`<p>Reading the file, to know it again by its content</p>
          <progress max="100" value=${percent} aria-label="Reading the file" aria-valuetext=${`${percent} %`}></progress>
          <button @click=${() => keeping.stop(recording)}>Stop</button>`;
      }
      case 'kept':
        return html`<p><span aria-hidden="true">✓ </span>Kept in this browser, on this machine alone.</p>`;
      default:
        return html`<p class="warn"><b>Not kept.</b> ${state.reason}</p>
          <button @click=${() => keeping.retry(recording)}>Try again</button>`;
    }
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
      }
      .line {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.4rem 1rem;
        min-height: 2.5rem;
      }
      .warn {
        flex: 1 1 20rem;
        padding: 0.5rem 0.8rem;
        background: var(--warn);
        border-left: 4px solid var(--pencil);
      }
    `,
  ];
}

customElements.define('keep-line', KeepLine);

declare global {
  interface HTMLElementTagNameMap {
    'keep-line': KeepLine;
  }
}
