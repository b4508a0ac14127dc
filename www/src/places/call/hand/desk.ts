import { Problem, type ContourPoint, type HandMeasurement, type HandRequest } from '../../../core/client.ts';
import { frames } from '../../../frames.ts';
import { freshEntry } from '../../../keep/entry.ts';
import { MOST_POINTS, type CorrectedPulse, type HandEntry } from '../../../keep/hand.ts';
import type { Span } from '../../../keep/label.ts';
import { Store } from '../../../store.ts';
import type { Extent } from '../extent.ts';
import { find, type Recording } from '../recordings.ts';
import type { Session } from '../session.ts';
import type { Sound } from '../sounds.ts';
import { bandAround, bandOf } from './band.ts';
import { asideOf, correctionOf, expansionOf, spanOf } from './matching.ts';

/** How far a key nudges: a start or end, and a point of a contour. */
export interface Step {
  readonly ms: number;
  readonly khz: number;
}

export const STEPS: readonly Step[] = [
  { ms: 0.02, khz: 0.05 },
  { ms: 0.1, khz: 0.2 },
  { ms: 0.5, khz: 1 },
];

/** A correction on its way: what is given, seen at once, while its numbers are still being measured. */
export interface Draft {
  readonly recording: number;
  readonly of: Span;
  readonly start_s: number | null;
  readonly end_s: number | null;
  readonly points: readonly ContourPoint[];
}

/** A band and what was measured in it. */
export interface MeasuredBand {
  readonly recording: number;
  readonly channel: number;
  readonly band: Extent;
  readonly measurement: HandMeasurement;
}

export interface Desk {
  /** Whether the picture takes drags and arrows for a band. */
  readonly marking: boolean;
  readonly step: Step;
  readonly busy: boolean;
  readonly measured: MeasuredBand | null;
  readonly draft: Draft | null;
  readonly problem: { readonly message: string; readonly advice: string } | null;
  /** What was done last, for whoever does not see it. */
  readonly said: string;
}

const IDLE: Desk = {
  marking: false,
  step: STEPS[1] ?? { ms: 0.1, khz: 0.2 },
  busy: false,
  measured: null,
  draft: null,
  problem: null,
  said: '',
};

/** Points of a contour that lie so near in time are the same point, seconds. */
const SAME_POINT_S = 20e-6;

/**
 * Where a person works by hand: marks a band, corrects, adds, sets aside. What comes of it goes to the remarks, where it
 * is kept and can be undone; what is still in the making is here.
 */
export class HandDesk {
  readonly store = new Store<Desk>(IDLE);
  readonly #session: Session;
  /** What is being worked on, by what it is about. */
  readonly #going = new Map<string, AbortController>();

  constructor(session: Session) {
    this.#session = session;
  }

  /** The hand entries of a recording. */
  entries(recording: Recording): readonly HandEntry[] {
    return this.#session.keeping.of(recording.id).history.present.hand;
  }

  set(change: Partial<Desk>): void {
    this.store.update((desk) => ({ ...desk, ...change }));
  }

  mark(on: boolean): void {
    this.set({ marking: on, said: on ? 'Marking a band' : 'No longer marking' });
  }

