/** A call sheet: one file with the call, its picture, its numbers and its sound inside. */

import type { CallSheet, ColourMap, Core, ListeningSettings, MadeLink, Opened } from '../../../core/client.ts';
import { sentence } from '../../../sentence.ts';
import { kilohertz, seconds } from '../../../units.ts';
import { whole, type Extent } from '../extent.ts';
import { FILE_HZ, RUMBLE_KHZ } from '../hear/choice.ts';
import type { PictureLook } from '../picture/look.ts';
import { FIRST as FIRST_FIGURE, frameOf, styleOf } from '../take/choices.ts';
import type { Sound } from '../sounds.ts';
import { carriedWords } from './words.ts';

/** All that a sheet is made from. */
export interface SheetMatter {
  readonly core: Core;
  readonly opened: Opened;
  readonly channel: number;
  readonly sounds: readonly Sound[];
  readonly made: MadeLink;
  readonly look: PictureLook;
  readonly map: ColourMap;
  /** Where the link leads; '' where there is no page that others can open. */
  readonly address: string;
}

/** How much slower a sheet's sound is than life: what people are used to. */
const SLOWER = 10;
/** A sheet's figure is looked at on screens and printed on a sheet of A4. */
const FIGURE_MM = 170;
const FIGURE_DPI = 200;
/** Room around the calls: a share of their stretch, and at least so much. */
const ROOM_SHARE = 0.08;
const ROOM_LEAST_S = 0.006;
const ROOM_KHZ = 10;
/** Sound to either side of the calls, and in all, seconds of the recording: some seconds to half a minute of listening. */
export const AROUND_HEARD_S = 0.1;
const MOST_HEARD_S = 3;

/** The sheet as an HTML file. */
export async function sheetOf(signal: AbortSignal, matter: SheetMatter): Promise<string> {
  const { core, made, address } = matter;
  const fragment = made.fragment;
  const link = address === '' ? undefined : `${address}#${fragment}`;
  const figure = await figureOf(signal, matter);
  const listening = await soundOf(signal, matter);
  const method = await core.aboutMethod(signal);
  const sheet: CallSheet = {
    title: titleOf(matter),
    figure,
    pulses: made.pulses,
    labels: made.content.labels,
    note: made.content.note ?? '',
    facts: [...said(made), ...method],
    carried: sentence(carriedWords(made)),
    address: link,
    fragment,
    // A code that is too dense for a camera is none: the link is there all the same.
    qr: await core.qrCode(signal, link ?? fragment).catch(() => undefined),
    listening,
    slowness: SLOWER,
  };
  return core.callSheet(signal, sheet);
}

function titleOf({ made, sounds }: SheetMatter): string {
  const calls = sounds.length === 1 ? 'A call' : `${sounds.length} calls`;
  return made.content.file === undefined ? calls : `${calls} from ${made.content.file}`;
}

/** What the person ticked, as sentences. */
function said({ content }: MadeLink): string[] {
  const { start, recorder, temperature_c, place } = content;
  return [
    start && `The recording began ${start.local.replace('T', ' ')}.`,
    recorder && `Recorder: ${recorder}.`,
    temperature_c === undefined ? undefined : `Temperature ${temperature_c} °C.`,
    place && `Place: ${place.latitude_deg}, ${place.longitude_deg} (degrees north and east).`,
  ].filter((words) => words !== undefined);
}

function extentOf({ sounds, opened, look }: SheetMatter): Extent {
  const pulses = sounds.map(({ pulse }) => pulse);
  const [from, to] = [Math.min(...pulses.map(({ start_s }) => start_s)), Math.max(...pulses.map(({ end_s }) => end_s))];
  const room = Math.max((to - from) * ROOM_SHARE, ROOM_LEAST_S);
  const limits = whole(opened.facts, look.scale);
  const low = Math.min(...pulses.map(({ low_khz }) => low_khz)) - ROOM_KHZ;
  const high = Math.max(...pulses.map(({ high_khz }) => high_khz)) + ROOM_KHZ;
  return {
    time: {
      from: seconds(Math.max(from - room, limits.time.from)),
      to: seconds(Math.min(to + room, limits.time.to)),
    },
    frequency: {
      from: kilohertz(Math.max(low, limits.frequency.from)),
      to: kilohertz(Math.min(high, limits.frequency.to)),
    },
  };
}

function figureOf(signal: AbortSignal, matter: SheetMatter): Promise<string> {
  const { opened, channel, sounds, look, map } = matter;
  const choices = { ...FIRST_FIGURE, widthMm: FIGURE_MM, dpi: FIGURE_DPI };
  const frame = frameOf(choices, channel, extentOf(matter), look, false);
  const named = sounds.map(({ name, pulse }) => ({ name, pulse }));
  // What the recording says of itself is told below, as far as the person ticked it.
  const style = { ...styleOf(choices, map, look), source: false };
  return opened.figure(signal, frame, style, named, () => undefined);
}

/** The calls, made for listening, as base64. */
async function soundOf(signal: AbortSignal, matter: SheetMatter): Promise<string> {
  const { time } = extentOf(matter);
  const from = Math.max(0, time.from - AROUND_HEARD_S);
  const settings: ListeningSettings = {
    method: { kind: 'expansion', factor: SLOWER },
    start_s: from,
    end_s: Math.min(time.to + AROUND_HEARD_S, from + MOST_HEARD_S, matter.opened.facts.duration_s),
    looped: false,
    high_pass_khz: RUMBLE_KHZ,
    automatic_gain: true,
  };
  const file = await matter.opened.soundFile(signal, matter.channel, settings, FILE_HZ, () => undefined);
  const address = await new Promise<string>((resolve, reject) => {
    const reader = new FileReader();
    reader.addEventListener('load', () => resolve(String(reader.result)));
    reader.addEventListener('error', () => reject(new Error('The sound could not be put into the sheet.')));
    reader.readAsDataURL(file);
  });
  return address.slice(address.indexOf(',') + 1);
}
