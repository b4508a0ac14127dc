import { Problem } from '../../../core/problem.ts';
import { IS_ONE_FILE } from '../../../shape.ts';

/** A recording that lies beside the page. */
export interface Place {
  readonly url: URL;
  /** The last part of its path, as a person wrote it. */
  readonly name: string;
}

const BESIDE = 'Put the recording beside the page, on the same site, and let the link name its path, such as recording=calls/night1.wav.';
const BY_HAND = 'If you have the file, drop it on the page instead.';

/**
 * Where a link's path leads, seen from the page.
 *
 * @throws Problem where that is no file of the same site
 */
export function placeOf(path: string, page: Location | URL): Place {
  if (IS_ONE_FILE || !isWeb(page.protocol)) {
    throw new Problem(
      `The link asks for the recording ${path}, which only the page on a site can fetch: this copy may fetch nothing.`,
      BY_HAND,
    );
  }
  const url = resolved(path, page);
  if (!isWeb(url.protocol)) {
    throw new Problem(`The link asks for a recording at ${path}, which is no address of a site.`, BESIDE);
  }
  if (url.origin !== page.origin || url.username !== '' || url.password !== '') {
    throw new Problem(
      `The link asks for a recording at ${path}, which is not on the same site as this page. Nothing is fetched from elsewhere.`,
      BESIDE,
    );
  }
  const name = nameOf(url);
  if (name === '') {
    throw new Problem(`The link asks for a recording at ${path}, which is a folder and no file.`, BESIDE);
  }
  return { url, name };
}

function isWeb(protocol: string): boolean {
  return protocol === 'http:' || protocol === 'https:';
}

function resolved(path: string, page: Location | URL): URL {
  try {
    // A path within a fragment has no fragment of its own: the sign is part of a name, as is a lone %.
    return new URL(path.replaceAll(/%(?![\da-f]{2})/gi, '%25').replaceAll('#', '%23'), page.href);
  } catch {
    throw new Problem(`The link asks for a recording at ${path}, which is no address.`, BESIDE);
  }
}

function nameOf(url: URL): string {
  const last = url.pathname.split('/').at(-1) ?? '';
  try {
    return decodeURIComponent(last).split('/').at(-1) ?? '';
  } catch {
    return last;
  }
}
