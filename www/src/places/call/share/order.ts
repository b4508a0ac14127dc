/** What a person wants to send of a call, and the order to the core that follows from it. */

import type { CallContent, CallOrder, Facts } from '../../../core/client.ts';
import type { Label } from '../../../keep/label.ts';
import type { Recording } from '../recordings.ts';
import type { Sound } from '../sounds.ts';

/** Which pulses are sent. */
export type What = 'pulse' | 'picked' | 'sequence' | 'view';

/** What a person may add to the sound. */
export type Extra = 'numbers' | 'file' | 'time' | 'recorder' | 'temperature' | 'place' | 'labels' | 'view';

export interface Wish {
  readonly what: What;
  readonly extras: ReadonlySet<Extra>;
  readonly note: string;
}

export const FIRST: Wish = {
  what: 'pulse',
  extras: new Set<Extra>(['numbers', 'file', 'time', 'labels', 'view']),
  note: '',
};

/** All that can be sent of a recording. */
export interface Sendable {
  readonly recording: Recording;
  /** Sounds as they stand, with what was done by hand. */
  readonly sounds: readonly Sound[];
  readonly selected: Sound | null;
  readonly labels: readonly Label[];
}

/** Characters that a link may have for a pulse, and beside them; ten pulses stay below 16 000. */
const CHARS_PER_PULSE = 1500;
const CHARS_BESIDE = 400;
/** More pulses are no call any more. */
export const MOST_PULSES = 40;
export const MOST_NOTE = 500;

/** The sounds that are sent. */
export function sent({ what }: Wish, { recording, sounds, selected }: Sendable): readonly Sound[] {
  switch (what) {
    case 'pulse':
      return selected ? [selected] : [];
    case 'picked':
      return sounds.filter(({ pulse }) => recording.picked.has(pulse.start_s));
    case 'sequence': {
      const sequence = selected?.pulse.sequence;
      return sequence === undefined || sequence === null ? [] : sounds.filter(({ pulse }) => pulse.sequence === sequence);
    }
    case 'view': {
      const time = recording.extent?.time;
      return time ? sounds.filter(({ pulse }) => pulse.end_s >= time.from && pulse.start_s <= time.to) : [];
    }
  }
}

/** What there is to be added, and what it says; null: the recording has none. */
export function extraWords(extra: Extra, { recording, labels }: Sendable): string | null {
  const facts = recording.opened?.facts;
  switch (extra) {
    case 'numbers':
      return 'your numbers for each pulse';
    case 'file':
      return `the file’s name: ${recording.name}`;
    case 'time':
      return facts?.start ? `when the recording began: ${facts.start.local.replace('T', ' ')}` : null;
    case 'recorder': {
      const recorder = facts && recorderOf(facts);
      return recorder ? `the recorder: ${recorder}` : null;
    }
    case 'temperature':
      return facts?.temperature_c === undefined ? null : `the temperature: ${facts.temperature_c} °C`;
    case 'place':
      return facts?.place ? 'where the recorder stood' : null;
    case 'labels':
      return labels.length === 0 ? null : labelWords(labels);
    case 'view':
      return 'what the picture shows now';
  }
}

function labelWords(labels: readonly Label[]): string {
  const who = [...new Set(labels.map((label) => label.who).filter((name) => name !== ''))];
  const count = labels.length === 1 ? 'a label' : `${labels.length} labels`;
  return `${count} (${[...new Set(labels.map(({ text }) => text))].join(', ')})${who.length > 0 ? `, with the name of ${who.join(', ')}` : ''}`;
}

function recorderOf(facts: Facts): string | null {
  const words = [facts.make, facts.model].filter((word) => word !== undefined && word !== '');
  return words.length === 0 ? null : words.join(' ');
}

/** The order to the core; `addressChars` stand before the link. */
export function orderOf(wish: Wish, sendable: Sendable, addressChars: number): CallOrder {
  const pulses = sent(wish, sendable).map(({ name, pulse }) => ({ name, pulse }));
  return {
    pulses,
    numbers: wish.extras.has('numbers'),
    content: contentOf(wish, sendable),
    most_chars: CHARS_BESIDE + CHARS_PER_PULSE * pulses.length - addressChars,
  };
}

function contentOf({ extras, note }: Wish, { recording, labels }: Sendable): CallContent {
  const facts = recording.opened?.facts;
  const { extent } = recording;
  return {
    file: extras.has('file') ? recording.name : undefined,
    start: extras.has('time') ? facts?.start : undefined,
    place: extras.has('place') ? facts?.place : undefined,
    recorder: extras.has('recorder') && facts ? (recorderOf(facts) ?? undefined) : undefined,
    temperature_c: extras.has('temperature') ? facts?.temperature_c : undefined,
    note: note.trim() === '' ? undefined : note.trim(),
    labels: extras.has('labels') ? labels.map((label) => ({ ...label, about: [...label.about] })) : [],
    view:
      extras.has('view') && extent
        ? {
            start_s: extent.time.from,
            end_s: extent.time.to,
            low_khz: extent.frequency.from,
            high_khz: extent.frequency.to,
          }
        : undefined,
  };
}
