/**
 * Files dropped anywhere on the page. Without this, a file that misses its
 * target makes the browser leave the page.
 */
export class Drops {
  readonly #dropped: (files: readonly File[]) => void;
  readonly #hovering: (hovering: boolean) => void;

  constructor(
    dropped: (files: readonly File[]) => void,
    hovering: (hovering: boolean) => void,
  ) {
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
    const files = [...(event.dataTransfer?.files ?? [])];
    if (files.length > 0) {
      event.preventDefault();
    }
    this.#hovering(false);
    this.#dropped(files);
  };
}
