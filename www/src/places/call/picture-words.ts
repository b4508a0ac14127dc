import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { base } from '../../parts/base-styles.ts';
import type { Extent } from './extent.ts';
import { spanWords } from './picture/ticks.ts';
import { fixed } from './plus-minus.ts';
import { countOf, type Recording } from './recordings.ts';
import { isDoubted, type Sound } from './sounds.ts';
import { doubtedCount, summarySentence } from './summary-words.ts';
import { DOUBTS } from './words.ts';

/** More sounds than these are not told one by one: nobody listens to that. */
const TOLD = 40;

/** What is to be seen in the picture, in words: for who does not see it, and for who wants to read it off. */
export class PictureWords extends LitElement {
  static override properties = {
    recording: { attribute: false },
    sounds: { attribute: false },
    isOpen: { state: true },
  };

  declare recording: Recording;
  /** The pulses, and the doubted sounds where these are shown. */
  declare sounds: readonly Sound[];
  declare isOpen: boolean;

  constructor() {
    super();
    this.isOpen = false;
  }

  override render(): TemplateResult | typeof nothing {
    const { extent } = this.recording;
    if (!extent) {
      return nothing;
    }
    const turned = (event: Event) => {
      this.isOpen = (event.currentTarget as HTMLDetailsElement).open;
    };
    return html`<details @toggle=${turned}>
      <summary>The picture in words</summary>
      ${this.isOpen ? this.#words(extent) : nothing}
    </details>`;
  }

  #words(extent: Extent): TemplateResult {
    const { time, frequency } = extent;
    const inView = this.sounds.filter(({ pulse }) => pulse.end_s >= time.from && pulse.start_s <= time.to);
    return html`<p>
        A spectrogram of ${spanWords(time.from, time.to, 's', 4)} and ${spanWords(frequency.from, frequency.to, 'kHz', 1)}:
        time runs to the right, frequency upwards.
      </p>
      <p>The whole recording: ${summarySentence(this.recording.findings)} ${this.#rows()}</p>
      <p>${this.#counted(inView)}</p>
      ${inView.length > 0
        ? html`<ol>
            ${inView.slice(0, TOLD).map((sound) => html`<li>${told(sound)}</li>`)}
          </ol>`
        : nothing}
      ${inView.length > TOLD
        ? html`<p>${inView.length - TOLD} more follow: come closer, or read them in the table.</p>`
        : nothing}`;
  }

  /** The sequences and feeding buzzes. */
  #rows(): string {
    const { sequences, buzzes } = this.recording.findings.summary;
    const rows = sequences.map(
      ({ number, pulses, start_s: start, end_s: end, peak_khz: peak, interval_ms: interval }) =>
        `Sequence ${number}: ${pulses} pulses, ${spanWords(start, end, 's', 2)}, peak ${fixed(peak, 1)} kHz${
          interval === null || interval === undefined ? '' : `, one every ${fixed(interval, 0)} ms`
        }.`,
    );
    const ends = buzzes.map(
      ({ sequence, start_s: start, end_s: end }) =>
        `A feeding buzz in sequence ${sequence}, ${spanWords(start, end, 's', 2)}.`,
    );
    return [...rows, ...ends].join(' ');
  }

  #counted(inView: readonly Sound[]): string {
    const pulses = inView.map(({ pulse }) => pulse).filter((pulse) => !isDoubted(pulse));
    const doubted = inView.length - pulses.length;
    return `In view: ${countOf(pulses)}${doubted > 0 ? ` and ${doubtedCount(doubted)}` : ''}${inView.length > 0 ? ', in order of time:' : '.'}`;
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
      }
      summary {
        width: fit-content;
        padding: 0.35rem 0;
        min-height: 1.5rem;
        cursor: pointer;
        color: var(--soft);
      }
      p {
        max-width: 62rem;
        margin: 0.3rem 0;
      }
      ol {
        margin: 0.3rem 0;
        padding: 0 1.2rem;
        list-style: none;
        columns: 24rem;
        column-gap: 2rem;
        font-variant-numeric: tabular-nums;
      }
    `,
  ];
}

/** A sound in a line. */
function told({ pulse, name }: Sound): string {
  const { start_s: start, peak_khz: peak, start_khz: from, end_khz: to, duration_ms: duration } = pulse;
  const what = pulse.doubt ? `Doubted sound ${name} (${DOUBTS[pulse.doubt].label})` : `Pulse ${name}`;
  return `${what} at ${fixed(start, 3)} s: peak ${fixed(peak, 1)} kHz, from ${fixed(from, 1)} to ${fixed(to, 1)} kHz in ${fixed(duration, 1)} ms.`;
}

customElements.define('picture-words', PictureWords);

declare global {
  interface HTMLElementTagNameMap {
    'picture-words': PictureWords;
  }
}
