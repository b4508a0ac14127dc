/** A card in the browser's own file system that gives its files only as fast as a test lets it. */

import type { Page } from '@playwright/test';

declare global {
  interface Window {
    /** Lets so many more files be read. */
    letThrough: (count: number) => void;
    /** Names of the files that were asked for to be examined since the folder was opened. */
    examined: () => string[];
  }
}

/** Files that are examined side by side, whatever machine the test runs on. */
export const SIDE_BY_SIDE = 2;

/**
 * Has the picker of folders give the folder `card`, whose files wait to be let through when they are read to be examined.
 * A file is asked for twice: first for its size and date, then for its content.
 */
export async function gate(page: Page): Promise<void> {
  await page.addInitScript((sideBySide) => {
    Object.defineProperty(Navigator.prototype, 'hardwareConcurrency', { get: () => sideBySide });
    let left = 0;
    let known = new Set<string>();
    let examined: string[] = [];
    const waiting: (() => void)[] = [];
    const open = (): void => {
      while (left > 0 && waiting.length > 0) {
        left -= 1;
        waiting.shift()?.();
      }
    };
    const getFile = FileSystemFileHandle.prototype.getFile;
    FileSystemFileHandle.prototype.getFile = async function gated(this: FileSystemFileHandle): Promise<File> {
      if (known.has(this.name)) {
        examined.push(this.name);
        await new Promise<void>((resolve) => {
          waiting.push(resolve);
          open();
        });
      }
      known.add(this.name);
      return await getFile.call(this);
    };
    window.letThrough = (count) => {
      left += count;
      open();
    };
    window.examined = () => examined;
    Object.assign(window, {
      showDirectoryPicker: async () => {
        left = 0;
        known = new Set();
        examined = [];
        return await (await navigator.storage.getDirectory()).getDirectoryHandle('card');
      },
    });
  }, SIDE_BY_SIDE);
}

/** Copies a folder's files into the folder `card` of the browser's own file system. */
export async function fillIn(page: Page, folder: string): Promise<void> {
  await page.evaluate(() => {
    const input = document.createElement('input');
    Object.assign(input, { type: 'file', webkitdirectory: true, id: 'fill-in' });
    document.body.append(input);
  });
  await page.locator('#fill-in').setInputFiles(folder);
  await page.locator('#fill-in').evaluate(async (input) => {
    const root = await navigator.storage.getDirectory();
    for (const file of (input as HTMLInputElement).files ?? []) {
      const parts = file.webkitRelativePath.split('/');
      const name = parts.pop() ?? '';
      let into = root;
      for (const part of parts) {
        // oxlint-disable-next-line eslint/no-await-in-loop -- each lies in the one before
        into = await into.getDirectoryHandle(part, { create: true });
      }
      // oxlint-disable-next-line eslint/no-await-in-loop -- one after the other
      const writable = await (await into.getFileHandle(name, { create: true })).createWritable();
      // oxlint-disable-next-line eslint/no-await-in-loop -- one after the other
      await writable.write(file);
      // oxlint-disable-next-line eslint/no-await-in-loop -- one after the other
      await writable.close();
    }
    input.remove();
  });
}
