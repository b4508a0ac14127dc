/** Archives, put together by the browser. */

import { downloadZip } from 'client-zip';

/** A file of an archive; `content` may be read only when its turn comes. */
export interface Part {
  readonly name: string;
  readonly content: string | Blob;
}

/** Files as they come, for archives that are written to a disk while they are made. */
export type Parts = Iterable<Part> | AsyncIterable<Part>;

/** An archive as a stream. */
export function zipStream(parts: Parts): ReadableStream<Uint8Array<ArrayBuffer>> {
  const { body } = downloadZip(inputs(parts));
  if (!body) {
    throw new Error('This browser cannot put archives together.');
  }
  return body;
}

/** An archive in one piece. */
export async function zipped(parts: Parts): Promise<Blob> {
  return await new Response(zipStream(parts)).blob();
}

async function* inputs(parts: Parts): AsyncGenerator<{ name: string; input: string | Blob }> {
  for await (const { name, content } of parts) {
    yield { name, input: content };
  }
}
