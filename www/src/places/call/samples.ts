import list from 'virtual:sample-calls';

/** A recording that comes with the page. */
export interface Sample {
  readonly file: string;
  readonly title: string;
  readonly sentence: string;
  /** A file beside the page, or a `data:` address in the page that is one file. */
  readonly url: string;
}

export const SAMPLES: readonly Sample[] = list;

/** A sample as a file, as if the person had dropped it. */
export async function fetched(sample: Sample): Promise<File> {
  const { file, url } = sample;
  const type = 'audio/wav';
  if (url.startsWith('data:')) {
    return new File([decoded(url)], file, { type });
  }
  const missing = `The sample ${file} does not lie beside the page. Copy the folder of the page as a whole.`;
  const answer = await fetch(url).catch(() => null);
  if (!answer?.ok) {
    throw new Error(missing);
  }
  return new File([await answer.blob()], file, { type });
}

/** The page that is one file may fetch nothing, not even from itself. */
function decoded(url: string): Uint8Array<ArrayBuffer> {
  const text = atob(url.slice(url.indexOf(',') + 1));
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0));
}
