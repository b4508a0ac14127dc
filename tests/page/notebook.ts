import { expect, type Locator, type Page } from '@playwright/test';

/** A file as a test hands it to the page. */
export interface TestFile {
  readonly name: string;
  readonly mimeType: string;
  readonly buffer: Buffer;
}

/** The page as a person sees it, and what it must never do. */
export class Notebook {
  readonly page: Page;
  /** Errors and warnings in the console, and errors that nobody caught. */
  readonly complaints: string[] = [];
  /** Every address that was asked for. */
  readonly requests: string[] = [];
  readonly picture: Locator;
  readonly rows: Locator;
  readonly selectedRow: Locator;
  readonly list: Locator;
  readonly state: Locator;

  private constructor(page: Page) {
    this.page = page;
    page.on('pageerror', (error) => this.complaints.push(error.message));
    page.on('console', (message) => {
      const isOfTest = message.text().includes('Service Worker registration blocked by Playwright');
      if (!isOfTest && (message.type() === 'error' || message.type() === 'warning')) {
        this.complaints.push(message.text());
      }
    });
    page.on('request', (request) => this.requests.push(request.url()));
    this.picture = page.getByRole('application', { name: 'Spectrogram' });
    this.rows = page.locator('pulse-table tbody tr[data-index]');
    this.selectedRow = page.locator('pulse-table tr[aria-selected="true"]');
    this.list = page.locator('recording-list');
    this.state = page.locator('recording-head');
  }

  static async open(page: Page, address: string, fragment = '', { rehearsed = false } = {}): Promise<Notebook> {
    const notebook = new Notebook(page);
    // How it goes with a rehearsal, `opens.spec.ts` and the benches tell.
    if (!rehearsed) {
      await page.addInitScript(() => Object.assign(globalThis, { dusklensUnrehearsed: true }));
    }
    await page.goto(address + fragment);
    await notebook.idle();
    return notebook;
  }

  /** Waits until the page says that nothing is still to come. */
  async idle(): Promise<void> {
    await this.page.waitForFunction(() => document.documentElement.dataset['idle'] === 'true');
  }

  async trySample(title: string): Promise<void> {
    await this.page.getByRole('button', { name: title }).click();
    await expect(this.rows.first()).toBeVisible();
    await this.idle();
  }

  /** Chooses files through the browser's own dialogue. */
  async choose(...files: TestFile[]): Promise<void> {
    await this.page.getByLabel('Choose files').setInputFiles(files);
    await this.idle();
  }

  /** Lets go of files over the page, as a mouse does. */
  async drop(...files: TestFile[]): Promise<void> {
    const carried = files.map((file) => ({
      name: file.name,
      type: file.mimeType,
      text: file.buffer.toString('base64'),
    }));
    await this.page.evaluate((all) => {
      const transfer = new DataTransfer();
      for (const { name, type, text } of all) {
        const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
        transfer.items.add(new File([bytes], name, { type }));
      }
      for (const kind of ['dragenter', 'dragover', 'drop']) {
        const details = { dataTransfer: transfer, bubbles: true, cancelable: true };
        document.body.dispatchEvent(new DragEvent(kind, details));
      }
    }, carried);
    await this.idle();
  }

  /** Lets go of files or folders of this machine over the page. */
  async dropPaths(...files: string[]): Promise<void> {
    const session = await this.page.context().newCDPSession(this.page);
    for (const type of ['dragEnter', 'dragOver', 'drop'] as const) {
      const data = { items: [], files, dragOperationsMask: 1 };
      // oxlint-disable-next-line eslint/no-await-in-loop -- one after the other
      await session.send('Input.dispatchDragEvent', { type, x: 200, y: 200, data });
    }
    await this.idle();
  }

  /** The view that the address speaks of. */
  view(): { t: [number, number]; f: [number, number] } {
    const fields = new URLSearchParams(new URL(this.page.url()).hash.slice(1));
    const pair = (key: string): [number, number] => {
      const [from, to] = (fields.get(key) ?? '').split('-').map(Number);
      return [from ?? Number.NaN, to ?? Number.NaN];
    };
    return { t: pair('t'), f: pair('f') };
  }

  /** How many different colours the picture has: a blank one has a single one. */
  async colours(): Promise<number> {
    await this.idle();
    return this.page.locator('call-picture canvas.sound').evaluate((canvas) => {
      const { width, height } = canvas as HTMLCanvasElement;
      const context = (canvas as HTMLCanvasElement).getContext('2d');
      const data = context?.getImageData(0, 0, width, height).data ?? [];
      const seen = new Set<string>();
      for (let at = 0; at < data.length; at += 4) {
        seen.add(`${data[at]},${data[at + 1]},${data[at + 2]},${data[at + 3]}`);
      }
      return seen.size;
    });
  }

  /** Where a pulse lies in the picture, page pixels, from the table and the address alone. */
  async placeOf(row: number): Promise<{ x: number; y: number }> {
    const cells = await this.rows.nth(row).locator('td').allInnerTexts();
    // An uncertainty may follow the number.
    const [start, end, , , peak] = cells.map(Number.parseFloat);
    const box = await this.picture.boundingBox();
    if (start === undefined || end === undefined || peak === undefined || box === null) {
      throw new Error('there is no such pulse in sight');
    }
    const { t, f } = this.view();
    return {
      x: box.x + (((start + end) / 2 - t[0]) / (t[1] - t[0])) * box.width,
      y: box.y + ((f[1] - peak) / (f[1] - f[0])) * box.height,
    };
  }
}
