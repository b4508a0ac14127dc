import type { Axis } from '../../../axis.ts';
import type { Buzz, Findings, Pulse, SequenceFacts } from '../../../core/client.ts';
import type { Kilohertz, Seconds } from '../../../units.ts';
import { fixed } from '../plus-minus.ts';
import { countOf } from '../recordings.ts';
import { isDoubted, type Sound } from '../sounds.ts';
import type { IntervalAxis } from './interval-axis.ts';

/** Which frequency of a pulse is drawn. */
export type Pitch = 'peak_khz' | 'characteristic_khz' | 'end_khz';

export const PITCHES: Readonly<Record<Pitch, string>> = {
  peak_khz: 'Peak',
  characteristic_khz: 'Characteristic',
  end_khz: 'End',
};

/** A pulse in a lane. */
export interface Member {
  readonly sound: Sound;
  /** Among all sounds that are shown. */
  readonly index: number;
}

/** A sequence, or the pulses that stand alone. */
export interface Lane {
  /** Its number; null for what stands alone. */
  readonly sequence: number | null;
  readonly facts: SequenceFacts | null;
  readonly buzzes: readonly Buzz[];
  readonly members: readonly Member[];
}

/** The axes that all lanes share. */
export interface LaneAxes {
  readonly time: Axis<Seconds>;
  readonly frequency: Axis<Kilohertz>;
  readonly interval: IntervalAxis;
}

/** The lanes of a recording in the order of their numbers; doubted sounds are in none. */
export function lanesOf({ summary }: Findings, sounds: readonly Sound[]): Lane[] {
  const members = new Map<number | null, Member[]>();
  sounds.forEach((sound, index) => {
    if (!isDoubted(sound.pulse)) {
      const number = sound.pulse.sequence ?? null;
      const own = members.get(number) ?? [];
      own.push({ sound, index });
      members.set(number, own);
    }
  });
  const sequences = summary.sequences.map((facts): Lane => ({
    sequence: facts.number,
    facts,
    buzzes: summary.buzzes.filter(({ sequence }) => sequence === facts.number),
    members: members.get(facts.number) ?? [],
  }));
  const alone = members.get(null) ?? [];
  return alone.length === 0
    ? sequences
    : [...sequences, { sequence: null, facts: null, buzzes: [], members: alone }];
}

/** "Sequence 2", "Alone". */
export function laneName({ sequence }: Lane): string {
  return sequence === null ? 'Alone' : `Sequence ${sequence}`;
}

/** What a lane comes to: "14 pulses", "median interval 86.7 ms", ... */
export function laneWords({ facts, buzzes, members }: Lane, pitch: Pitch): string[] {
  if (!facts) {
    return [`${countOf(members.map(({ sound }) => sound.pulse))} in no sequence`];
  }
  const words = [
    facts.pulses === 1 ? '1 pulse' : `${facts.pulses} pulses`,
    (facts.interval_ms ?? null) === null ? '' : `median interval ${fixed(facts.interval_ms, 1)} ms`,
    (facts.rate_per_s ?? null) === null ? '' : `${fixed(facts.rate_per_s, 1)} per second`,
    `median ${PITCHES[pitch].toLowerCase()} frequency ${fixed(facts[pitch], 1)} kHz`,
    `lasts ${fixed(facts.duration_s, 2)} s`,
    buzzes.length === 0 ? '' : `${buzzes.length} feeding buzz${buzzes.length === 1 ? '' : 'es'}`,
    facts.missed === 0 ? '' : `pulses missed in ${facts.missed} ${facts.missed === 1 ? 'place' : 'places'}`,
  ];
  return words.filter((word) => word !== '');
}

export function isMissedBefore(pulse: Pulse): boolean {
  return pulse.flags.includes('missed_before');
}

/** A pulse for who hears it. */
export function memberWords({ sound }: Member, pitch: Pitch): string {
  const { pulse, name } = sound;
  const parts = [
    `Pulse ${name}`,
    `${fixed(pulse.start_s, 3)} s`,
    `${fixed(pulse[pitch], 1)} kHz`,
    (pulse.interval_ms ?? null) === null ? 'no interval' : `interval ${fixed(pulse.interval_ms, 1)} ms`,
    (pulse.buzz ?? null) === null ? '' : 'feeding buzz',
    isMissedBefore(pulse) ? 'pulses missed before it' : '',
  ];
  return parts.filter((part) => part !== '').join(', ');
}
