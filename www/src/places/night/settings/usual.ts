/** What the person says of nights, remembered from one card to the next. */

import type { NightSettings } from '../../../core/types.ts';

const KEY = 'dusklens-night';

/** Settings before the person says anything: local time is taken to be this computer's. */
export function usualSettings(): NightSettings {
  return {
    site: '',
    utc_offset_min: -new Date().getTimezoneOffset(),
    clock: { at_setup_s: 0, at_collection_s: undefined },
    name_pattern: undefined,
    position: undefined,
    timer: undefined,
    pass_min_pulses: 2,
    bin_min: 10,
    who: '',
    weather: '',
    remarks: '',
  };
}

/** What is the same at the next card: how the person counts, and who answers for it. */
type Lasting = Pick<NightSettings, 'pass_min_pulses' | 'bin_min' | 'who' | 'name_pattern'>;

/** Settings for a new card, with what lasts of those before. */
export function rememberedSettings(): NightSettings {
  const usual = usualSettings();
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? '{}') as Partial<Record<keyof Lasting, unknown>>;
    const { pass_min_pulses, bin_min, who, name_pattern } = kept;
    return {
      ...usual,
      pass_min_pulses: within(pass_min_pulses, 2, 100) ?? usual.pass_min_pulses,
      bin_min: within(bin_min, 1, 120) ?? usual.bin_min,
      who: typeof who === 'string' ? who : usual.who,
      name_pattern: typeof name_pattern === 'string' ? name_pattern : undefined,
    };
  } catch {
    return usual;
  }
}

/** Remembers what lasts of settings, where the browser lets us. */
export function remember({ pass_min_pulses, bin_min, who, name_pattern }: NightSettings): void {
  try {
    localStorage.setItem(KEY, JSON.stringify({ pass_min_pulses, bin_min, who, name_pattern }));
  } catch {
    // Then the next visit begins with the usual ones.
  }
}

const NIGHTS_KEY = 'dusklens-nights';
/** Settings of so many nights are remembered, those that were changed last. */
const MOST_NIGHTS = 40;

/** What the person once said of one of these nights; null where nothing is remembered. */
export function settingsOf(nights: readonly string[]): NightSettings | null {
  const kept = keptNights();
  const found = kept.find(([name]) => nights.includes(name));
  return found ? { ...usualSettings(), ...found[1] } : null;
}

/** Remembers what the person says of these nights. */
export function rememberOf(nights: readonly string[], settings: NightSettings): void {
  const others = keptNights().filter(([name]) => !nights.includes(name));
  const own = nights.map((name) => [name, settings] as const);
  try {
    localStorage.setItem(NIGHTS_KEY, JSON.stringify([...own, ...others].slice(0, MOST_NIGHTS)));
  } catch {
    // Then they are asked for again.
  }
}

/** What this page wrote itself, newest first; nothing where it cannot be read. */
function keptNights(): (readonly [string, Partial<NightSettings>])[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(NIGHTS_KEY) ?? '[]');
    return Array.isArray(kept) ? kept.filter((one) => Array.isArray(one) && typeof one[0] === 'string') : [];
  } catch {
    return [];
  }
}

function within(value: unknown, least: number, most: number): number | null {
  return typeof value === 'number' && Number.isInteger(value) && value >= least && value <= most ? value : null;
}
