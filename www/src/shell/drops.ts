/** What was let go over the page. It can be read only until the event is over. */
export type Dropped = (items: DataTransferItemList, files: readonly File[]) => void;

/**
 * Files dropped anywhere on the page. Without this, a file that misses its
 * target makes the browser leave the page.
 */
export class Drops {
  readonly #dropped: Dropped;
  readonly #hovering: (hovering: boolean) => void;

  constructor(dropped: Dropped, hovering: (hovering: boolean) => void) {
    this.#dropped = dropped;
    this.#hovering = hovering;
  }

  start(): void {
    addEventListener('dragover', this.#over);
    addEventListener('dragleave', this.#leave);
    addEventListener('drop', this.#drop);
  }

  stop(): void {
    removeEventListener('dragover', this.#over);
    removeEventListener('dragleave', this.#leave);
    removeEventListener('drop', this.#drop);
  }

  readonly #over = (event: DragEvent): void => {
    if (event.dataTransfer?.types.includes('Files')) {
      event.preventDefault();
      event.dataTransfer.dropEffect = 'copy';
      this.#hovering(true);
    }
  };

  readonly #leave = (event: DragEvent): void => {
    // Between elements of the page the drag goes on; outside, nothing is related.
    if (event.relatedTarget === null) {
      this.#hovering(false);
    }
  };

  readonly #drop = (event: DragEvent): void => {
    this.#hovering(false);
    const files = [...(event.dataTransfer?.files ?? [])];
    if (event.dataTransfer && files.length > 0) {
      event.preventDefault();
      this.#dropped(event.dataTransfer.items, files);
    }
  };
}

/** Whether a folder is among what was dropped. */
export function holdsFolder(items: DataTransferItemList): boolean {
  return [...items].some((item) => item.webkitGetAsEntry()?.isDirectory === true);
}
