import type { Findings, Pulse } from '../../../core/types.ts';
import type { Label, Span } from '../../../keep/label.ts';
import { soundsOf, type Sound } from '../sounds.ts';

/** The labels of a recording, laid on what is found in it now. */
export interface Labelled {
  readonly labels: readonly Label[];
  /** Labels of single pulses. */
  readonly byPulse: ReadonlyMap<Pulse, readonly Label[]>;
  /** What a label is about, in words: "pulses 3-5, 9", "the recording". */
  readonly about: (label: Label) => string;
}

/** What is needed of a recording here. */
interface Measured {
  readonly findings: Findings;
  readonly channel: number;
  readonly opened: { readonly facts: { readonly expansion: { readonly factor: number } } } | null;
}

interface Circumstances {
  readonly channel: number;
  readonly expansion: number;
}

let last: { labels: readonly Label[]; findings: Findings; channel: number; made: Labelled } | null = null;

/** Lays labels on the pulses of now; what was made last is kept, since it is asked for at every turn of the page. */
export function labelled(labels: readonly Label[], recording: Measured): Labelled {
  const { findings, channel } = recording;
  if (last?.labels !== labels || last.findings !== findings || last.channel !== channel) {
    const expansion = recording.opened?.facts.expansion.factor ?? 1;
    last = { labels, findings, channel, made: made(labels, soundsOf(findings, true), { channel, expansion }) };
  }
  return last.made;
}

function made(labels: readonly Label[], sounds: readonly Sound[], now: Circumstances): Labelled {
  const byPulse = new Map<Pulse, Label[]>();
  const found = new Map<Span, Sound>();
  for (const label of labels) {
    for (const span of label.about) {
      const sound = soundAt(span, sounds, now);
      if (sound) {
        found.set(span, sound);
        byPulse.set(sound.pulse, [...(byPulse.get(sound.pulse) ?? []), label]);
      }
    }
  }
  const about = (label: Label): string => aboutWords(label, (span) => found.get(span) ?? null, now.channel);
  return { labels, byPulse, about };
}

/** The sound that lies most within a labelled stretch; null where none does. */
function soundAt(span: Span, sounds: readonly Sound[], now: Circumstances): Sound | null {
  if (span.channel !== now.channel) {
    return null;
  }
  // A time at the microphone times the expansion is a time in the file, which is what stays the same.
  const scale = span.expansion / now.expansion;
  const [from, to] = [span.start_s * scale, span.end_s * scale];
  let [best, most]: [Sound | null, number] = [null, 0];
  for (let index = firstEndingAfter(from, sounds); index < sounds.length; index += 1) {
    const sound = sounds[index];
    if (!sound || sound.pulse.start_s > to) {
      break;
    }
    const common = Math.min(to, sound.pulse.end_s) - Math.max(from, sound.pulse.start_s);
    if (common > most) {
      [best, most] = [sound, common];
    }
  }
  return best;
}

/** No pulse is longer, seconds: how far before a moment a sound may begin that still lasts. */
const LONGEST_S = 1;

/** Index of the first sound that may last beyond a moment; they are in order of their start. */
function firstEndingAfter(moment: number, sounds: readonly Sound[]): number {
  let [low, high] = [0, sounds.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sounds[middle]?.pulse.start_s ?? Infinity) < moment - LONGEST_S) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  return low;
}

function aboutWords(label: Label, soundOf: (span: Span) => Sound | null, channel: number): string {
  if (label.about.length === 0) {
    return 'the whole recording';
  }
  const here = label.about.flatMap((span) => soundOf(span)?.name ?? []);
  const elsewhere = label.about.filter((span) => soundOf(span) === null);
  const parts = here.length > 0 ? [pulseWords(here)] : [];
  const others = elsewhere.filter((span) => span.channel !== channel);
  const lost = elsewhere.filter((span) => span.channel === channel);
  if (others.length > 0) {
    parts.push(`${pulseWords(others.map(({ name }) => name))} of channel ${(others[0]?.channel ?? 0) + 1}`);
  }
  if (lost.length > 0) {
    const [first] = lost;
    const more = lost.length > 1 ? ` and ${lost.length - 1} more` : '';
    parts.push(`what was pulse ${first?.name} at ${first?.start_s.toFixed(3)} s${more}, where none is found now`);
  }
  return parts.join(', and ');
}

/** "pulse 3", "pulses 3-5, 9, D1". */
export function pulseWords(names: readonly string[]): string {
  return `${names.length === 1 ? 'pulse' : 'pulses'} ${ranges(names)}`;
}

/** "3-5, 9, D1": numbers that follow each other are drawn together. */
export function ranges(names: readonly string[]): string {
  const parts: { first: string; last: string; count: number }[] = [];
  for (const name of names) {
    const before = parts.at(-1);
    if (before && /^\d+$/.test(name) && Number(name) === Number(before.last) + 1) {
      before.last = name;
      before.count += 1;
    } else {
      parts.push({ first: name, last: name, count: 1 });
    }
  }
  return parts.map(({ first, last: end, count }) => (count === 1 ? first : count === 2 ? `${first}, ${end}` : `${first}-${end}`)).join(', ');
}

/** The sounds of a list such as "3-5, 9, D1", or a sentence about what is wrong with it. */
export function soundsIn(list: string, sounds: readonly Sound[]): readonly Sound[] | string {
  const byName = new Map(sounds.map((sound) => [sound.name, sound]));
  const chosen = new Set<Sound>();
  for (const part of list.toUpperCase().split(/[,;\s]+/).filter(Boolean)) {
    const match = /^(D?)(\d{1,6})(?:[-–](D?)(\d{1,6}))?$/.exec(part);
    if (!match) {
      return `“${part}” is no number of a pulse. Write for example: 3-5, 9`;
    }
    const [, kind = '', from, , to = from] = match;
    for (let number = Number(from); number <= Number(to); number += 1) {
      const sound = byName.get(`${kind}${number}`);
      if (!sound) {
        return `There is no pulse ${kind}${number} here.`;
      }
      chosen.add(sound);
    }
  }
  return chosen.size === 0 ? 'Write at least one number of a pulse, for example: 3-5, 9' : sounds.filter((sound) => chosen.has(sound));
}

/** What a label keeps of sounds. */
export function spansOf(sounds: readonly Sound[], recording: Measured): Span[] {
  const expansion = recording.opened?.facts.expansion.factor ?? 1;
  return sounds.map(({ pulse, name }) => ({
    name,
    channel: recording.channel,
    start_s: pulse.start_s,
    end_s: pulse.end_s,
    expansion,
  }));
}