  /** Measures the band that is marked. */
  measureBand(recording: Recording): void {
    const { band, channel } = recording;
    if (!band) {
      this.set({ said: 'No band is marked yet' });
      return;
    }
    const request: HandRequest = { ...NOTHING_GIVEN, band: bandOf(band) };
    this.#measure('band', recording, request, (measurement) => {
      const measured = { recording: recording.id, channel, band, measurement };
      this.set({ measured, said: measurement.pulse ? 'The band is measured' : 'No pulse could be measured in the band' });
    });
  }

  /** Keeps what was measured in the band: as a pulse that was missed, or as a measurement alone. */
  keepBand(recording: Recording, kind: 'added' | 'band'): void {
    const { measured } = this.store.value;
    const { band, channel } = recording;
    if (!band) {
      this.set({ said: 'Mark a band around the pulse first' });
      return;
    }
    const put = (measurement: HandMeasurement): void => {
      if (kind === 'added' && !measurement.pulse) {
        this.set({ said: 'Nothing in the band could be measured as a pulse' });
        return;
      }
      const what = kind === 'added' ? 'add a pulse' : 'keep a measured band';
      this.#change(recording, what, (entries) => [
        ...entries,
        { ...this.#fresh(), kind, channel, expansion: expansionOf(recording), measurement },
      ]);
      this.set({ said: kind === 'added' ? 'The pulse is added' : 'The measurement is kept' });
    };
    if (measured && isOf(measured, recording)) {
      put(measured.measurement);
      return;
    }
    this.#measure('band', recording, { ...NOTHING_GIVEN, band: bandOf(band) }, (measurement) => {
      this.set({ measured: { recording: recording.id, channel, band, measurement } });
      put(measurement);
    });
  }

  /** What is given of a pulse by now: in the making, or kept. */
  given(recording: Recording, sound: Sound): Draft {
    const { draft } = this.store.value;
    if (draft?.recording === recording.id && draft.of.start_s === sound.pulse.start_s && draft.of.channel === recording.channel) {
      return draft;
    }
    const kept = correctionOf(recording, this.entries(recording), sound.pulse);
    return {
      recording: recording.id,
      of: spanOf(recording, sound),
      start_s: kept?.start_s ?? null,
      end_s: kept?.end_s ?? null,
      points: kept?.points ?? [],
    };
  }

  /** Shows a correction while it is dragged. */
  sketch(draft: Draft): void {
    this.set({ draft });
  }

  /** Moves the start or end of a pulse by a time. */
  nudge(recording: Recording, sound: Sound, edge: 'start' | 'end', by_s: number): void {
    const given = this.given(recording, sound);
    const key = edge === 'start' ? 'start_s' : 'end_s';
    const from = given[key] ?? sound.pulse[key];
    const at = Number((from + by_s).toFixed(7));
    this.correct(recording, sound, { ...given, [key]: at }, `move the ${edge} of pulse ${sound.name}`);
  }

  /** Leads the contour through a point; it takes the place of one at the same time. */
  static withPoint(draft: Draft, point: ContourPoint): Draft {
    const others = draft.points.filter(({ time_s }) => Math.abs(time_s - point.time_s) > SAME_POINT_S);
    return { ...draft, points: [...others, point].toSorted((a, b) => a.time_s - b.time_s).slice(0, MOST_POINTS) };
  }

  /** Measures a pulse with what is given, and keeps that. */
  correct(recording: Recording, sound: Sound, draft: Draft, what: string): void {
    this.set({ draft });
    const { pulse } = sound;
    const request: HandRequest = {
      band: bandAround(pulse),
      pulse_start_s: pulse.start_s,
      start_s: draft.start_s ?? undefined,
      end_s: draft.end_s ?? undefined,
      points: [...draft.points],
    };
    this.#measure(`pulse ${pulse.start_s}`, recording, request, (measurement) => {
      this.#change(recording, what, (entries) => {
        const kept = correctionOf(recording, entries, pulse);
        const entry: CorrectedPulse = {
          ...this.#fresh(),
          ...(kept ? { id: kept.id } : {}),
          kind: 'corrected',
          of: spanOf(recording, sound),
          start_s: draft.start_s,
          end_s: draft.end_s,
          points: draft.points,
          measurement,
        };
        return kept ? entries.map((one) => (one === kept ? entry : one)) : [...entries, entry];
      });
      this.set({ ...(this.store.value.draft === draft ? { draft: null } : {}), said: `Done: ${what}` });
    });
  }

  /** Measures the interval between two sounds. */
  interval(recording: Recording, one: Sound, other: Sound): void {
    const [first, second] = one.pulse.start_s <= other.pulse.start_s ? [one, other] : [other, one];
    this.#work('interval', recording, async (signal) => {
      const interval = await recording.opened?.handInterval(signal, first.pulse, second.pulse);
      if (interval) {
        this.#change(recording, `measure the interval from pulse ${first.name} to ${second.name}`, (entries) => [
          ...entries,
          { ...this.#fresh(), kind: 'interval', first: spanOf(recording, first), second: spanOf(recording, second), interval },
        ]);
        this.set({ said: `The interval is ${interval.interval_ms.toFixed(2)} ms` });
      }
    });
  }

  setAside(recording: Recording, sound: Sound, reason: string): void {
    this.#change(recording, `set pulse ${sound.name} aside`, (entries) => [
      ...entries.filter((entry) => entry !== asideOf(recording, entries, sound.pulse)),
      { ...this.#fresh(), kind: 'aside', of: spanOf(recording, sound), reason },
    ]);
    this.set({ said: `Pulse ${sound.name} is set aside` });
  }

  bringBack(recording: Recording, sound: Sound): void {
    this.#change(recording, `bring pulse ${sound.name} back`, (entries) => {
      const aside = asideOf(recording, entries, sound.pulse);
      return aside ? entries.filter((entry) => entry !== aside) : entries;
    });
    this.set({ said: `Pulse ${sound.name} is back` });
  }

  /** Takes an entry away. */
  remove(recording: Recording, id: string, what: string): void {
    this.#change(recording, what, (entries) => entries.filter((entry) => entry.id !== id));
    this.set({ draft: null, said: `Done: ${what}` });
  }

  #fresh(): { id: string; when: string; who: string } {
    return { ...freshEntry(), who: this.#session.keeping.own.value.who };
  }

  #change(recording: Recording, what: string, change: (entries: readonly HandEntry[]) => readonly HandEntry[]): void {
    this.#session.keeping.change(recording.id, what, (remarks) => {
      const hand = change(remarks.hand);
      return hand === remarks.hand ? remarks : { ...remarks, hand };
    });
  }

  #measure(
    about: string,
    recording: Recording,
    request: HandRequest,
    done: (measurement: HandMeasurement) => void,
  ): void {
    const { opened, channel } = recording;
    this.#work(about, recording, async (signal) => {
      const measurement = await opened?.measureByHand(signal, channel, request);
      // Read anew with another expansion or channel meanwhile, it says nothing any more.
      const now = find(this.#session.store.value, recording.id);
      if (measurement && now?.opened === opened && now?.channel === channel) {
        done(measurement);
      }
    });
  }

  /** Does work; what goes on for an older wish about the same is given up. */
  #work(about: string, recording: Recording, work: (signal: AbortSignal) => Promise<void>): void {
    const key = `${recording.id} ${recording.channel} ${about}`;
    this.#going.get(key)?.abort(new DOMException('Replaced', 'AbortError'));
    const going = new AbortController();
    this.#going.set(key, going);
    this.set({ busy: true, problem: null });
    void frames.during(this.#guarded(key, recording, going, work));
  }

  async #guarded(
    key: string,
    recording: Recording,
    going: AbortController,
    work: (signal: AbortSignal) => Promise<void>,
  ): Promise<void> {
    try {
      await work(going.signal);
    } catch (error) {
      if (!going.signal.aborted) {
        const message = `${recording.name}: ${error instanceof Error ? error.message : String(error)}`;
        const advice = error instanceof Problem ? error.advice : '';
        this.set({ draft: null, problem: { message, advice } });
      }
    }
    if (this.#going.get(key) === going) {
      this.#going.delete(key);
      this.set({ busy: this.#going.size > 0 });
    }
  }
}

const NOTHING_GIVEN = { pulse_start_s: undefined, start_s: undefined, end_s: undefined, points: [] };

/** Whether what was measured is of the band that is marked now. */
export function isOf(measured: MeasuredBand, recording: Recording): boolean {
  return (
    measured.recording === recording.id && measured.channel === recording.channel && measured.band === recording.band
  );
}
