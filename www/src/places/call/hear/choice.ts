import type { Facts, ListeningSettings, Method } from '../../../core/client.ts';
import { stem } from '../../../parts/download.ts';
import { kilohertz, seconds, type Kilohertz, type Seconds } from '../../../units.ts';
import type { Span } from '../../../axis.ts';
import type { Recording } from '../recordings.ts';

/** The three ways in which something too high to be heard is brought down. */
export type Way = Method['kind'];
/** What is played. */
export type Where = 'view' | 'whole' | 'pulse' | 'band';

/** How a person wants to listen. */
export interface HearChoice {
  readonly way: Way;
  /** How many times slower time expansion plays. */
  readonly factor: number;
  /** By how much division divides. */
  readonly divisor: number;
  readonly tuning: Kilohertz;
  readonly where: Where;
  readonly loop: boolean;
  /** Whether the view goes with the sound. */
  readonly follow: boolean;
  readonly gain: boolean;
  /** Whether rumble is taken out. */
  readonly rumble: boolean;
  /** Of the loudspeaker, 0 to 1; it starts low on every visit, whatever it was. */
  readonly volume: number;
}

/** What the core allows (`Method::FACTORS`). */
export const FACTORS: Span<number> = { from: 2, to: 32 };
/** Below this lies rumble: no bat's call that is listened for reaches so low. */
export const RUMBLE_KHZ = 8;
/** The rate of a file of what is heard, hertz: any computer plays it. */
export const FILE_HZ = 48_000;
/** How far from the tuning a heterodyne hears, to either side. */
export const BANDWIDTH_KHZ = 5;
/** The lowest tuning: below it there is nothing that needs bringing down. */
export const LOWEST_KHZ = 8;
/** How far a key tunes. */
export const TUNING_STEP_KHZ = 0.5;
/** What is played around a pulse, so that its beginning is not in the fade. */
const AROUND_PULSE_S = 0.01;
const START_VOLUME = 0.15;
const KEY = 'dusklens.hear';

export const WAYS: Readonly<Record<Way, string>> = {
  expansion: 'Time expansion',
  heterodyne: 'Heterodyne',
  division: 'Frequency division',
};

/** The choice of last time; at first, what most begin with. */
export function rememberedChoice(): HearChoice {
  const [way, factor, divisor, tuning] = recall().split(' ');
  return {
    way: isWay(way) ? way : 'expansion',
    factor: factorOf(factor) ?? 10,
    divisor: factorOf(divisor) ?? 10,
    tuning: kilohertz(inside(Number(tuning), LOWEST_KHZ, 1000) ?? 45),
    where: 'view',
    loop: false,
    follow: false,
    gain: true,
    rumble: true,
    volume: START_VOLUME,
  };
}

/** Keeps way, factors and tuning for next time, where the browser allows it. */
export function rememberChoice({ way, factor, divisor, tuning }: HearChoice): void {
  try {
    localStorage.setItem(KEY, [way, factor, divisor, tuning].join(' '));
  } catch {
    // A private window may have no storage; the choice then lasts as long as the page.
  }
}

/** A factor from what was typed; null where it is none. */
export function factorOf(text: string | undefined): number | null {
  return inside(Number(text?.trim().replace(',', '.')), FACTORS.from, FACTORS.to);
}

/** The highest tuning in a recording. */
export function highestTuning(facts: Facts): Kilohertz {
  return kilohertz(Math.floor(facts.rate_hz / 200 - 1) / 10);
}

/** A tuning that the recording has. */
export function tuningWithin(khz: number, facts: Facts): Kilohertz {
  return kilohertz(Math.min(Math.max(Math.round(khz * 10) / 10, LOWEST_KHZ), highestTuning(facts)));
}

/** What would be played of a recording; null where there is no such thing. */
export function stretchOf(where: Where, recording: Recording): Span<Seconds> | null {
  const facts = recording.opened?.facts;
  if (!facts || facts.duration_s <= 0) {
    return null;
  }
  const end = seconds(facts.duration_s);
  switch (where) {
    case 'view':
      return recording.extent?.time ?? null;
    case 'whole':
      return { from: seconds(0), to: end };
    case 'band':
      return recording.band?.time ?? null;
    case 'pulse': {
      const pulse = recording.selected;
      return pulse
        ? {
            from: seconds(Math.max(0, pulse.start_s - AROUND_PULSE_S)),
            to: seconds(Math.min(end, pulse.end_s + AROUND_PULSE_S)),
          }
        : null;
    }
  }
}

/** The choice in the core's words. */
export function settingsOf(choice: HearChoice, stretch: Span<Seconds>, facts: Facts): ListeningSettings {
  return {
    method: methodOf(choice, facts),
    start_s: stretch.from,
    end_s: stretch.to,
    looped: choice.loop,
    high_pass_khz: choice.rumble ? RUMBLE_KHZ : undefined,
    automatic_gain: choice.gain,
  };
}

function methodOf(choice: HearChoice, facts: Facts): Method {
  switch (choice.way) {
    case 'expansion':
      return { kind: 'expansion', factor: choice.factor };
    case 'heterodyne':
      return { kind: 'heterodyne', tuning_khz: tuningWithin(choice.tuning, facts), bandwidth_khz: BANDWIDTH_KHZ };
    case 'division':
      return { kind: 'division', factor: choice.divisor };
  }
}

/** How long it takes to hear a stretch. */
export function heardFor(stretch: Span<Seconds>, choice: HearChoice): Seconds {
  return seconds((stretch.to - stretch.from) * (choice.way === 'expansion' ? choice.factor : 1));
}

/** The name of a file of what is heard: it says how, so that nobody takes it for the recording. */
export function fileName(name: string, choice: HearChoice, facts: Facts): string {
  const how = {
    expansion: `expanded-x${choice.factor}`,
    heterodyne: `heterodyne-${tuningWithin(choice.tuning, facts)}kHz`,
    division: `divided-by-${choice.divisor}`,
  }[choice.way];
  return `${stem(name)}-${how}.wav`;
}

function isWay(text: string | undefined): text is Way {
  return text !== undefined && Object.hasOwn(WAYS, text);
}

function inside(value: number, from: number, to: number): number | null {
  return value >= from && value <= to ? value : null;
}

function recall(): string {
  try {
    return localStorage.getItem(KEY) ?? '';
  } catch {
    return '';
  }
}
