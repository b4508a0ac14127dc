/** A recording on its way to somebody's ears, as the page asks for it. */

import type { Crew } from './crew.ts';
import type { Source } from './hand.ts';
import { withNews } from './news.ts';
import type { ListeningSettings, OnShare, SoundPiece } from './types.ts';

let lastId = 0;

/** Sound that is made piece by piece, in a worker that does nothing else. */
export class Listening {
  readonly #crew: Crew;
  readonly #id: number;

  private constructor(crew: Crew, id: number) {
    this.#crew = crew;
    this.#id = id;
  }

  /** Prepares to hear a channel, counted from 0, as the settings say, at the loudspeaker's rate. */
  static async begin(
    signal: AbortSignal,
    crew: Crew,
    source: Source,
    channel: number,
    settings: ListeningSettings,
    outputHz: number,
  ): Promise<Listening> {
    lastId += 1;
    const id = lastId;
    const listening = new Listening(crew, id);
    try {
      await crew.run(signal, 'listening', (hand, job) =>
        hand.workOn(source, (engine) => engine.listen(job, id, source.id, channel, settings, outputHz)),
      );
    } catch (error) {
      // It may have been prepared all the same.
      listening.end();
      throw error;
    }
    return listening;
  }

  /** The next piece, of at most so many samples; null where it is over. */
  next(signal: AbortSignal, most: number): Promise<SoundPiece | null> {
    return this.#crew.run(signal, 'listening', async (hand) => (await hand.engine()).hear(this.#id, most));
  }

  /** Tunes a heterodyne anew from the next piece on. */
  async tune(signal: AbortSignal, tuningKhz: number): Promise<void> {
    await this.#crew.run(signal, 'listening', async (hand) => (await hand.engine()).tune(this.#id, tuningKhz));
  }

  /** Lets go of it. */
  end(): void {
    const never = new AbortController().signal;
    this.#crew
      .run(never, 'listening', async (hand) => (await hand.engine()).endListening(this.#id))
      // A worker that is gone has let go of it too.
      .catch(() => undefined);
  }

  /** Makes a WAV file of what would be heard. */
  static file(
    signal: AbortSignal,
    crew: Crew,
    source: Source,
    channel: number,
    settings: ListeningSettings,
    outputHz: number,
    onShare: OnShare,
  ): Promise<Blob> {
    return withNews(signal, onShare, (told) =>
      crew.run(signal, 'listening', (hand, job) =>
        hand.workOn(source, (engine) =>
          engine.waveFile(job, source.id, channel, settings, outputHz, source.file.name, told),
        ),
      ),
    );
  }
}
