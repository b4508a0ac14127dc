import { css, html, LitElement, nothing, svg, type PropertyValues, type TemplateResult } from 'lit';
import type { ColourMap } from '../../../core/client.ts';
import { frames } from '../../../frames.ts';
import type { HandEntry } from '../../../keep/hand.ts';
import { base } from '../../../parts/base-styles.ts';
import { isInked, type Theme } from '../../../themes.ts';
import { GROUPS, type Column } from '../columns.ts';
import type { Labelled } from '../labels/labelled.ts';
import type { CallPicture } from '../picture/call-picture.ts';
import { spanWords } from '../picture/ticks.ts';
import { fixed, inWords } from '../plus-minus.ts';
import type { Recording } from '../recordings.ts';
import type { Sound } from '../sounds.ts';
import { summarySentence } from '../summary-words.ts';
import { CAUTION, DOUBTS, SPREAD_MEANING, WINDOWS } from '../words.ts';
import { handSection, labelSection } from './remarks.ts';
import { snapshotOf, type Snapshot } from './snapshot.ts';

const COLUMNS: readonly Column[] = GROUPS.flatMap((group) => group.columns);
const PRINT = matchMedia('print');
/** How the lines of a theme become dark on white. */
const MARKS: Readonly<Record<Theme, string>> = { paper: 'marks', hut: 'marks light', night: 'marks light red' };

/**
 * What is printed of a recording: its picture, all its numbers, the settings and the cautions, in black on white. On the
 * screen it is not there; it is made when printing begins, however that was asked for.
 */
export class PrintRecord extends LitElement {
  static override properties = {
    recording: { attribute: false },
    sounds: { attribute: false },
    uncertainty: { attribute: false },
    theme: { attribute: false },
    map: { attribute: false },
    entries: { attribute: false },
    labelled: { attribute: false },
    picture: { attribute: false },
    snapshot: { state: true },
    printing: { state: true },
    about: { state: true },
  };

  declare recording: Recording;
  /** The pulses, and the doubted sounds where these are shown. */
  declare sounds: readonly Sound[];
  declare uncertainty: boolean;
  declare theme: Theme;
  declare map: ColourMap;
  /** What was done by hand. */
  declare entries: readonly HandEntry[];
  declare labelled: Labelled;
  /** Where the picture on the screen is found. */
  declare picture: () => CallPicture | null;
  declare snapshot: Snapshot | null;
  declare printing: boolean;
  /** What the core says of how was measured. */
  declare about: readonly string[];

