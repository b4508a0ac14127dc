import { Problem, type Core, type Findings, type Opened, type Pulse } from '../../core/client.ts';
import { frames } from '../../frames.ts';
import type { Keeping } from '../../keep/keeping.ts';
import type { Scale } from '../../axis.ts';
import { Store } from '../../store.ts';
import { whole, within, type Extent } from './extent.ts';
import { HandDesk } from './hand/desk.ts';
import { tableOf } from './hand/matching.ts';
import { Hearing } from './hear/hearing.ts';
import { sameLook, type PictureLook } from './picture/look.ts';
import {
  changed,
  current,
  find,
  hasEnded,
  NONE,
  NOTHING_YET,
  type CallFromLink,
  type Recording,
  type Recordings,
  type Shown,
  type Status,
} from './recordings.ts';
import { FIRST_CHOICE, type SheetChoice } from './sheet/sheet-choice.ts';

const NONE_PICKED: ReadonlySet<number> = new Set();
/** How many recordings that were opened from Night stay open. */
const MOST_FROM_NIGHT = 20;
const NO_ADVICE = 'Reload the page and try again; the recording itself is untouched.';

/** Where files come from, and what of them is to be seen. */
export interface Origin {
  readonly sample?: boolean;
  readonly hosted?: string;
  readonly extent?: Extent | null;
  readonly call?: CallFromLink;
  /** Where in the Night place they were opened. */
  readonly from?: string;
}

/**
 * The recordings of this visit and the work on them. Two lanes run side by
 * side, opening and measuring, each with one job at a time; the recording that
 * the person looks at always goes first.
 */
export class Session {
  readonly core: Core;
  readonly store = new Store<Recordings>(NONE);
  /** How the pulse sheet is wanted. */
  readonly sheet = new Store<SheetChoice>(FIRST_CHOICE);
  /** What the person decided about each recording. */
  readonly keeping: Keeping;
  /** Where the person works by hand. */
  readonly hand = new HandDesk(this);
  /** What is listened to. */
  readonly hearing = new Hearing();
  readonly #abort = new Map<number, AbortController>();
  #nextId = 1;
  #opening = false;
  #measuring = false;

  constructor(core: Core, keeping: Keeping) {
    this.core = core;
    this.keeping = keeping;
  }

  /** Puts files at the end of the list; the first of them becomes the current one. */
  add(files: readonly File[], origin: Origin): void {
    const fresh = files.map((file): Recording => ({
      id: this.#nextId++,
      name: file.name,
      file,
      sample: origin.sample ?? false,
      hosted: origin.hosted ?? null,
      call: origin.call ?? null,
      from: origin.from ?? null,
      status: { kind: 'waiting' },
      opened: null,
      channel: 0,
      expansion: null,
      findings: NOTHING_YET,
      selected: null,
      picked: NONE_PICKED,
      extent: origin.extent ?? null,
      band: null,
    }));
    const first = fresh[0];
    if (!first) {
      return;
    }
    this.store.update((all) => ({
      ...all,
      list: [...all.list, ...fresh],
      currentId: first.id,
    }));
    this.#proceed();
  }

  /**
   * Shows files from where in the Night place they were opened; what is open already is not opened once more. Of all that
   * come from there the latest are kept open.
   */
  openFromNight(files: readonly File[], from: string): void {
    const wanted = files.slice(0, MOST_FROM_NIGHT);
    this.add(wanted.filter((file) => !this.#openAs(file)), { from });
    const [first] = wanted;
    const shown = first && this.#openAs(first);
    if (shown) {
      this.#set(shown.id, { from });
      this.show(shown.id);
    }
    this.#closeOldest();
  }

  /** The recording that is this very file, so far as a file can be told without looking into it. */
  #openAs({ name, size, lastModified }: File): Recording | undefined {
    return this.store.value.list.find(
      ({ file }) => file.name === name && file.size === size && file.lastModified === lastModified,
    );
  }

  /** Closes the oldest that were opened from Night, but for what is looked at, heard, or holds remarks that lie here alone. */
  #closeOldest(): void {
    const { list, currentId } = this.store.value;
    const fromNight = list.filter(({ from }) => from !== null);
    const heard = this.hearing.store.value.playing?.recording;
    const isFree = ({ id }: Recording): boolean => id !== currentId && id !== heard && this.keeping.forget(id);
    let excess = fromNight.length - MOST_FROM_NIGHT;
    for (const recording of fromNight) {
      if (excess > 0 && isFree(recording)) {
        this.#close(recording.id);
        excess -= 1;
      }
    }
  }

