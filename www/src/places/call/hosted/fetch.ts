import { Problem } from '../../../core/problem.ts';
import type { Place } from './path.ts';

/** What of a file is there by now, bytes. */
export interface Arrived {
  readonly bytes: number;
  /** Its size; null: the site does not say. */
  readonly of: number | null;
}

/** The largest file that is fetched: it has to lie in the browser's memory, which a file from disk has not. */
export const MOST_BYTES = 500_000_000;

const GONE = new Set([404, 410]);
const SAVE_IT = 'Save it to this computer and open it from there: files from disk may be larger.';

/**
 * A recording beside the page as a file, as if the person had dropped it.
 *
 * @throws Problem for what a person can be told of; the signal's reason once it is aborted
 */
export async function fetchBeside(
  signal: AbortSignal,
  { url, name }: Place,
  tell: (arrived: Arrived) => void,
): Promise<File> {
  const response = await answerFrom(signal, url, name);
  const size = sizeOf(response);
  if (size !== null && size > MOST_BYTES) {
    throw tooLarge(name);
  }
  const chunks = await read(signal, response, name, (bytes) => tell({ bytes, of: size }));
  return new File(chunks, name, { type: 'audio/wav' });
}

async function answerFrom(signal: AbortSignal, url: URL, name: string): Promise<Response> {
  const response = await fetch(url, { signal, mode: 'same-origin' }).catch(() => {
    signal.throwIfAborted();
    throw new Problem(
      `${name} could not be fetched: the site cannot be reached, or leads elsewhere.`,
      'Check the network and load the page again. Files on this computer can still be opened.',
    );
  });
  if (GONE.has(response.status)) {
    throw new Problem(
      `There is no file ${decoded(url)} on this site.`,
      'Check the link, capital letters too, or ask who gave it to you.',
    );
  }
  if (!response.ok) {
    throw new Problem(
      `The site does not hand out ${name} (it answers ${response.status}).`,
      'Ask who keeps the site, or load the page again later.',
    );
  }
  return response;
}

/** The size that a site promises. Of a compressed answer it says nothing about the file. */
function sizeOf({ headers }: Response): number | null {
  const length = headers.get('Content-Length');
  return length === null || headers.has('Content-Encoding') ? null : Number(length);
}

async function read(
  signal: AbortSignal,
  response: Response,
  name: string,
  tell: (bytes: number) => void,
): Promise<Uint8Array<ArrayBuffer>[]> {
  const chunks: Uint8Array<ArrayBuffer>[] = [];
  let bytes = 0;
  const reader = response.body?.getReader();
  for (;;) {
    // oxlint-disable-next-line eslint/no-await-in-loop -- one piece comes after the other
    const piece = await reader?.read().catch(() => {
      signal.throwIfAborted();
      throw new Problem(
        `The connection broke off while ${name} was fetched, after ${megabytes(bytes)} MB.`,
        'Load the page again to try once more.',
      );
    });
    if (!piece?.value) {
      return chunks;
    }
    bytes += piece.value.length;
    if (bytes > MOST_BYTES) {
      void reader?.cancel();
      throw tooLarge(name);
    }
    chunks.push(piece.value);
    tell(bytes);
  }
}

function tooLarge(name: string): Problem {
  return new Problem(`${name} is larger than the ${megabytes(MOST_BYTES)} MB that the page fetches from a site.`, SAVE_IT);
}

/** The path of an address as a person would write it. */
function decoded({ pathname }: URL): string {
  try {
    return decodeURIComponent(pathname);
  } catch {
    return pathname;
  }
}

/** Bytes in MB with as many decimals as help: "0.7", "34". */
export function megabytes(bytes: number): string {
  const value = bytes / 1e6;
  return value.toFixed(value < 10 ? 1 : 0);
}
