import type { ColourMap } from './core/client.ts';

export type Theme = 'paper' | 'hut' | 'night';

export interface ThemeFacts {
  readonly label: string;
  readonly purpose: string;
  /** The colour map that a picture has in it unless the person chose another. */
  readonly map: ColourMap;
}

export const THEMES: Readonly<Record<Theme, ThemeFacts>> = {
  paper: { label: 'Paper', purpose: 'ink on paper, for daylight', map: 'ink' },
  hut: { label: 'Hut', purpose: 'dark, for the evening indoors', map: 'magma' },
  night: {
    // Not "Night", which is a place of the page; its name in addresses is older.
    label: 'Field',
    purpose: 'red on black, spares night vision outdoors',
    map: 'night',
  },
};

const KEY = 'dusklens.theme';

export function isTheme(text: string | null): text is Theme {
  return text !== null && Object.hasOwn(THEMES, text);
}

/** The theme of last time, else the one that the machine's setting suggests. */
export function startingTheme(): Theme {
  const kept = recall();
  if (isTheme(kept)) {
    return kept;
  }
  return matchMedia('(prefers-color-scheme: dark)').matches ? 'hut' : 'paper';
}

/** Puts a theme on the whole page. */
export function wear(theme: Theme): void {
  document.documentElement.dataset['theme'] = theme;
  // An installed page has a frame of its own, which must not dazzle either.
  const page = getComputedStyle(document.documentElement).getPropertyValue('--page').trim();
  document.querySelector('meta[name="theme-color"]')?.setAttribute('content', page);
}

/** Keeps the choice for next time, where the browser allows it. */
export function keep(theme: Theme): void {
  try {
    localStorage.setItem(KEY, theme);
  } catch {
    // A page opened from disk or a private window may have no storage; the
    // choice then lasts as long as the page.
  }
}

function recall(): string | null {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
}

/** Every colour map, in the words of the page. */
export const MAPS: Readonly<Record<ColourMap, string>> = {
  ink: 'Ink, white to black',
  paper: 'Embers on paper, pale to dark',
  grey: 'Grey, black to white',
  magma: 'Magma, black to pale yellow',
  viridis: 'Viridis, violet to yellow',
  batlow: 'Batlow, blue to pale pink',
  night: 'Red, black to red',
};

export function isMap(text: string | null): text is ColourMap {
  return text !== null && Object.hasOwn(MAPS, text);
}

/** Maps whose silence is white: on the paper theme it becomes the paper itself. */
export function isInked(map: ColourMap): boolean {
  return map === 'ink' || map === 'paper';
}
