import type { SoundPiece } from '../../../core/client.ts';
import { seconds, type Seconds } from '../../../units.ts';

/** How far ahead sound lies ready: a turn of the tuning is heard after this and a piece at most. */
const AHEAD_S = 0.1;
/** The most, after the computer was too busy more than once. */
const MOST_AHEAD_S = 0.5;
/** How much more lies ready after each time that was not enough. */
const MORE = 1.5;
/** From handing the first piece over to its sound. */
const LEAD_S = 0.04;
/** A sound that breaks off is faded, seconds. */
const FADE_S = 0.005;
/** A sound that is stopped is silent after this. */
const STOP_S = 0.03;
/** How many samples a piece has, in seconds. */
const PIECE_S = 0.05;

/** The computer's loudspeaker. It is made when somebody first plays something: browsers want a gesture for it. */
export class Loudspeaker {
  #context: AudioContext | null = null;
  #level: GainNode | null = null;
  #volume = 0;
  #aheadS = AHEAD_S;

  /** How loud, 0 to 1. The ear counts in ratios, so that the amplitude goes with the square. */
  set volume(volume: number) {
    this.#volume = volume;
    if (this.#context && this.#level) {
      this.#level.gain.setTargetAtTime(volume * volume, this.#context.currentTime, 0.02);
    }
  }

  /** Makes it ready; to be called from within a person's gesture. */
  async ready(): Promise<void> {
    if (!this.#context) {
      this.#context = new AudioContext();
      this.#level = this.#context.createGain();
      this.#level.gain.value = this.#volume * this.#volume;
      this.#level.connect(this.#context.destination);
    }
    await this.#context.resume();
  }

  /** Something new to play. */
  flow(): Flow {
    if (!this.#context || !this.#level) {
      throw new Error('the loudspeaker is not ready');
    }
    return new Flow(this.#context, this.#level, this.#aheadS, () => {
      this.#aheadS = Math.min(this.#aheadS * MORE, MOST_AHEAD_S);
      return this.#aheadS;
    });
  }
}

/** A piece whose moment is set, in the loudspeaker's time. */
interface Scheduled {
  readonly from: number;
  readonly to: number;
  readonly piece: SoundPiece;
  readonly source: AudioBufferSourceNode;
}

/**
 * Pieces of sound, one straight after the other on the loudspeaker's clock.
 *
 * Whole frames are counted, so that no rounding puts a gap between two pieces. What lies ready always ends in a fade, which
 * the next piece takes back: a sound that breaks off because the computer is busy does so without a click.
 */
export class Flow {
  readonly #context: AudioContext;
  readonly #edge: GainNode;
  readonly #more: () => number;
  #aheadS: number;
  #scheduled: readonly Scheduled[] = [];
  /** The frame after the last; null before the first. */
  #end: number | null = null;
  #placeS = seconds(0);
  #wake: () => void = () => undefined;
  /** How often it broke off. */
  breaks = 0;

  constructor(context: AudioContext, level: GainNode, aheadS: number, more: () => number) {
    this.#context = context;
    this.#aheadS = aheadS;
    this.#more = more;
    this.#edge = context.createGain();
    this.#edge.connect(level);
  }

  /** Frames per second. */
  get rateHz(): number {
    return this.#context.sampleRate;
  }

  /** How many frames the next piece should have. */
  get pieceFrames(): number {
    return Math.round(PIECE_S * this.rateHz);
  }

  /** Whether another piece is wanted now. */
  get hungry(): boolean {
    return this.#end === null || this.#end / this.rateHz - this.#context.currentTime < this.#aheadS;
  }

  /** Plays a piece after all others. */
  put(piece: SoundPiece): void {
    const rate = this.rateHz;
    const now = Math.ceil(this.#context.currentTime * rate);
    const fade = Math.min(FADE_S, piece.samples.length / rate / 2);
    const { gain } = this.#edge;
    let from = this.#end;
    if (from !== null && from > now) {
      gain.cancelScheduledValues(from / rate - FADE_S - 1 / rate);
    } else {
      // The first piece has a fade of its own; after a break the sound comes back gently.
      const before = from;
      from = now + Math.round(LEAD_S * rate);
      if (before !== null) {
        this.breaks += 1;
        this.#aheadS = this.#more();
        gain.setValueAtTime(0, from / rate);
        gain.linearRampToValueAtTime(1, from / rate + fade);
      }
    }
    const to = from + piece.samples.length;
    gain.setValueAtTime(1, to / rate - fade);
    gain.linearRampToValueAtTime(0, to / rate);
    const source = this.#source(piece);
    source.start(from / rate);
    this.#scheduled = [...this.#scheduled, { from: from / rate, to: to / rate, piece, source }];
    this.#end = to;
  }

  /** Waits until a piece is over, such as to have room for the next. */
  room(): Promise<void> {
    return new Promise((resolve) => {
      this.#wake = resolve;
    });
  }

  /** Whether pieces are still to come to their end. */
  get sounding(): boolean {
    return this.#end !== null && this.#end / this.rateHz > this.#context.currentTime;
  }

  /** What of the recording is heard now. */
  place(): Seconds {
    const now = this.#context.currentTime - (this.#context.outputLatency || 0);
    this.#scheduled = this.#scheduled.filter(({ to }) => to > now);
    const current = this.#scheduled[0];
    if (current) {
      const { from, to, piece } = current;
      const share = Math.max(0, (now - from) / (to - from));
      this.#placeS = seconds(piece.start_s + (piece.end_s - piece.start_s) * share);
    }
    return this.#placeS;
  }

  /** Ends all at once, without a click. */
  stop(): void {
    const now = this.#context.currentTime;
    this.#edge.gain.cancelScheduledValues(now);
    this.#edge.gain.setTargetAtTime(0, now, STOP_S / 6);
    for (const { from, source } of this.#scheduled) {
      source.stop(Math.max(from, now + STOP_S));
    }
    this.#wake();
  }

  #source(piece: SoundPiece): AudioBufferSourceNode {
    const buffer = this.#context.createBuffer(1, piece.samples.length, this.rateHz);
    buffer.copyToChannel(piece.samples, 0);
    const source = this.#context.createBufferSource();
    source.buffer = buffer;
    source.connect(this.#edge);
    source.addEventListener('ended', () => {
      source.disconnect();
      this.#wake();
    });
    return source;
  }
}
