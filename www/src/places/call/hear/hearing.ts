import type { Span } from '../../../axis.ts';
import type { Listening, Opened } from '../../../core/client.ts';
import { frames } from '../../../frames.ts';
import { download } from '../../../parts/download.ts';
import { Store } from '../../../store.ts';
import type { Seconds } from '../../../units.ts';
import type { Recording } from '../recordings.ts';
import {
  fileName,
  rememberChoice,
  rememberedChoice,
  settingsOf,
  stretchOf,
  tuningWithin,
  WAYS,
  type HearChoice,
  FILE_HZ,
} from './choice.ts';
import { Loudspeaker, type Flow } from './loudspeaker.ts';

/** What is being played. */
export interface Playing {
  readonly recording: number;
  readonly opened: Opened;
  readonly channel: number;
  readonly stretch: Span<Seconds>;
}

/** All that is known of listening. */
export interface HearState {
  readonly choice: HearChoice;
  readonly playing: Playing | null;
  /** For who does not see the page. */
  readonly said: string;
  /** What went wrong, as a sentence. */
  readonly problem: string | null;
  /** How much of a file is made, 0 to 1; null: none is. */
  readonly saving: number | null;
}

/** What changes nothing that is being played. */
const APART: ReadonlySet<string> = new Set<keyof HearChoice>(['volume', 'follow', 'where', 'tuning']);

/** Listening: what is chosen, what is played, and the file of it. One sound at a time, whatever recording it is of. */
export class Hearing {
  readonly store = new Store<HearState>({
    choice: rememberedChoice(),
    playing: null,
    said: '',
    problem: null,
    saving: null,
  });
  readonly #loudspeaker = new Loudspeaker();
  #flow: Flow | null = null;
  #listening: Listening | null = null;
  #abort: AbortController | null = null;
  #saving: AbortController | null = null;

  constructor() {
    this.#loudspeaker.volume = this.store.value.choice.volume;
  }

  /** What of the recording is heard now; null while nothing is. */
  get place(): Seconds | null {
    return this.#flow?.place() ?? null;
  }

  /** Plays what is chosen of a recording, or stops. To be called from within a person's gesture. */
  toggle(recording: Recording): void {
    if (this.store.value.playing) {
      this.stop('Stopped');
      return;
    }
    const { choice } = this.store.value;
    const stretch = stretchOf(choice.where, recording);
    if (!recording.opened || !stretch) {
      this.#set({ said: MISSING[choice.where], problem: MISSING[choice.where] });
      return;
    }
    const { id, opened, channel } = recording;
    void this.#play({ recording: id, opened, channel, stretch }, stretch);
  }

  /** Ends what is played. */
  stop(said: string): void {
    this.#halt();
    if (this.store.value.playing) {
      this.#set({ playing: null, said });
    }
  }

  /** Changes the choice. What is heard goes on with it. */
  change(change: Partial<HearChoice>): void {
    const { choice, playing } = this.store.value;
    const next = { ...choice, ...change };
    this.#set({ choice: next, problem: null });
    this.#loudspeaker.volume = next.volume;
    rememberChoice(next);
    if (playing && change.tuning !== undefined) {
      const tuning = tuningWithin(next.tuning, playing.opened.facts);
      const signal = this.#abort?.signal;
      if (signal) {
        this.#listening?.tune(signal, tuning).catch((error: unknown) => this.#failed(error));
      }
    }
    const keys = Object.keys(change) as (keyof HearChoice)[];
    if (playing && keys.some((key) => !APART.has(key) && next[key] !== choice[key])) {
      this.#again(playing);
    }
  }

