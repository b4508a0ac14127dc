import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { frames } from '../../../frames.ts';
import { base } from '../../../parts/base-styles.ts';
import { BEFORE, CAUTIONS, CHAPTERS, SOURCE } from './entries.ts';
import type { Chapter, Entry } from './entry.ts';
import { mini } from './mini.ts';
import { KNOWN, type Known } from './known.ts';
import { isSpecial, NumbersEvent } from './numbers-link.ts';
import { numbersStyles } from './numbers-styles.ts';
import { figureStyles } from './figure.ts';
import './pulse-figure.ts';
import './sequence-figure.ts';
import { glyph, isShape } from './shape-glyph.ts';

/** The reader wants to go back to where the page was opened. */
export class CloseEvent extends Event {
  static readonly type = 'close-numbers';
  constructor() {
    super(CloseEvent.type, { bubbles: true, composed: true });
  }
}

/** Chapters that a figure shows. */
const IN_FIRST_FIGURE = new Set(['time', 'frequency', 'strength']);
const IN_SECOND_FIGURE = new Set(['interval', 'sequence', 'pass', 'buzz']);

/**
 * What the numbers mean: every measurement in plain words, with its exact
 * definition, how well it is known, and when not to use it.
 *
 * @fires numbers - another entry was chosen in the table of contents
 * @fires close-numbers - the reader wants to go back
 */
export class NumbersPage extends LitElement {
  static override properties = {
    entry: { attribute: false },
    recording: { attribute: false },
  };

  /** What is looked up: an entry's id, or '' for the page's beginning. */
  declare entry: string;
  /** Name of the recording that waits meanwhile; null: none. */
  declare recording: string | null;

