/** What lies in the folder that the person opened, whichever way it was opened. */

/** A file that lies in a folder. */
export interface Found {
  /** From the chosen folder on, with `/` between folders. */
  readonly path: string;
  readonly file: () => Promise<File>;
}

/** Files as they are come upon, folder by folder. */
export type Finding = AsyncIterable<Found>;

/** What recordings are called; everything else on a card is passed over and counted. */
export function isRecording(path: string): boolean {
  const name = path.slice(path.lastIndexOf('/') + 1);
  // Some systems write a shadow of each file beside it, whose name begins with a dot.
  return /\.(?:wav|wave|bwf|rf64|bw64)$/i.test(name) && !name.startsWith('.');
}

/** Files of a folder input, which come with their paths. */
export async function* fromInput(files: readonly File[]): Finding {
  for (const file of files) {
    yield { path: file.webkitRelativePath || file.name, file: () => Promise.resolve(file) };
  }
}

/** Files below a folder that the browser gave a handle of. */
export async function* fromFolder(folder: FileSystemDirectoryHandle): Finding {
  yield* below(folder, `${folder.name}/`);
}

async function* below(folder: FileSystemDirectoryHandle, path: string): Finding {
  for await (const entry of folder.values()) {
    const own = `${path}${entry.name}`;
    if (entry instanceof FileSystemFileHandle) {
      yield { path: own, file: () => entry.getFile() };
    } else if (entry instanceof FileSystemDirectoryHandle) {
      yield* below(entry, `${own}/`);
    }
  }
}

/** Files and folders that were dropped. To be called while the drop's event lasts: the items are gone afterwards. */
export function fromDrop(items: DataTransferItemList): Finding {
  const entries = [...items].map((item) => item.webkitGetAsEntry()).filter((entry) => entry !== null);
  return dropped(entries);
}

async function* dropped(entries: readonly FileSystemEntry[]): Finding {
  for (const entry of entries) {
    if (isFile(entry)) {
      yield {
        path: entry.fullPath.replace(/^\//, ''),
        file: () => new Promise((resolve, reject) => entry.file(resolve, reject)),
      };
    } else if (isFolder(entry)) {
      yield* inside(entry);
    }
  }
}

// Not every browser has the classes of entries under these names.
function isFile(entry: FileSystemEntry): entry is FileSystemFileEntry {
  return entry.isFile;
}

function isFolder(entry: FileSystemEntry): entry is FileSystemDirectoryEntry {
  return entry.isDirectory;
}

async function* inside(folder: FileSystemDirectoryEntry): Finding {
  const reader = folder.createReader();
  for (;;) {
    // Browsers give a hundred or so at a time, and none when all were given.
    // oxlint-disable-next-line eslint/no-await-in-loop -- they follow each other
    const some = await new Promise<FileSystemEntry[]>((resolve, reject) => reader.readEntries(resolve, reject));
    if (some.length === 0) {
      return;
    }
    yield* dropped(some);
  }
}
