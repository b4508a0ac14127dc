/** Where a link leads: a page that the receiver can open. */

const KEY = 'dusklens.page-address';

/** The address of this page, if it is one that others can open; else the one that the person gave before. */
export function pageAddress(): string {
  const { protocol, origin, pathname } = location;
  const own = protocol === 'https:' || protocol === 'http:' ? `${origin}${pathname}` : null;
  return own ?? remembered();
}

/** Whether this page itself has no address that others could open. */
export function isFromDisk(): boolean {
  return location.protocol === 'file:';
}

/** An address as a link needs it, or '' where it is none. */
export function tidied(text: string): string {
  try {
    const { protocol, origin, pathname } = new URL(text.trim());
    return protocol === 'https:' || protocol === 'http:' ? `${origin}${pathname}` : '';
  } catch {
    return '';
  }
}

export function remember(address: string): void {
  try {
    localStorage.setItem(KEY, address);
  } catch {
    // It is only asked for again.
  }
}

function remembered(): string {
  try {
    return tidied(localStorage.getItem(KEY) ?? '');
  } catch {
    return '';
  }
}
