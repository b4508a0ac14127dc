/** What a person chooses of a figure, and the order to the core that follows from it. */

import type { Span } from '../../../axis.ts';
import type { ColourMap, FigureFrame, FigureSound, FigureStyle, Pulse } from '../../../core/client.ts';
import type { Extent } from '../extent.ts';
import { renderingOf, type PictureLook } from '../picture/look.ts';
import type { Sound } from '../sounds.ts';

/** What a figure shows. */
export type What = 'view' | 'pulse' | 'whole';
/** What it is printed with, or that it looks as on the screen. */
export type Colours = 'paper' | 'grey' | 'screen';
/** How high the spectrogram is beside its width. */
export type Shape = 'low' | 'middle' | 'tall';

export interface Choices {
  readonly what: What;
  readonly colours: Colours;
  readonly widthMm: number;
  readonly shape: Shape;
  readonly dpi: number;
  readonly contours: boolean;
  readonly numbers: boolean;
  readonly scaleBar: boolean;
  readonly title: string;
  readonly note: string;
}

export const FIRST: Choices = {
  what: 'view',
  colours: 'paper',
  // The text of an A4 page between usual margins, at what printers want.
  widthMm: 160,
  shape: 'middle',
  dpi: 300,
  contours: true,
  numbers: true,
  scaleBar: true,
  title: '',
  note: '',
};

/** Least and most that may be asked for: what the core draws, and what a browser still makes a picture of. */
export const WIDTH_MM = { least: 60, most: 300 } as const;
export const DPI = { least: 50, most: 600 } as const;
/** A preview is drawn no finer: it is looked at on a screen. */
const PREVIEW_DPI = 110;

const SHARES: Readonly<Record<Shape, number>> = { low: 0.25, middle: 0.4, tall: 0.65 };
/** Room around a pulse: its own duration on each side, and at least so much. */
const ROOM_LEAST_S = 0.003;
/** Room above and below it, as a share of its bandwidth, and at least so much. */
const ROOM_SHARE = 0.3;
const ROOM_LEAST_KHZ = 8;

/** The stretch that a figure shows; null where there is none such. */
export function stretch(what: What, view: Extent | null, whole: Extent | null, pulse: Pulse | null): Extent | null {
  if (what === 'view') {
    return view;
  }
  return what === 'whole' || whole === null ? whole : pulse && aroundPulse(pulse, whole);
}

/** A pulse from close by. */
function aroundPulse(pulse: Pulse, limits: Extent): Extent {
  const time = Math.max(pulse.end_s - pulse.start_s, ROOM_LEAST_S);
  const frequency = Math.max((pulse.high_khz - pulse.low_khz) * ROOM_SHARE, ROOM_LEAST_KHZ);
  return {
    time: within(pulse.start_s - time, pulse.end_s + time, limits.time),
    frequency: within(pulse.low_khz - frequency, pulse.high_khz + frequency, limits.frequency),
  };
}

function within<U extends number>(from: number, to: number, span: Span<U>): Span<U> {
  return { from: Math.max(from, span.from) as U, to: Math.min(to, span.to) as U };
}

/** What is drawn, and how large. A preview is the same at a coarser resolution. */
export function frameOf(
  choices: Choices,
  channel: number,
  { time, frequency }: Extent,
  look: PictureLook,
  preview: boolean,
): FigureFrame {
  return {
    channel,
    start_s: time.from,
    end_s: time.to,
    low_khz: frequency.from,
    high_khz: frequency.to,
    rendering: renderingOf(look),
    width_mm: choices.widthMm,
    picture_mm: choices.widthMm * SHARES[choices.shape],
    dpi: preview ? Math.min(choices.dpi, PREVIEW_DPI) : choices.dpi,
  };
}

/** How it looks. `map` is what the screen shows, and `look` what a person chose for it. */
export function styleOf(choices: Choices, map: ColourMap, look: PictureLook): FigureStyle {
  const { colours, contours, numbers, title, note } = choices;
  return {
    look: { map: colours === 'screen' ? map : 'ink', floor_db: look.floorDb ?? undefined, range_db: look.rangeDb ?? undefined },
    lines: colours === 'grey' ? 'black' : 'red',
    contours,
    numbers,
    scale_bar: choices.scaleBar,
    source: true,
    title,
    note,
  };
}

/** The sounds that are marked in a stretch, with their numbers. */
export function soundsIn(sounds: readonly Sound[], { time }: Extent): FigureSound[] {
  const shown = sounds.filter(({ pulse }) => pulse.end_s >= time.from && pulse.start_s <= time.to);
  return shown.map(({ name, pulse }) => ({ name, pulse }));
}
