import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Check, CheckVerdict, NightChecks } from '../../../core/types.ts';
import { frames } from '../../../frames.ts';
import { base } from '../../../parts/base-styles.ts';
import { watch } from '../../../store.ts';
import { SeeFileEvent } from '../files/files-leaf.ts';
import { chosenNights, type NightSession } from '../night-session.ts';
import { counted, nightWords } from '../words.ts';

/** What came of a check, in words and with a mark that does without colour. */
const VERDICTS: { readonly [V in CheckVerdict]: { readonly mark: string; readonly words: string } } = {
  trouble: { mark: '✕', words: 'Trouble' },
  look: { mark: '!', words: 'Look at it' },
  unknown: { mark: '?', words: 'Cannot be told' },
  fine: { mark: '✓', words: 'Nothing unusual' },
};

/** Paths that are listed below a check until the person asks for all. */
const FIRST_PATHS = 8;

/** The night check: what went right and wrong with the recorder, the worst first, with evidence, advice and rule. */
export class CheckLeaf extends LitElement {
  static override properties = {
    session: { attribute: false },
    nights: { state: true },
  };

  declare session: NightSession;
  declare nights: readonly NightChecks[];

  #asked = '';

  constructor() {
    super();
    this.nights = [];
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('session')) {
      watch(this, this.session.store);
    }
    const state = this.session.store.value;
    const keys = chosenNights(state).map(({ key }) => key);
    const asked = `${state.edition} ${JSON.stringify(keys)}`;
    if (asked !== this.#asked) {
      this.#asked = asked;
      void frames.during(this.#ask());
    }
  }

  override render(): TemplateResult {
    const isWorking = this.session.store.value.run?.progress.value.phase === 'working';
    return html`
      ${isWorking ? html`<p class="soft">Files are still being examined: all of this may change.</p>` : nothing}
      ${this.nights.map((night) => this.#night(night))}
    `;
  }

  #night({ key, checks }: NightChecks): TemplateResult {
    const count = (verdict: CheckVerdict): number => checks.filter((check) => check.verdict === verdict).length;
    const trouble = count('trouble');
    const look = count('look');
    return html`<section aria-label=${`${nightWords(key.evening)}, ${key.recorder}`}>
      <h2>${nightWords(key.evening)} <span class="soft">${key.recorder}</span></h2>
      <p role="status">${trouble === 0 && look === 0
        ? 'Nothing unusual was found.'
        : `${counted(trouble, 'trouble')}, ${look} to look at, of ${checks.length} things that were checked.`}</p>
      <ul>${checks.map((check) => this.#check(check))}</ul>
    </section>`;
  }

  #check(check: Check): TemplateResult {
    const { mark, words } = VERDICTS[check.verdict];
    return html`<li class=${check.verdict}>
      <details ?open=${check.verdict === 'trouble' || check.verdict === 'look'}>
        <summary><span class="mark" aria-hidden="true">${mark}</span><span class="verdict">${words}</span>
          <span class="title">${check.title}</span></summary>
        <div class="inside">
          ${check.evidence.map((sentence) => html`<p>${sentence}</p>`)}
          ${check.advice === '' ? nothing : html`<p class="advice"><strong>What to do:</strong> ${check.advice}</p>`}
          ${check.files.length > 0 ? this.#files(check) : nothing}
          <p class="soft small"><strong>Rule:</strong> ${check.rule}</p>
        </div>
      </details>
    </li>`;
  }

  #files({ files, more }: Check): TemplateResult {
    const [first, rest] = [files.slice(0, FIRST_PATHS), files.slice(FIRST_PATHS)];
    return html`
      <p class="paths">${first.map((path) => this.#path(path))}</p>
      ${rest.length + more === 0
        ? nothing
        : html`<details class="rest">
            <summary>${counted(rest.length + more, 'more file')}</summary>
            <p class="paths">${rest.map((path) => this.#path(path))}</p>
            ${more > 0 ? html`<p class="soft">… and ${more.toLocaleString('en')} that are not listed.</p>` : nothing}
          </details>`}
    `;
  }

  #path(path: string): TemplateResult {
    return html`<button
      class="plain"
      title=${`See ${path} in Call`}
      @click=${() => this.dispatchEvent(new SeeFileEvent(path))}
    >${path.slice(path.lastIndexOf('/') + 1)}</button> `;
  }

  async #ask(): Promise<void> {
    const keys = chosenNights(this.session.store.value).map(({ key }) => key);
    this.nights = await (await this.session.book()).checks(keys);
  }

  static override styles = [
    base,
    css`
      :host {
        display: grid;
        gap: 1.4rem;
      }
      section {
        display: grid;
        gap: 0.6rem;
        min-width: 0;
      }
      ul {
        display: grid;
        gap: 0.5rem;
        margin: 0;
        padding: 0;
        list-style: none;
      }
      li {
        border: 1.5px solid var(--line);
        border-radius: 3px;
        background: var(--sheet);
      }
      .trouble {
        border-color: var(--pencil);
        border-left-width: 6px;
      }
      .look {
        border-color: var(--line-strong);
        border-left: 6px double var(--line-strong);
      }
      summary {
        display: flex;
        flex-wrap: wrap;
        align-items: baseline;
        gap: 0.2rem 0.7rem;
        min-height: 2.75rem;
        padding: 0.5rem 0.8rem;
        cursor: pointer;
      }
      .mark {
        display: inline-grid;
        place-content: center;
        flex: none;
        width: 1.5rem;
        height: 1.5rem;
        border: 1.5px solid currentColor;
        border-radius: 50%;
        font-weight: 700;
        line-height: 1;
      }
      .trouble .mark {
        background: var(--pencil);
        border-color: var(--pencil);
        color: var(--on-pencil);
      }
      .verdict {
        flex: none;
        width: 8.5rem;
        color: var(--soft);
      }
      .title {
        font-family: var(--hand);
        font-weight: 600;
        font-size: 1.1rem;
      }
      .inside {
        display: grid;
        gap: 0.5rem;
        padding: 0 0.9rem 0.9rem 3rem;
      }
      .paths {
        max-width: none;
      }
      .paths button {
        min-height: 1.8rem;
        padding: 0.1rem 0.4rem;
        overflow-wrap: anywhere;
      }
      .rest summary {
        min-height: 2rem;
        padding: 0.2rem 0;
      }
      @media (max-width: 40rem) {
        .inside {
          padding-left: 0.9rem;
        }
        .verdict {
          width: auto;
        }
      }
    `,
  ];
}

customElements.define('check-leaf', CheckLeaf);

declare global {
  interface HTMLElementTagNameMap {
    'check-leaf': CheckLeaf;
  }
}