  #asked: unknown = null;
  readonly #begin = (): void => {
    this.snapshot = snapshotOf(this.picture()) ?? this.snapshot;
    this.printing = true;
  };
  readonly #end = (): void => {
    this.printing = false;
    this.snapshot = null;
  };
  readonly #turn = (): void => {
    if (PRINT.matches) {
      this.#begin();
    } else {
      this.#end();
    }
  };

  constructor() {
    super();
    this.snapshot = null;
    this.printing = false;
    this.about = [];
  }

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('beforeprint', this.#begin);
    addEventListener('afterprint', this.#end);
    PRINT.addEventListener('change', this.#turn);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    removeEventListener('beforeprint', this.#begin);
    removeEventListener('afterprint', this.#end);
    PRINT.removeEventListener('change', this.#turn);
  }

  override updated(changed: PropertyValues<this>): void {
    const { opened, channel } = this.recording;
    // Printing cannot wait for the core: what it says is asked for beforehand.
    if (changed.has('recording') && opened && this.#asked !== opened) {
      this.#asked = opened;
      void frames.during(this.#ask(opened, channel));
    }
  }

  override render(): TemplateResult | typeof nothing {
    return this.printing ? this.#record() : nothing;
  }

  #record(): TemplateResult {
    const { recording, sounds } = this;
    const measured = recording.status.kind === 'measured';
    return html`<h1>${recording.name}</h1>
      <p>${measured ? summarySentence(recording.findings) : 'Not measured to its end.'}</p>
      ${this.#picture()} ${sounds.length > 0 ? this.#table() : nothing}
      ${labelSection(this.labelled)} ${handSection(recording, this.entries)}
      <h2>How it was made</h2>
      ${this.about.map((line) => html`<p class="small">${line}</p>`)}
      ${sounds.length > 0 ? html`<p class="small">${SPREAD_MEANING}</p>` : nothing}
      <p class="small">${CAUTION}</p>`;
  }

  #picture(): TemplateResult | typeof nothing {
    const { snapshot, recording } = this;
    if (!snapshot || !recording.extent) {
      return nothing;
    }
    const { width, height, left, below, sound, marks, axes } = snapshot;
    const { time, frequency } = recording.extent;
    const layer = (address: string, kind: string) => svg`<image
      class=${kind} x=${left} width=${width} height=${height} preserveAspectRatio="none" href=${address} />`;
    return html`<figure>
      <svg viewBox="-4 -4 ${width + left + 24} ${height + below + 8}" role="img" aria-label="Spectrogram">
        ${layer(sound, this.#kind())} ${layer(marks, MARKS[this.theme])}
        <rect x=${left} width=${width} height=${height} />
        <g class="axes">${axes}</g>
      </svg>
      <figcaption>
        Spectrogram, ${spanWords(time.from, time.to, 's', 4)}, ${spanWords(frequency.from, frequency.to, 'kHz', 1)}.
        ${this.#caption(snapshot)}
      </figcaption>
    </figure>`;
  }

  #caption({ caption }: Snapshot): string {
    if (!caption) {
      return '';
    }
    const levels = `White is ${fixed(caption.floorDb, 0)} dB re full scale, black ${fixed(caption.topDb, 0)} dB.`;
    return `${levels} ${WINDOWS[caption.window]} window, ${fixed(caption.windowMs, 2)} ms.`;
  }

  /** How a map becomes dark on white. */
  #kind(): string {
    if (isInked(this.map)) {
      return 'sound';
    }
    return this.map === 'night' ? 'sound red' : 'sound dark';
  }

  #table(): TemplateResult {
    const mixed = this.sounds.some(({ pulse }) => pulse.doubt);
    return html`<table>
      <thead>
        <tr>
          <td colspan=${mixed ? 2 : 1}></td>
          ${GROUPS.map(({ label, columns }) => html`<th scope="colgroup" colspan=${columns.length}>${label}</th>`)}
        </tr>
        <tr>
          <th scope="col">Pulse</th>
          ${mixed ? html`<th scope="col">Doubt</th>` : nothing}
          ${COLUMNS.map(({ label, words }) => html`<th scope="col" class=${words ? 'words' : ''}>${label}</th>`)}
        </tr>
      </thead>
      <tbody>
        ${this.sounds.map(
          ({ name, pulse }) => html`<tr>
            <th scope="row">${name}</th>
            ${mixed ? html`<td class="words">${pulse.doubt ? DOUBTS[pulse.doubt].label : ''}</td>` : nothing}
            ${COLUMNS.map(
              (column) => html`<td class=${column.words ? 'words' : ''}>${this.#cell(column, pulse)}</td>`,
            )}
          </tr>`,
        )}
      </tbody>
    </table>`;
  }

  #cell({ figure, text }: Column, pulse: Sound['pulse']): string {
    if (!figure || !this.uncertainty) {
      return text(pulse);
    }
    return inWords(figure.value(pulse), figure.spread(pulse), figure.decimals);
  }

  async #ask(opened: NonNullable<Recording['opened']>, channel: number): Promise<void> {
    try {
      this.about = await opened.aboutMeasuring(new AbortController().signal, channel);
    } catch {
      // A record without it is still one.
      this.about = [];
    }
  }

  static override styles = [
    base,
    css`
      :host {
        display: none;
      }
      @media print {
        :host {
          display: block;
          page: record;
        }
      }
      h2 {
        margin-top: 1rem;
        break-after: avoid;
      }
      p,
      ul {
        max-width: none;
        margin: 0.3rem 0;
      }
      figure {
        margin: 0.6rem 0;
        break-inside: avoid;
      }
      svg {
        display: block;
        width: 100%;
        max-height: 120mm;
      }
      rect {
        fill: none;
        stroke: #000;
      }
      .dark {
        filter: grayscale(1) invert(1);
      }
      /* Pure red has a fifth of white's light. */
      .red {
        filter: grayscale(1) brightness(4.7) invert(1);
      }
      .marks {
        filter: grayscale(1) contrast(1.6);
      }
      .light {
        filter: grayscale(1) invert(1);
      }
      .light.red {
        filter: grayscale(1) brightness(2.8) invert(1);
      }
      .axes text {
        font-size: 15px;
        font-variant-numeric: tabular-nums;
      }
      .axes line {
        stroke: #000;
        stroke-width: 1.5;
      }
      table {
        width: 100%;
        border-collapse: collapse;
        font-size: 6.4pt;
        line-height: 1.25;
        font-variant-numeric: tabular-nums;
      }
      tr {
        break-inside: avoid;
      }
      th,
      td {
        padding: 1pt 2.5pt;
        border-bottom: 0.5pt solid #999;
        text-align: right;
        vertical-align: bottom;
      }
      thead th {
        font-weight: 600;
      }
      .words,
      thead tr:first-child th {
        text-align: left;
      }
      tbody td:not(:last-child) {
        white-space: nowrap;
      }
    `,
  ];
}

customElements.define('print-record', PrintRecord);

declare global {
  interface HTMLElementTagNameMap {
    'print-record': PrintRecord;
  }
}
