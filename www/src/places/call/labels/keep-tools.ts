import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { frames } from '../../../frames.ts';
import { Unfit } from '../../../keep/check.ts';
import { MOST_BYTES, writeKeepFile } from '../../../keep/keep-file.ts';
import type { Label } from '../../../keep/label.ts';
import { LABEL_COLUMNS, labelTable } from '../../../keep/label-table.ts';
import { takeIn } from '../../../keep/take-in.ts';
import { base } from '../../../parts/base-styles.ts';
import { download, stem } from '../../../parts/download.ts';
import type { Recording } from '../recordings.ts';
import type { Session } from '../session.ts';
import { fileStyles } from './file-styles.ts';

/** The ways to give labels away, and to bring them in from elsewhere. */
export class KeepTools extends LitElement {
  static override properties = {
    session: { attribute: false },
    recording: { attribute: false },
    labels: { attribute: false },
    said: { state: true },
    failed: { state: true },
    working: { state: true },
  };

  declare session: Session;
  declare recording: Recording;
  declare labels: readonly Label[];
  declare said: string;
  /** What went wrong. */
  declare failed: string | null;
  declare working: boolean;

  constructor() {
    super();
    this.said = '';
    this.failed = null;
    this.working = false;
  }

  override render(): TemplateResult {
    const none = this.labels.length === 0;
    const act = (label: string, off: boolean, work: () => Promise<string>): TemplateResult =>
      html`<button ?disabled=${off || this.working} @click=${() => void frames.during(this.#do(work))}>${label}</button>`;
    return html`<section aria-label="Take labels along">
      <h3>This recording</h3>
      <div class="row">
        ${act('Save labels (CSV)', none, () => this.#table())}
        ${act('Download a copy with labels (WAV)', none || !this.recording.opened, () => this.#copy())}
      </div>
      <p class="small soft">
        The recording itself stays untouched. The copy carries the labels in its GUANO metadata: the words as “Species Manual ID”,
        where any reader of GUANO finds them, and all the rest under “Dusklens”. Everything else in it stays as it is, the place and
        the time of the recording too: think of who may know where the roost is before you hand it on.
      </p>
      <h3>Everything that is kept</h3>
      <div class="row">
        ${act('Save all labels (CSV)', false, () => this.#tableOfAll())} ${act('Save a keep file', false, () => this.#save())}
        <label class="file">
          Open a keep file
          <input type="file" accept=".json,application/json" ?disabled=${this.working} @change=${this.#chosen} />
        </label>
      </div>
      <p class="small soft">
        A keep file carries all that was decided about all recordings, and your list of words, to another browser or machine; the
        recordings themselves are not in it. What is opened is merged: of two forms of one label, the one that was changed last
        stays.
      </p>
      <details>
        <summary>What the columns of the CSV mean</summary>
        <dl>${LABEL_COLUMNS.map(({ name, meaning }) => html`<dt>${name}</dt><dd>${meaning}</dd>`)}</dl>
        <p class="small soft">
          A text that begins with =, +, - or @ gets an apostrophe before it, so that no spreadsheet runs it as a formula.
        </p>
      </details>
      <p aria-live="polite">${this.said}</p>
      ${this.failed === null ? nothing : html`<p role="alert" class="failed">${this.failed}</p>`}
    </section>`;
  }

  /** Does something that says in a sentence what came of it. */
  async #do(work: () => Promise<string>): Promise<void> {
    this.working = true;
    this.failed = null;
    this.said = '';
    try {
      this.said = await work();
    } catch (error) {
      const advice = error instanceof Unfit ? ' Nothing was changed here.' : '';
      this.failed = `${error instanceof Error ? error.message : String(error)}${advice}`;
    } finally {
      this.working = false;
    }
  }

  async #table(): Promise<string> {
    const { session, recording } = this;
    const identity = await session.keeping.identity(recording.id);
    const { present } = session.keeping.of(recording.id).history;
    if (identity) {
      const text = labelTable([{ ...identity, name: recording.name, remarks: present }], await session.core.version());
      download(`${stem(recording.name)}-labels.csv`, 'text/csv', text);
    }
    return 'The table of labels is saved.';
  }

  async #copy(): Promise<string> {
    const { recording, labels } = this;
    const copy = await recording.opened?.labelledCopy(new AbortController().signal, labels);
    if (!copy) {
      return '';
    }
    download(`${stem(recording.name)}-labelled.wav`, 'audio/wav', copy.file);
    return ['The copy is saved; the original is untouched.', ...copy.notices].join(' ');
  }

  async #tableOfAll(): Promise<string> {
    const { keeping, core } = this.session;
    const all = await keeping.all();
    download('labels.csv', 'text/csv', labelTable(all, await core.version()));
    return 'The table of all labels is saved.';
  }

  async #save(): Promise<string> {
    const { keeping, core } = this.session;
    const recordings = await keeping.all();
    const text = writeKeepFile({ own: keeping.own.value, recordings }, await core.version());
    download('dusklens-keep.json', 'application/json', text);
    return `The keep file is saved. It speaks of ${recordings.length} ${recordings.length === 1 ? 'recording' : 'recordings'}.`;
  }

  #chosen(event: Event): void {
    const input = event.currentTarget as HTMLInputElement;
    const [file] = input.files ?? [];
    if (file) {
      void frames.during(this.#do(() => this.#open(file)));
    }
    input.value = '';
  }

  async #open(file: File): Promise<string> {
    if (file.size > MOST_BYTES) {
      throw new Unfit(`${file.name} has ${Math.round(file.size / 2 ** 20)} MiB; a keep file has at most ${MOST_BYTES / 2 ** 20}.`);
    }
    return await takeIn(this.session.keeping, await file.text());
  }

  static override styles = [
    base,
    fileStyles,
    css`
      .row {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.6rem 1rem;
        margin-block: 0.5rem;
      }
      h3 {
        margin-top: 0.8rem;
      }
      details {
        margin-top: 0.6rem;
      }
      summary {
        min-height: 2rem;
        cursor: pointer;
      }
      dl {
        display: grid;
        grid-template-columns: auto minmax(0, 1fr);
        gap: 0.2rem 1rem;
        margin: 0.4rem 0;
      }
      dd {
        margin: 0;
      }
      .failed {
        padding: 0.5rem 0.8rem;
        background: var(--warn);
        border-left: 4px solid var(--pencil);
      }
    `,
  ];
}

customElements.define('keep-tools', KeepTools);

declare global {
  interface HTMLElementTagNameMap {
    'keep-tools': KeepTools;
  }
}
