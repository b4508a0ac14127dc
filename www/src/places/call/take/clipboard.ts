/** The clipboard, where the browser lends it to a page. */

const NO_CLIPBOARD = 'This browser does not let the page use the clipboard. Save it as a file instead.';

/** Puts something there that is still being made: the browser has to be asked while the click is fresh. */
export async function copy(type: 'image/png' | 'text/plain', content: Promise<BlobPart>): Promise<void> {
  if (typeof ClipboardItem === 'undefined' || !('clipboard' in navigator)) {
    // Whoever makes it is not left without somebody who waits.
    await content.catch(() => undefined);
    throw new Error(NO_CLIPBOARD);
  }
  const blob = content.then((part) => new Blob([part], { type }));
  try {
    await navigator.clipboard.write([new ClipboardItem({ [type]: blob })]);
  } catch (error) {
    // A failure of the making is told as itself.
    await blob;
    throw new Error(NO_CLIPBOARD, { cause: error });
  }
}
