import { css, html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { base } from '../../parts/base-styles.ts';
import './numbers/numbers-link.ts';
import { SAMPLES, type Sample } from './samples.ts';
import './share/link-field.ts';

/** Files that the person chose. */
export class FilesEvent extends Event {
  static readonly type = 'files';
  readonly files: readonly File[];

  constructor(files: File[]) {
    super(FilesEvent.type, { bubbles: true, composed: true });
    this.files = files;
  }
}

/** A sample that the person wants to try. */
export class SampleEvent extends Event {
  static readonly type = 'sample';
  readonly sample: Sample;

  constructor(sample: Sample) {
    super(SampleEvent.type, { bubbles: true, composed: true });
    this.sample = sample;
  }
}

/**
 * What a newcomer sees: what this is, where to put a recording, what to try.
 *
 * @fires files - files were chosen
 * @fires sample - a sample was chosen
 */
export class WelcomePage extends LitElement {
  static override properties = { hovering: { attribute: false } };

  /** Whether files are being dragged over the page. */
  declare hovering: boolean;

  constructor() {
    super();
    this.hovering = false;
  }

  override render(): TemplateResult {
    return html`
      <h1>See and measure the calls of bats</h1>
      <p class="lead">
        Give it a sound recording, and it draws the spectrogram and measures every pulse. Nothing
        leaves this computer.
      </p>
      <div class=${this.hovering ? 'drop hovering' : 'drop'}>
        ${strokes()}
        <p class="invite">${this.hovering ? 'Let go to open' : 'Drop WAV recordings anywhere on this page'}</p>
        <label class="choose">
          <input type="file" multiple accept=".wav,.wave,.rf64,.bw64,audio/wav,audio/x-wav" @change=${this.#chosen} />
          <span>Choose files</span>
        </label>
      </div>
      ${SAMPLES.length === 0 ? nothing : this.#tryOne()}
      <link-field></link-field>
      <p class="numbers">
        <numbers-link></numbers-link> Every measurement in plain words, with its definition, how well
        it is known, and when not to use it.
      </p>
    `;
  }

  #tryOne(): TemplateResult {
    return html`
      <h2>Try a sample</h2>
      <p class="soft">Made by a computer for the invented Larkwater Fen survey; no bat flew for them.</p>
      <ul>
        ${SAMPLES.map(
          (sample) => html`<li>
            <button aria-describedby=${`about-${sample.file}`} @click=${() => this.dispatchEvent(new SampleEvent(sample))}>${sample.title}</button>
            <span id=${`about-${sample.file}`}>${sample.sentence}</span>
          </li>`,
        )}
      </ul>
    `;
  }

  #chosen(event: Event): void {
    const input = event.currentTarget as HTMLInputElement;
    const files = [...(input.files ?? [])];
    // The same file may be chosen twice in a row.
    input.value = '';
    this.dispatchEvent(new FilesEvent(files));
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
        max-width: 90rem;
      }
      h1 {
        font-size: clamp(2rem, 5vw, 3.1rem);
        letter-spacing: -0.01em;
      }
      .lead {
        margin-top: 0.8rem;
        font-size: 1.2rem;
      }
      .drop {
        position: relative;
        display: grid;
        justify-items: center;
        align-content: center;
        gap: 1.2rem;
        margin: 2.2rem 0 3rem;
        min-height: clamp(15rem, 40vh, 24rem);
        padding: 2rem 1rem;
        background: var(--sheet);
        border: 2px dashed var(--line-strong);
        border-radius: 6px;
        text-align: center;
      }
      .drop.hovering {
        border-style: solid;
        border-color: var(--pencil);
      }
      .drop svg {
        width: min(22rem, 80%);
        height: auto;
        fill: none;
        stroke: var(--ink);
        stroke-linecap: round;
      }
      .invite {
        font-family: var(--hand);
        font-size: 1.35rem;
      }
      .choose {
        position: relative;
      }
      .choose input {
        position: absolute;
        inset: 0;
        width: 100%;
        height: 100%;
        opacity: 0;
        cursor: pointer;
      }
      .choose span {
        padding: 0.7rem 1.6rem;
        border-radius: 3px;
        background: var(--ink);
        color: var(--sheet);
        font-weight: 600;
      }
      .choose:hover span {
        background: var(--pencil);
        color: var(--on-pencil);
      }
      .choose:focus-within span {
        outline: 3px solid var(--focus);
        outline-offset: 3px;
      }
      ul {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(min(100%, 19rem), 1fr));
        gap: 1.4rem 2.2rem;
        list-style: none;
        margin: 1.2rem 0 0;
        padding: 0;
      }
      li {
        padding-top: 0.7rem;
        border-top: 1.5px solid var(--line-strong);
      }
      .numbers {
        margin-top: 2.6rem;
        padding: 0.2rem 0 0.2rem 1rem;
        border-left: 3px double var(--pencil);
      }
      .numbers numbers-link {
        display: block;
        font-family: var(--hand);
        font-size: 1.15rem;
        font-weight: 600;
      }
      li button {
        display: block;
        min-height: 2rem;
        margin: 0 0 0.2rem;
        padding: 0;
        border: 0;
        background: none;
        font-family: var(--hand);
        font-size: 1.15rem;
        font-weight: 600;
        text-align: left;
        color: var(--pencil);
        text-decoration: underline;
        text-decoration-thickness: 1px;
        text-underline-offset: 0.2em;
      }
    `,
  ];
}

/** Pulses as one would sketch them with a pen: our own, invented. */
function strokes(): TemplateResult {
  const pulses = [18, 92, 166, 240, 300];
  return html`<svg viewBox="0 0 350 90" aria-hidden="true">
    <path d="M4 84 H346" stroke-width="1.5" stroke-dasharray="1 7" />
    ${pulses.map(
      (x, index) => svg`<path
        transform="translate(${x} ${index % 2 === 0 ? 0 : 5})"
        d="M0 6 C3 38 8 56 22 63 C26 65 31 66 36 66"
        stroke-width=${index === 2 ? 6 : 4}
      />`,
    )}
  </svg>`;
}

customElements.define('welcome-page', WelcomePage);

declare global {
  interface HTMLElementTagNameMap {
    'welcome-page': WelcomePage;
  }
}
