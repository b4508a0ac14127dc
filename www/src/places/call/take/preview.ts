import type { ColourMap, FigureSound } from '../../../core/client.ts';
import { frames } from '../../../frames.ts';
import { frameOf, soundsIn, styleOf, type Choices } from './choices.ts';
import type { PictureLook } from '../picture/look.ts';
import type { Recording } from '../recordings.ts';
import type { Sound } from '../sounds.ts';
import type { Extent } from '../extent.ts';

/** All that a figure is made from. */
export interface Matter {
  readonly recording: Recording;
  readonly choices: Choices;
  readonly extent: Extent;
  readonly sounds: readonly Sound[];
  readonly map: ColourMap;
  /** How the picture looks beside its colours. */
  readonly look: PictureLook;
}

/** A figure as SVG. */
export async function made(
  signal: AbortSignal,
  { recording, choices, extent, sounds, map, look }: Matter,
  preview: boolean,
  onShare: (share: number) => void,
): Promise<string> {
  const { opened, channel } = recording;
  if (!opened) {
    throw new Error('The recording is not open.');
  }
  const frame = frameOf(choices, channel, extent, look, preview);
  const marked: readonly FigureSound[] = soundsIn(sounds, extent);
  return opened.figure(signal, frame, styleOf(choices, map, look), marked, onShare);
}

/** The picture of the figure beside its choices: made anew when they change, and shown when it is done. */
export class Preview {
  readonly #changed: () => void;
  #abort: AbortController | null = null;
  #wanted = '';
  /** The address of the picture; null before the first. */
  address: string | null = null;
  /** How much is done, 0 to 1; null: nothing is being made. */
  share: number | null = null;
  /** Why there is none. */
  problem: string | null = null;

  constructor(changed: () => void) {
    this.#changed = changed;
  }

  /** Has it made, unless it is just that. */
  want(matter: Matter): void {
    const { recording, choices, extent, sounds, map, look } = matter;
    const wanted = JSON.stringify([recording.id, recording.channel, choices, extent, sounds.map(({ name }) => name), map, look]);
    if (wanted !== this.#wanted) {
      this.#wanted = wanted;
      void frames.during(this.#make(matter));
    }
  }

  /** Lets go of it. */
  clear(): void {
    this.#abort?.abort();
    this.#abort = null;
    this.#wanted = '';
    this.share = null;
    this.problem = null;
    this.#show(null);
  }

  async #make(matter: Matter): Promise<void> {
    this.#abort?.abort(new DOMException('Other choices', 'AbortError'));
    const abort = new AbortController();
    this.#abort = abort;
    const { signal } = abort;
    this.share = 0;
    this.problem = null;
    this.#changed();
    try {
      const svg = await made(signal, matter, true, (share) => {
        this.share = share;
        this.#changed();
      });
      signal.throwIfAborted();
      this.share = null;
      this.#show(URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' })));
    } catch (error) {
      if (!signal.aborted) {
        this.share = null;
        this.problem = error instanceof Error ? error.message : String(error);
      }
    }
    this.#changed();
  }

  #show(address: string | null): void {
    if (this.address !== null) {
      URL.revokeObjectURL(this.address);
    }
    this.address = address;
  }
}