  /** Makes a file of what would be heard, and hands it to the person. */
  async save(recording: Recording): Promise<void> {
    const { choice } = this.store.value;
    const stretch = stretchOf(choice.where, recording);
    if (!recording.opened || !stretch) {
      this.#set({ said: MISSING[choice.where], problem: MISSING[choice.where] });
      return;
    }
    const { opened, channel } = recording;
    const abort = new AbortController();
    this.#saving?.abort();
    this.#saving = abort;
    this.#set({ saving: 0, problem: null });
    const settings = { ...settingsOf(choice, stretch, opened.facts), looped: false };
    try {
      const making = opened.soundFile(abort.signal, channel, settings, FILE_HZ, (saving) => this.#set({ saving }));
      const name = fileName(recording.name, choice, opened.facts);
      download(name, 'audio/wav', await frames.during(making));
      this.#set({ said: `Saved as ${name}` });
    } catch (error) {
      if (!abort.signal.aborted) {
        this.#set({ problem: `The sound could not be saved: ${wordsOf(error)}` });
      }
    }
    if (this.#saving === abort) {
      this.#saving = null;
      this.#set({ saving: null });
    }
  }

  /** Gives up the file that is being made. */
  stopSaving(): void {
    this.#saving?.abort();
  }

  /** Plays on with another choice: from where it is, or a loop from its beginning. */
  #again(playing: Playing): void {
    const place = this.place;
    this.#halt();
    const { choice } = this.store.value;
    const isInside = place !== null && place > playing.stretch.from && place < playing.stretch.to;
    const from = choice.loop || !isInside ? playing.stretch.from : place;
    void this.#play(playing, { from, to: playing.stretch.to });
  }

  async #play(playing: Playing, stretch: Span<Seconds>): Promise<void> {
    const abort = new AbortController();
    this.#abort = abort;
    const { choice } = this.store.value;
    this.#set({ playing, problem: null, said: `Playing: ${WAYS[choice.way].toLowerCase()}` });
    try {
      const flow = await frames.during(this.#begin(abort.signal, playing, stretch));
      await this.#pour(abort.signal, flow);
      abort.signal.throwIfAborted();
      this.stop('The end');
    } catch (error) {
      if (!abort.signal.aborted) {
        this.#failed(error);
      }
    }
  }

  /** Up to the first piece. */
  async #begin(signal: AbortSignal, playing: Playing, stretch: Span<Seconds>): Promise<Flow> {
    await this.#loudspeaker.ready();
    signal.throwIfAborted();
    const flow = this.#loudspeaker.flow();
    const { opened, channel } = playing;
    const settings = settingsOf(this.store.value.choice, stretch, opened.facts);
    const listening = await opened.listen(signal, channel, settings, flow.rateHz);
    if (signal.aborted) {
      listening.end();
      throw signal.reason;
    }
    this.#listening = listening;
    this.#flow = flow;
    await this.#feed(signal, flow);
    return flow;
  }

  /** Piece after piece, until the last has sounded. */
  async #pour(signal: AbortSignal, flow: Flow): Promise<void> {
    let more = true;
    let breaks = 0;
    while (more || flow.sounding) {
      if (more && flow.hungry) {
        // oxlint-disable-next-line eslint/no-await-in-loop -- pieces follow each other
        more = await this.#feed(signal, flow);
      } else {
        // oxlint-disable-next-line eslint/no-await-in-loop -- as above
        await flow.room();
      }
      signal.throwIfAborted();
      if (flow.breaks > breaks) {
        ({ breaks } = flow);
        this.#set({ said: BROKE_OFF, problem: BROKE_OFF });
      }
    }
  }

  /** One more piece; tells whether there was one. */
  async #feed(signal: AbortSignal, flow: Flow): Promise<boolean> {
    const piece = await this.#listening?.next(signal, flow.pieceFrames);
    signal.throwIfAborted();
    if (piece) {
      flow.put(piece);
    }
    return piece !== null && piece !== undefined;
  }

  #halt(): void {
    this.#abort?.abort(new DOMException('Stopped', 'AbortError'));
    this.#abort = null;
    this.#flow?.stop();
    this.#flow = null;
    this.#listening?.end();
    this.#listening = null;
  }

  #failed(error: unknown): void {
    this.#halt();
    this.#set({ playing: null, said: '', problem: `This cannot be played: ${wordsOf(error)}` });
  }

  #set(change: Partial<HearState>): void {
    this.store.update((state) => ({ ...state, ...change }));
  }
}

const BROKE_OFF = 'The sound broke off for a moment, because this computer was busy. More is made ready ahead from now on.';

const MISSING = {
  view: 'There is nothing to play yet.',
  whole: 'There is nothing to play yet.',
  pulse: 'Choose a pulse first: click it, or press full stop in the picture.',
  band: 'Mark a band first: press B in the picture.',
} as const;

function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