  override updated(changed: PropertyValues<this>): void {
    if (changed.has('entry')) {
      void frames.during(this.#goTo(this.entry));
    }
  }

  override render(): TemplateResult {
    const { recording } = this;
    return html`
      <p class="way">
        <button @click=${() => this.dispatchEvent(new CloseEvent())}>
          ${recording === null ? 'Back to the first page' : `Back to ${recording}`}
        </button>
      </p>
      <h1 tabindex="-1">What the numbers mean</h1>
      <p class="lead">
        Every number that this page gives: what it is, how it is defined, how well it is known, and
        when not to use it. All times are real times at the microphone: if a recorder slowed the
        sound down, that is undone first.
      </p>
      <div class="columns">
        ${this.#contents()}
        <div class="text">
          ${before()} ${figures()} ${CHAPTERS.map((chapter) => this.#chapter(chapter))} ${cautions()}
        </div>
      </div>
    `;
  }

  #contents(): TemplateResult {
    const own: Chapter[] = [
      { id: 'before', title: 'Before you use a number', entries: [] },
      { id: 'figures', title: 'In pictures', entries: [] },
      ...CHAPTERS,
      { id: 'cautions', title: 'Cautions', entries: [] },
    ];
    return html`<nav aria-labelledby="contents">
      <h2 id="contents">Contents</h2>
      <ul>
        ${own.map(
          ({ id, title, entries }) => html`<li>
            ${this.#link(id, title)}
            ${entries.length === 0
              ? nothing
              : html`<ul>
                  ${entries.map((entry) => html`<li>${this.#link(entry.id, entry.title)}</li>`)}
                </ul>`}
          </li>`,
        )}
      </ul>
    </nav>`;
  }

  #link(id: string, title: string): TemplateResult {
    const follow = (event: MouseEvent): void => {
      if (isSpecial(event)) {
        return;
      }
      event.preventDefault();
      if (id === this.entry) {
        void frames.during(this.#goTo(id));
      } else {
        this.dispatchEvent(new NumbersEvent(id));
      }
    };
    return html`<a href="#numbers=${id}" @click=${follow}>${title}</a>`;
  }

  #chapter({ id, title, entries }: Chapter): TemplateResult {
    return html`<section aria-labelledby=${id}>
      <h2 id=${id} tabindex="-1">${title}</h2>
      ${IN_FIRST_FIGURE.has(id)
        ? html`<p class="soft see">${this.#link('figure-1', 'Figure 1')} shows these on a pulse.</p>`
        : nothing}
      ${entries.map((entry) => this.#entry(entry))}
    </section>`;
  }

  #entry(entry: Entry): TemplateResult {
    return html`<article aria-labelledby=${entry.id}>
      <div class="head">
        <div>
          <h3 id=${entry.id} tabindex="-1">${entry.title}</h3>
          <p class="plain">
            ${tied(entry.plain)}${IN_SECOND_FIGURE.has(entry.id)
              ? html` See ${this.#link('figure-2', 'figure 2')}.`
              : nothing}
          </p>
          ${entry.columns
            ? html`<p class="small soft">
                In a saved table: ${entry.columns.map((name, n) => html`${n > 0 ? ', ' : ''}<code>${name}</code>`)}
              </p>`
            : nothing}
        </div>
        ${mini(entry.id)}
      </div>
      <dl>
        <dt>Definition</dt>
        <dd class="definition">${entry.definition.map((text) => html`<p>${tied(text)}</p>`)} ${terms(entry)}</dd>
        <dt>How well it is known</dt>
        <dd class="known">
          ${entry.known.map((text) => html`<p>${tied(text)}</p>`)} ${entry.id === 'uncertainty' ? check() : nothing}
        </dd>
        <dt>When not to use it</dt>
        <dd class="avoid">
          <ul>
            ${entry.avoid.map((text) => html`<li>${tied(text)}</li>`)}
          </ul>
        </dd>
      </dl>
    </article>`;
  }

  async #goTo(id: string): Promise<void> {
    const place = id === '' ? null : this.renderRoot.querySelector<HTMLElement>(`#${CSS.escape(id)}`);
    const target = place ?? this.renderRoot.querySelector<HTMLElement>('h1');
    target?.focus({ preventScroll: true });
    // The figures have their height only once they know their width.
    await nextFrame();
    await nextFrame();
    if (place) {
      place.scrollIntoView();
    } else {
      scrollTo(0, 0);
    }
  }

  static override styles = [base, figureStyles, numbersStyles];
}

function nextFrame(): Promise<number> {
  return new Promise(requestAnimationFrame);
}

/** A text whose numbers keep to the line of their units. */
function tied(text: string): string {
  return text.replaceAll(/(\d) (?=[kKmd%°])/g, '$1\u00a0');
}

function before(): TemplateResult {
  return html`<section aria-labelledby="before" class="before">
    <h2 id="before" tabindex="-1">Before you use a number</h2>
    <ul>
      ${BEFORE.map(({ rule, why }) => html`<li><b>${rule}</b> ${tied(why)}</li>`)}
    </ul>
  </section>`;
}

function figures(): TemplateResult {
  return html`<section aria-labelledby="figures">
    <h2 id="figures" tabindex="-1">In pictures</h2>
    <figure>
      <pulse-figure></pulse-figure>
      <figcaption>
        <b id="figure-1" tabindex="-1">Figure 1.</b> One pulse of the shape FM-QCF, drawn by a formula and not recorded. Start and high
        frequency fall together here, and so do end and low frequency, because this call only falls. The bracket marks the
        flattest stretch; the characteristic frequency is at its end. Start and end lie where the
        envelope is 20 dB below its maximum: the line 6 dB above the noise lies lower and is not needed.
      </figcaption>
    </figure>
    <figure>
      <sequence-figure></sequence-figure>
      <figcaption>
        <b id="figure-2" tabindex="-1">Figure 2.</b> A sequence, drawn: search, approach, feeding buzz. The dotted pulse was not heard, so one
        interval is twice as long as its neighbours. Triangles mark the buzz’s first and last pulse.
      </figcaption>
    </figure>
  </section>`;
}

function terms({ terms: all }: Entry): TemplateResult | typeof nothing {
  return all
    ? html`<ul class="terms">
        ${all.map(
          ({ word, meaning }) => html`<li>
            ${isShape(word) ? glyph(word) : nothing}
            <span><b>${word}</b>: ${tied(meaning)}</span>
          </li>`,
        )}
      </ul>`
    : nothing;
}

function check(): TemplateResult {
  return html`<table>
      <caption>Errors in the project’s own check</caption>
      <thead>
        <tr>
          <th scope="col">Number</th>
          <th scope="col">Median error</th>
        </tr>
      </thead>
      <tbody>
        ${Object.values<Known>(KNOWN).map(
          ({ name, median, unit, but }) => html`<tr>
            <th scope="row">${name}</th>
            <td>${median} ${unit}${but === undefined ? nothing : html`<br /><span class="small">${but}</span>`}</td>
          </tr>`,
        )}
      </tbody>
    </table>
    <p>${tied(SOURCE)}</p>`;
}

function cautions(): TemplateResult {
  return html`<section aria-labelledby="cautions" class="cautions">
    <h2 id="cautions" tabindex="-1">Cautions</h2>
    ${CAUTIONS.map((text) => html`<p>${text}</p>`)}
  </section>`;
}

customElements.define('numbers-page', NumbersPage);

declare global {
  interface HTMLElementTagNameMap {
    'numbers-page': NumbersPage;
  }
}
