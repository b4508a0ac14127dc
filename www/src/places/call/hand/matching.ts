import type { Findings, HandRow, HandTable, Pulse } from '../../../core/client.ts';
import type { CorrectedPulse, HandEntry, MarkedBand, MeasuredInterval, PulseSetAside } from '../../../keep/hand.ts';
import type { Span } from '../../../keep/label.ts';
import type { Recording } from '../recordings.ts';
import { soundsOf, type Sound } from '../sounds.ts';

/** A pulse is known again if it begins this near, seconds: what another version measures is off by less. */
const SAME_S = 1e-3;

/** The time expansion that a recording's times are measured with. */
export function expansionOf(recording: Recording): number {
  return recording.opened?.facts.expansion.factor ?? 1;
}

/** A sound of a recording, as an entry remembers it. */
export function spanOf(recording: Recording, { pulse, name }: Sound): Span {
  return {
    name,
    channel: recording.channel,
    start_s: pulse.start_s,
    end_s: pulse.end_s,
    expansion: expansionOf(recording),
  };
}

/** Whether an entry is about what is measured now: the same channel, and times of the same expansion. */
function isHere(recording: Recording, { channel, expansion }: { channel: number; expansion: number }): boolean {
  return channel === recording.channel && expansion === expansionOf(recording);
}

/** Whether a span is that of a pulse. */
function isOf(recording: Recording, span: Span, pulse: Pulse): boolean {
  return isHere(recording, span) && Math.abs(span.start_s - pulse.start_s) < SAME_S && Math.abs(span.end_s - pulse.end_s) < SAME_S;
}

export function correctionOf(recording: Recording, entries: readonly HandEntry[], pulse: Pulse): CorrectedPulse | null {
  const found = entries.find((entry) => entry.kind === 'corrected' && isOf(recording, entry.of, pulse));
  return found?.kind === 'corrected' ? found : null;
}

export function asideOf(recording: Recording, entries: readonly HandEntry[], pulse: Pulse): PulseSetAside | null {
  const found = entries.find((entry) => entry.kind === 'aside' && isOf(recording, entry.of, pulse));
  return found?.kind === 'aside' ? found : null;
}

/** The sound that a span is of, among all that were found; null where it is not found any more. */
export function soundOf(recording: Recording, span: Span): Sound | null {
  return soundsOf(recording.findings, true).find(({ pulse }) => isOf(recording, span, pulse)) ?? null;
}

/** What was done by hand to a pulse, for its row and the picture. */
export interface HandMark {
  readonly corrected: boolean;
  readonly aside: string | null;
}

interface Made {
  readonly findings: Findings;
  readonly marks: ReadonlyMap<Pulse, HandMark>;
}

/** Made once for the same entries and findings, so that what shows them need not look again. */
const MADE = new WeakMap<readonly HandEntry[], Made>();

/** What was done to which pulse. */
export function marksOf(recording: Recording, entries: readonly HandEntry[]): ReadonlyMap<Pulse, HandMark> {
  const known = MADE.get(entries);
  if (known?.findings === recording.findings) {
    return known.marks;
  }
  const made = { findings: recording.findings, marks: marked(recording, entries) };
  MADE.set(entries, made);
  return made.marks;
}

function marked(recording: Recording, entries: readonly HandEntry[]): ReadonlyMap<Pulse, HandMark> {
  const marks = new Map<Pulse, HandMark>();
  for (const entry of entries) {
    if (entry.kind === 'corrected' || entry.kind === 'aside') {
      const pulse = soundOf(recording, entry.of)?.pulse;
      if (pulse) {
        const known = marks.get(pulse) ?? { corrected: false, aside: null };
        marks.set(pulse, entry.kind === 'aside' ? { ...known, aside: entry.reason } : { ...known, corrected: true });
      }
    }
  }
  return marks;
}

/** An entry with a row of its own, which is named H1, H2 and so on. */
export type RowEntry = CorrectedPulse | MarkedBand | MeasuredInterval;

export interface NamedEntry {
  readonly name: string;
  readonly entry: RowEntry;
}

/** The entries about what is measured now, in the order that they were made in. */
export function namedEntries(recording: Recording, entries: readonly HandEntry[]): readonly NamedEntry[] {
  return entries
    .filter((entry): entry is RowEntry => entry.kind !== 'aside')
    .filter((entry) => isHere(recording, placeOf(entry)))
    .map((entry, index) => ({ name: `H${index + 1}`, entry }));
}

function placeOf(entry: RowEntry): { channel: number; expansion: number } {
  switch (entry.kind) {
    case 'corrected':
      return entry.of;
    case 'interval':
      return entry.first;
    default:
      return entry;
  }
}

/** The number that a pulse has now, else the one that it had. */
export function nameNow(recording: Recording, span: Span): string {
  return soundOf(recording, span)?.name ?? span.name;
}

/** The pulses set aside among what is measured now. */
export function asidesOf(recording: Recording, entries: readonly HandEntry[]): readonly PulseSetAside[] {
  return entries.filter((entry) => entry.kind === 'aside').filter(({ of }) => isHere(recording, of));
}

/** Sounds as a person left them: those set aside are gone, corrected ones replaced, added ones among them. */
export function withHand(recording: Recording, entries: readonly HandEntry[], sounds: readonly Sound[]): readonly Sound[] {
  const corrected = new Map<HandEntry, Sound>();
  const added: Sound[] = [];
  for (const { name, entry } of namedEntries(recording, entries)) {
    const pulse = entry.kind === 'interval' ? undefined : entry.measurement.pulse;
    if (pulse && entry.kind === 'corrected') {
      corrected.set(entry, { name, pulse });
    } else if (pulse && entry.kind === 'added') {
      added.push({ name, pulse });
    }
  }
  const left = sounds
    .filter(({ pulse }) => asideOf(recording, entries, pulse) === null)
    .map((sound) => {
      const correction = correctionOf(recording, entries, sound.pulse);
      return (correction && corrected.get(correction)) ?? sound;
    });
  return added.length === 0 ? left : [...left, ...added].toSorted((one, other) => one.pulse.start_s - other.pulse.start_s);
}

/** Entries as the table has them: with the numbers that pulses have now. */
export function tableOf(recording: Recording, entries: readonly HandEntry[]): HandTable {
  const named = (span: Span): string => nameNow(recording, span);
  const rows = namedEntries(recording, entries).map(({ entry }): HandRow => {
    const { kind, who, when } = entry;
    return {
      kind,
      of: (entry.kind === 'interval' ? [entry.first, entry.second] : entry.kind === 'corrected' ? [entry.of] : []).map(named),
      measurement: entry.kind === 'interval' ? undefined : entry.measurement,
      interval: entry.kind === 'interval' ? entry.interval : undefined,
      by: who,
      at: when,
    };
  });
  const aside = asidesOf(recording, entries)
    .map(({ of, reason, who, when }) => ({ pulse: named(of), reason, by: who, at: when }));
  return { rows, aside };
}
