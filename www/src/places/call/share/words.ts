import type { MadeLink } from '../../../core/client.ts';
import { fixed } from '../plus-minus.ts';

/**
 * What takes how many characters: a text message in one part (3GPP TS 23.038: 160), common practice of chat programs and
 * of browsers' address fields for the rest.
 */
const ROOMS: readonly (readonly [most: number, words: string])[] = [
  [160, 'It fits into a text message.'],
  [2000, 'It fits into a message of nearly every chat program, and into any e-mail.'],
  [4000, 'It fits into a message of many chat programs, and into any e-mail.'],
  [30_000, 'It fits into an e-mail; many chat programs would cut it.'],
];

export const PRIVACY =
  'What stands after the # stays in the browser: no server gets it when the link is opened. But it does stand in the message that you paste it into, for everyone who can read that.';

export const PLACE_CAUTION =
  'A roost that is found can be harmed, and so can a protected site. Send the place only to people who need it, as your licence and the law allow.';

/** How long a link is, and what takes that. */
export function sizeWords(chars: number): string {
  const room = ROOMS.find(([most]) => chars <= most)?.[1] ?? 'That is too long for most programs: give a call sheet instead.';
  return `${chars.toLocaleString('en-GB')} characters. ${room}`;
}

/** What the call loses on its way. */
export function costWords({ cost }: MadeLink): string {
  const found = cost.pulses - cost.lost;
  if (cost.lost > 0) {
    return `Of ${cost.pulses} pulses a receiver will find only ${found} again. Send fewer, or the recording itself.`;
  }
  const all = cost.pulses === 1 ? 'the pulse' : `all ${cost.pulses} pulses`;
  return `Measured again from the link: ${all} found, peak frequency within ${fixed(cost.peak_khz, 2)} kHz of yours, duration within ${fixed(cost.duration_ms, 2)} ms, level within ${fixed(cost.level_db, 1)} dB.`;
}

/** What of the sound travels. */
export function carriedWords({ low_khz, high_khz, carried_s, start_s, end_s }: MadeLink): string {
  const [carried, all] = [carried_s * 1000, (end_s - start_s) * 1000];
  return `the sound: ${fixed(carried, 1)} ms around the calls, from ${fixed(low_khz, 0)} to ${fixed(high_khz, 0)} kHz; the hiss in and around them (${fixed(all, 0)} ms in all) is drawn anew at the level that it had`;
}