  #close(id: number): void {
    this.stop(id);
    find(this.store.value, id)?.opened?.close();
    this.store.update((all) => ({ ...all, list: all.list.filter((recording) => recording.id !== id) }));
  }

  /** Makes a recording the current one. */
  show(id: number): void {
    this.store.update((all) =>
      all.currentId === id ? all : { ...all, currentId: id },
    );
    this.#proceed();
  }

  look(id: number, extent: Extent): void {
    this.store.update((all) => changed(all, id, { extent }));
  }

  select(id: number, selected: Pulse | null): void {
    this.store.update((all) => changed(all, id, { selected }));
  }

  /** Marks a stretch of time and frequency; null: none. */
  mark(id: number, band: Extent | null): void {
    this.store.update((all) => changed(all, id, { band }));
  }

  /** Picks sounds for comparing, or lets go of them. */
  pick(id: number, sounds: readonly Pulse[], isPicked: boolean): void {
    const starts = new Set(sounds.map((sound) => sound.start_s));
    this.store.update((all) => {
      const before = find(all, id)?.picked ?? NONE_PICKED;
      const others = [...before].filter((start) => !starts.has(start));
      return changed(all, id, { picked: new Set(isPicked ? [...others, ...starts] : others) });
    });
  }

  /** Picks a sound for comparing, or lets go of it if it is picked. */
  togglePicked(id: number, sound: Pulse | null): void {
    if (sound) {
      this.pick(id, [sound], find(this.store.value, id)?.picked.has(sound.start_s) !== true);
    }
  }

  /** Changes what is shown of all recordings. */
  reveal(change: Partial<Shown>): void {
    this.store.update((all) => ({ ...all, shown: { ...all.shown, ...change } }));
  }

  /** Changes how pictures look; where frequency then runs otherwise, all views stay within what the axis can show. */
  relook(change: Partial<PictureLook>): void {
    this.store.update((all) => {
      const look = { ...all.shown.look, ...change };
      if (sameLook(look, all.shown.look)) {
        return all;
      }
      const list = look.scale === all.shown.look.scale ? all.list : all.list.map((one) => rescaled(one, look.scale));
      return { ...all, list, shown: { ...all.shown, look } };
    });
  }

  /** Stops opening or measuring; what is there stays. */
  stop(id: number): void {
    this.#abort.get(id)?.abort(new DOMException('Stopped', 'AbortError'));
  }

  /** Measures again, after a stop or in another channel. */
  measure(id: number, channel: number): void {
    this.stop(id);
    this.store.update((all) =>
      changed(all, id, {
        channel,
        status: { kind: find(all, id)?.opened ? 'ready' : 'waiting' },
        findings: NOTHING_YET,
        selected: null,
        picked: NONE_PICKED,
      }),
    );
    this.#proceed();
  }

  /** Reads the file anew with another time expansion; null: what the file says. */
  expand(id: number, expansion: number | null): void {
    this.stop(id);
    find(this.store.value, id)?.opened?.close();
    this.store.update((all) =>
      changed(all, id, {
        expansion,
        opened: null,
        status: { kind: 'waiting' },
        findings: NOTHING_YET,
        selected: null,
        picked: NONE_PICKED,
        extent: null,
        band: null,
      }),
    );
    this.#proceed();
  }

  /**
   * The table of the last measurement, with what was done by hand, as CSV. `about`: with lines that say what it holds;
   * as the person wants it unless told otherwise.
   */
  async csv(recording: Recording, { about }: { about?: boolean } = {}): Promise<string> {
    if (!recording.opened) {
      return '';
    }
    const { signal } = new AbortController();
    return await frames.during(this.#table(signal, recording, recording.opened, about));
  }

  async #table(signal: AbortSignal, recording: Recording, opened: Opened, about?: boolean): Promise<string> {
    const { channel } = recording;
    const table = await opened.csv(signal, channel, tableOf(recording, this.hand.entries(recording)));
    return (about ?? this.store.value.shown.about) ? opened.withAbout(signal, table, channel) : table;
  }

  #proceed(): void {
    void frames.during(this.#openNext());
    void frames.during(this.#measureNext());
  }

  async #openNext(): Promise<void> {
    const next = this.#first('waiting');
    if (this.#opening || !next) {
      return;
    }
    this.#opening = true;
    await this.#guarded(next, (signal) => this.#open(signal, next));
    this.#opening = false;
    this.#proceed();
  }

  async #measureNext(): Promise<void> {
    const next = this.#first('ready');
    if (this.#measuring || !next) {
      return;
    }
    this.#measuring = true;
    await this.#guarded(next, (signal) => this.#measure(signal, next));
    this.#measuring = false;
    this.#proceed();
  }

  async #open(signal: AbortSignal, recording: Recording): Promise<void> {
    const { id, file, expansion } = recording;
    this.#set(id, { status: { kind: 'opening' } });
    const soon = this.store.value.currentId === id;
    const opened = await this.core.open(signal, file, { expansion, soon });
    signal.throwIfAborted();
    const limits = whole(opened.facts, this.store.value.shown.look.scale);
    const wanted = find(this.store.value, id)?.extent ?? null;
    this.#set(id, {
      opened,
      extent: wanted ? within(wanted, limits) : limits,
      status: { kind: 'ready' },
    });
  }

  async #measure(signal: AbortSignal, recording: Recording): Promise<void> {
    const { id, opened, channel } = recording;
    if (!opened) {
      return;
    }
    this.#set(id, { status: { kind: 'measuring', share: 0 } });
    const findings = await opened.measure(signal, channel, (progress) => {
      if (!signal.aborted) {
        const share = progress.total_s > 0 ? progress.done_s / progress.total_s : 0;
        this.#found(id, progress.findings, { kind: 'measuring', share });
      }
    });
    this.#found(id, findings, { kind: 'measured' });
  }

  /** Takes findings in; what was selected or picked stays so, wherever it now stands. */
  #found(id: number, findings: Findings, status: Status): void {
    const before = find(this.store.value, id);
    const chosen = before?.selected;
    const isChosen = (pulse: Pulse): boolean => pulse.start_s === chosen?.start_s;
    const selected = findings.pulses.find(isChosen) ?? findings.doubted.find(isChosen) ?? null;
    const picked = stillPicked(before?.picked ?? NONE_PICKED, findings);
    this.#set(id, { findings, status, selected, picked });
  }

  /** Runs a job so that its failure ends up in the list and nowhere else. */
  async #guarded(
    recording: Recording,
    job: (signal: AbortSignal) => Promise<void>,
  ): Promise<void> {
    const { id } = recording;
    const controller = new AbortController();
    this.#abort.set(id, controller);
    try {
      await job(controller.signal);
    } catch (error) {
      // A job that was replaced must not speak over the one that follows it.
      if (this.#abort.get(id) === controller) {
        this.#failed(id, controller.signal, error);
      }
    }
    if (this.#abort.get(id) === controller) {
      this.#abort.delete(id);
    }
    this.#meet(id);
  }

  /** Has what was kept of a recording brought back, once measuring it is over. */
  #meet(id: number): void {
    const recording = find(this.store.value, id);
    if (recording?.opened && hasEnded(recording)) {
      const { name, file, opened } = recording;
      this.keeping.met({ id, name, file, hash: (signal, onShare) => opened.hash(signal, onShare) });
    }
  }

  #failed(id: number, signal: AbortSignal, error: unknown): void {
    if (signal.aborted) {
      const now = find(this.store.value, id)?.status.kind;
      // After a change of channel or expansion it already waits for its next turn.
      if (now === 'opening' || now === 'measuring') {
        this.#set(id, { status: { kind: 'stopped' } });
      }
      return;
    }
    const message = error instanceof Error ? error.message : String(error);
    const advice = error instanceof Problem ? error.advice : NO_ADVICE;
    this.#set(id, { status: { kind: 'failed', message, advice } });
  }

  #set(id: number, change: Partial<Recording>): void {
    this.store.update((all) => changed(all, id, change));
  }

  /** The next recording in a state; the current one before all others. */
  #first(kind: 'waiting' | 'ready'): Recording | null {
    const all = this.store.value;
    const shown = current(all);
    if (shown?.status.kind === kind) {
      return shown;
    }
    return all.list.find((recording) => recording.status.kind === kind) ?? null;
  }
}

/** A recording whose view fits another scale: what showed all frequencies still does. */
function rescaled(recording: Recording, scale: Scale): Recording {
  const { opened, extent } = recording;
  if (!opened || !extent) {
    return recording;
  }
  const before = whole(opened.facts, scale === 'linear' ? 'logarithmic' : 'linear');
  const limits = whole(opened.facts, scale);
  const isWhole = extent.frequency.from <= before.frequency.from && extent.frequency.to >= before.frequency.to;
  return { ...recording, extent: isWhole ? { ...extent, frequency: limits.frequency } : within(extent, limits) };
}

/** What is picked and still among what was found. */
function stillPicked(picked: ReadonlySet<number>, { pulses, doubted }: Findings): ReadonlySet<number> {
  if (picked.size === 0) {
    return picked;
  }
  const starts = [...pulses, ...doubted].map((sound) => sound.start_s);
  return new Set(starts.filter((start) => picked.has(start)));
}
