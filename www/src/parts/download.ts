/** A file's name without its ending. */
export function stem(name: string): string {
  return name.replace(/\.[^.]*$/, '');
}

/** Hands a text, or other content, to the person as a file; nothing is sent anywhere. */
export function download(name: string, type: string, content: BlobPart): void {
  const url = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The browser has taken hold of the blob by the next task.
  setTimeout(() => URL.revokeObjectURL(url));
}
