import { isTheme, type Theme } from '../themes.ts';
import type { PlaceName } from './place.ts';

/** The place that an address leads to. Addresses without one are older than the places, and the Call place's. */
export function placeOf(fragment: string): PlaceName {
  return fieldsOf(fragment)['place'] === 'night' ? 'night' : 'call';
}

/** The theme of an address; null: it has none. */
export function themeOf(fragment: string): Theme | null {
  const theme = fieldsOf(fragment)['theme'] ?? null;
  return isTheme(theme) ? theme : null;
}

/** What an address says, name by name. */
export function fieldsOf(fragment: string): Readonly<Record<string, string | undefined>> {
  return Object.fromEntries(new URLSearchParams(fragment.replace(/^#/, '')));
}

/** The address of a place with what it says of itself in `fields`. */
export function placeFragment(place: PlaceName, fields: Readonly<Record<string, string>>, theme: Theme): string {
  return `#${new URLSearchParams({ place, ...fields, theme }).toString()}`;
}
