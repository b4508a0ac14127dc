import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { frames } from '../../../frames.ts';
import { base } from '../../../parts/base-styles.ts';
import { download } from '../../../parts/download.ts';
import { watch } from '../../../store.ts';
import { wantedOf, type Narrowing } from '../files/narrowing.ts';
import { chosenNights, type NightSession } from '../night-session.ts';
import { counted } from '../words.ts';
import { zipped, zipStream, type Part } from './zip.ts';

/** Browsers that can write to a place the person chooses. */
interface WithPickers {
  showDirectoryPicker?: (options: { mode: 'readwrite'; id: string }) => Promise<FileSystemDirectoryHandle>;
  showSaveFilePicker?: (options: { suggestedName: string }) => Promise<FileSystemFileHandle>;
}

/**
 * The files of the list, as it is narrowed on the leaf “Files”, taken along: as a list of paths, copied into a folder, or
 * in an archive. The card is only ever read.
 */
export class TakeFiles extends LitElement {
  static override properties = {
    session: { attribute: false },
    narrowing: { attribute: false },
    count: { state: true },
    labelled: { state: true },
    done: { state: true },
    said: { state: true },
  };

  declare session: NightSession;
  declare narrowing: Narrowing;
  /** How many files the list has; null: not known yet. */
  declare count: number | null;
  /** Whether copies carry the labels in their metadata. */
  declare labelled: boolean;
  /** How many of the files are copied; null: nothing is under way. */
  declare done: number | null;
  declare said: string;

  #asked = '';
  #abort = new AbortController();

  constructor() {
    super();
    this.count = null;
    this.labelled = true;
    this.done = null;
    this.said = '';
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('session')) {
      watch(this, this.session.store);
    }
    const asked = `${this.session.store.value.edition} ${JSON.stringify(this.#wanted())}`;
    if (asked !== this.#asked) {
      this.#asked = asked;
      void frames.during(this.#ask());
    }
  }

  override render(): TemplateResult {
    const { showDirectoryPicker } = window as WithPickers;
    const isOff = this.done !== null || (this.count ?? 0) === 0;
    return html`<section aria-labelledby="take">
      <h2 id="take">The files themselves</h2>
      <p>
        ${this.count === null ? 'Counting …' : counted(this.count, 'file')}, as the list on the leaf “Files” is narrowed down now. They are
        copied; the card stays as it is.
      </p>
      <label><input
        type="checkbox"
        .checked=${this.labelled}
        @change=${(event: Event) => {
          this.labelled = (event.target as HTMLInputElement).checked;
        }}
      /> Write labels into the copies (GUANO metadata)</label>
      <p class="line">
        <button ?disabled=${isOff} @click=${() => this.#do(() => this.#list())}>Save a list of paths</button>
        ${showDirectoryPicker
          ? html`<button ?disabled=${isOff} @click=${() => this.#do(() => this.#folder())}>Copy into a folder …</button>`
          : nothing}
        <button ?disabled=${isOff} @click=${() => this.#do(() => this.#zip())}>Save as ZIP</button>
        ${this.done === null
          ? nothing
          : html`<progress aria-label="Files copied" max=${this.count ?? 1} .value=${this.done}></progress>
              <button @click=${() => this.#abort.abort(new DOMException('Stopped', 'AbortError'))}>Stop</button>`}
      </p>
      <p role="status">${this.said}</p>
    </section>`;
  }

  #wanted() {
    return wantedOf(this.narrowing, chosenNights(this.session.store.value).map(({ key }) => key));
  }

  async #ask(): Promise<void> {
    this.count = (await this.#paths()).length;
  }

  async #paths(): Promise<readonly string[]> {
    return await (await this.session.book()).paths(this.#wanted());
  }

  #do(work: () => Promise<string>): void {
    void frames.during(this.#working(work));
  }

  async #working(work: () => Promise<string>): Promise<void> {
    this.#abort = new AbortController();
    this.said = '';
    try {
      this.said = await work();
    } catch (error) {
      const isStopped = error instanceof DOMException && error.name === 'AbortError';
      this.said = isStopped
        ? 'Stopped. What was copied by then stays where it is.'
        : `It could not be done: ${error instanceof Error ? error.message : String(error)}`;
    } finally {
      this.done = null;
    }
  }

  async #list(): Promise<string> {
    const paths = await this.#paths();
    download('files.txt', 'text/plain', paths.map((path) => `${path}\n`).join(''));
    return `Saved a list of ${counted(paths.length, 'file')}.`;
  }

  async #folder(): Promise<string> {
    const folder = await (window as WithPickers).showDirectoryPicker?.({ mode: 'readwrite', id: 'copies' });
    if (!folder) {
      return '';
    }
    let copied = 0;
    let there = 0;
    for await (const { name, content } of this.#parts()) {
      const target = await folderOf(folder, name);
      const isNew = await writeNew(target.folder, target.name, content);
      copied += Number(isNew);
      there += Number(!isNew);
    }
    const kept = there > 0 ? ` ${counted(there, 'file')} of the same name were there and stay as they are.` : '';
    return `Copied ${counted(copied, 'file')}.${kept}`;
  }

  async #zip(): Promise<string> {
    const { showSaveFilePicker } = window as WithPickers;
    if (showSaveFilePicker) {
      const file = await showSaveFilePicker.call(window, { suggestedName: 'files.zip' });
      await zipStream(this.#parts()).pipeTo(await file.createWritable(), { signal: this.#abort.signal });
    } else {
      download('files.zip', 'application/zip', await zipped(this.#parts()));
    }
    return 'Saved the archive.';
  }

  /** The files one by one: only one is read at a time. */
  async *#parts(): AsyncGenerator<Part> {
    const { signal } = this.#abort;
    const { run } = this.session.store.value;
    this.done = 0;
    for (const path of await this.#paths()) {
      signal.throwIfAborted();
      // oxlint-disable-next-line eslint/no-await-in-loop -- one at a time
      const file = (await run?.file(path)) ?? null;
      if (file) {
        // oxlint-disable-next-line eslint/no-await-in-loop -- one at a time
        yield { name: path, content: this.labelled ? await this.session.labelledCopy(signal, path, file) : file };
      }
      this.done += 1;
    }
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
      }
      section {
        display: grid;
        gap: 0.6rem;
      }
      .line {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.5rem 0.8rem;
      }
    `,
  ];
}

/** The folder that a path leads to below another, made where it is missing, and the name in it. */
async function folderOf(
  root: FileSystemDirectoryHandle,
  path: string,
): Promise<{ folder: FileSystemDirectoryHandle; name: string }> {
  const parts = path.split('/');
  const name = parts.pop() ?? path;
  let folder = root;
  for (const part of parts) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- each lies in the one before
    folder = await folder.getDirectoryHandle(part, { create: true });
  }
  return { folder, name };
}

/** Writes a file unless there is one of that name: it could be a recording. */
async function writeNew(folder: FileSystemDirectoryHandle, name: string, content: string | Blob): Promise<boolean> {
  try {
    await folder.getFileHandle(name);
    return false;
  } catch (error) {
    if (!(error instanceof DOMException && error.name === 'NotFoundError')) {
      throw error;
    }
  }
  const file = await folder.getFileHandle(name, { create: true });
  const writable = await file.createWritable();
  await writable.write(content);
  await writable.close();
  return true;
}

customElements.define('take-files', TakeFiles);

declare global {
  interface HTMLElementTagNameMap {
    'take-files': TakeFiles;
  }
}
