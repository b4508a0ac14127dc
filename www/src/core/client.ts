/**
 * The page's door to the core. All that is read, drawn or measured goes on in workers; drawing never waits for
 * measuring. Every call takes an AbortSignal first, and rejects with its reason when it is aborted; other failures are
 * a `Problem`.
 */

import { transfer } from 'comlink';

import type { Label as LabelGiven } from '../keep/label.ts';
import { Crew, DRAWING_LANES } from './crew.ts';
import type { Source } from './hand.ts';
import { Listening } from './listening.ts';
import { withNews } from './news.ts';
import { NightDesk } from './night/desk.ts';
import { Problem } from './problem.ts';
import type {
  Alignment,
  CallInFile,
  CallOrder,
  CallSheet,
  ColourMap,
  Comparison,
  DrawnSpectrum,
  DrawnWaveform,
  Facts,
  FigureFrame,
  FigureSound,
  FigureStyle,
  FileCopy,
  Findings,
  HandInterval,
  HandMeasurement,
  HandRequest,
  HandTable,
  ListeningSettings,
  Look,
  MadeLink,
  Noise,
  OnProgress,
  OnShare,
  OnTilePart,
  OpenOptions,
  Picture,
  Pulse,
  Rehearsed,
  Rendering,
  SpectrumView,
  Tile,
  TileCodes,
  TileFacts,
  View,
  WaveformView,
} from './types.ts';

export type { Listening } from './listening.ts';
export { Problem } from './problem.ts';
export type * from './types.ts';

const NO_HAND: HandTable = { rows: [], aside: [] };

/** The core, ready to open recordings. */
export class Core {
  readonly #crew = new Crew();
  /** The workers of the Night place. */
  readonly night = new NightDesk(this.#crew);
  #lastId = 0;

  /** Starts the workers; calls may follow at once and wait for them. */
  static start(): Core {
    return new Core();
  }

  /** What came out of the workers' rehearsal, for the page to practise on; null where there was none. */
  get rehearsed(): Promise<Rehearsed | null> {
    return this.#crew.rehearsed;
  }

  /** Opens a recording: reads what it says of itself, and none of its samples yet. */
  async open(signal: AbortSignal, file: File, options: OpenOptions): Promise<Opened> {
    this.#lastId += 1;
    const source: Source = { id: this.#lastId, file, options };
    if (options.soon) {
      // Only a start: whoever measures asks again, and gets the failure.
      this.#crew.run(signal, 'measuring', (hand) => hand.open(source)).catch(() => undefined);
    }
    const facts = await this.#crew.run(signal, 'drawing', (hand) => hand.open(source));
    return new Opened(this.#crew, source, facts);
  }

  /** A colour bar of `steps` pixels, from the floor's colour to the top's: red, green, blue, opacity. */
  legend(map: ColourMap, steps: number): Promise<Uint8ClampedArray<ArrayBuffer>> {
    const never = new AbortController().signal;
    return this.#crew.run(never, 'drawing', async (hand) => (await hand.engine()).legend(map, steps));
  }

  /** Lays pulses over one another. */
  compare(signal: AbortSignal, pulses: readonly Pulse[], alignment: Alignment): Promise<Comparison> {
    return this.#crew.run(signal, 'measuring', async (hand) => (await hand.engine()).compare(pulses, alignment));
  }

  /** The numbers of a comparison as a table of comma-separated values. */
  spreadCsv(signal: AbortSignal, comparison: Comparison): Promise<string> {
    return this.#crew.run(signal, 'measuring', async (hand) => (await hand.engine()).spreadCsv(comparison));
  }

  /** The version of Dusklens, such as `0.1.0`. */
  version(): Promise<string> {
    const never = new AbortController().signal;
    return this.#crew.run(never, 'drawing', async (hand) => (await hand.engine()).version());
  }

  /** A PNG file that says its resolution, in dots per inch; the bytes that are given are gone afterwards. */
  withResolution(signal: AbortSignal, png: Uint8Array<ArrayBuffer>, dpi: number): Promise<Uint8Array<ArrayBuffer>> {
    return this.#crew.run(signal, 'drawing', async (hand) =>
      (await hand.engine()).withResolution(transfer(png, [png.buffer]), dpi),
    );
  }

  /** A table of comma-separated values with tabs instead, as spreadsheets take it from the clipboard. */
  tabbed(signal: AbortSignal, table: string): Promise<string> {
    return this.#crew.run(signal, 'measuring', async (hand) => (await hand.engine()).tabbed(table));
  }

  /** Reads a call link: an address with it, or its text alone. */
  readCall(signal: AbortSignal, text: string): Promise<CallInFile> {
    return this.#crew.run(signal, 'measuring', async (hand) => (await hand.engine()).readCall(text));
  }

  /** How is measured, in some sentences without a word of a recording. */
  aboutMethod(signal: AbortSignal): Promise<string[]> {
    return this.#crew.run(signal, 'measuring', async (hand) => (await hand.engine()).aboutMethod());
  }

  /** A QR code of a text, as SVG. */
  qrCode(signal: AbortSignal, text: string): Promise<string> {
    return this.#crew.run(signal, 'measuring', async (hand) => (await hand.engine()).qrCode(text));
  }

  /** A call sheet: one HTML file that needs nothing else. */
  callSheet(signal: AbortSignal, sheet: CallSheet): Promise<string> {
    return this.#crew.run(signal, 'measuring', async (hand) => (await hand.engine()).callSheet(sheet));
  }

  /** Ends all workers. Nothing can be called afterwards. */
  dispose(): void {
    this.#crew.dispose();
  }
}

/** A recording that is open. */
export class Opened {
  readonly #crew: Crew;
  readonly #source: Source;
  readonly #measured = new Map<number, Findings>();
  /** The file's name. */
  readonly name: string;
  /** What the recording says of itself. */
  readonly facts: Facts;

  constructor(crew: Crew, source: Source, facts: Facts) {
    this.#crew = crew;
    this.#source = source;
    this.name = source.file.name;
    this.facts = facts;
  }

  /** Draws a small view, such as of one pulse, without getting in the way of the picture that is being drawn. */
  drawBeside(signal: AbortSignal, view: View, look: Look): Promise<Picture> {
    return this.#crew.run(signal, 'measuring', (hand, job) =>
      hand.workOn(this.#source, (engine) => engine.draw(job, this.#source.id, view, look)),
    );
  }

  /** How many tiles can be drawn side by side. */
  get drawers(): number {
    return DRAWING_LANES.length;
  }

  /** The noise of a channel, which the colours of its pictures begin at. */
  survey(signal: AbortSignal, channel: number): Promise<Noise> {
    return this.#crew.run(signal, 'drawing', (hand, job) =>
      hand.workOn(this.#source, (engine) => engine.survey(job, this.#source.id, channel)),
    );
  }

  /**
   * Draws tiles of `rows` rows each that lie upon one another, by one of the `drawers`. `onPart` is shown them as they
   * grow, where that takes long.
   */
  tiles(
    signal: AbortSignal,
    drawer: number,
    pile: Tile,
    rows: number,
    rendering: Rendering,
    onPart: OnTilePart,
  ): Promise<TileCodes> {
    return withNews(signal, onPart, (told) =>
      this.#crew.run(signal, DRAWING_LANES[drawer] ?? 'drawing', (hand, job) =>
        hand.workOn(this.#source, (engine) => engine.tiles(job, this.#source.id, pile, rows, rendering, told)),
      ),
    );
  }

  /** What there is to say of a tile's level in a recording with such noise. */
  tileFacts(signal: AbortSignal, tile: Tile, rendering: Rendering, noise: Noise): Promise<TileFacts> {
    return this.#crew.run(signal, 'drawing', async (hand) =>
      (await hand.engine()).tileFacts(tile, rendering, noise, this.facts.rate_hz),
    );
  }

  /** Finds and measures all that sounds in a channel, counted from 0. */
  async measure(signal: AbortSignal, channel: number, onProgress: OnProgress): Promise<Findings> {
    const findings = await withNews(signal, onProgress, (told) =>
      this.#crew.run(signal, 'measuring', (hand, job) =>
        hand.workOn(this.#source, (engine) => engine.measure(job, this.#source.id, channel, told)),
      ),
    );
    this.#measured.set(channel, findings);
    return findings;
  }

  /** The lowest and highest samples of a view, column by column. */
  waveform(signal: AbortSignal, view: WaveformView): Promise<DrawnWaveform> {
    return this.#crew.run(signal, 'drawing', (hand, job) =>
      hand.workOn(this.#source, (engine) => engine.waveform(job, this.#source.id, view)),
    );
  }

  /** The power spectrum of a stretch. */
  spectrum(signal: AbortSignal, view: SpectrumView): Promise<DrawnSpectrum> {
    return this.#crew.run(signal, 'drawing', (hand, job) =>
      hand.workOn(this.#source, (engine) => engine.spectrum(job, this.#source.id, view)),
    );
  }

  /** Measures what a person marked, by the definitions of the automatic numbers. */
  measureByHand(signal: AbortSignal, channel: number, request: HandRequest): Promise<HandMeasurement> {
    return this.#crew.run(signal, 'measuring', (hand, job) =>
      hand.workOn(this.#source, (engine) => engine.measureByHand(job, this.#source.id, channel, request)),
    );
  }

  /** The interval between two pulses. */
  handInterval(signal: AbortSignal, one: Pulse, other: Pulse): Promise<HandInterval> {
    return this.#crew.run(signal, 'measuring', async (hand) => (await hand.engine()).handInterval(one, other));
  }

  /**
   * The table of a channel's last measurement with what a person made of it; without hand entries as the command line
   * writes it.
   */
  async csv(signal: AbortSignal, channel: number, table: HandTable = NO_HAND): Promise<string> {
    const findings = this.#measured.get(channel);
    if (findings === undefined) {
      throw new Problem('This channel has not been measured to its end.', 'Measure it, then save the table.');
    }
    return this.#crew.run(signal, 'measuring', async (hand) => (await hand.engine()).csv(this.name, findings, table));
  }

  /** A table of this recording with lines that say what its columns mean, what was measured and how. */
  withAbout(signal: AbortSignal, table: string, channel: number): Promise<string> {
    return this.#crew.run(signal, 'measuring', async (hand) =>
      (await hand.engine()).withAbout(table, this.name, this.facts, channel),
    );
  }

  /** What a record on paper says of the recording and of how it was measured: some sentences. */
  aboutMeasuring(signal: AbortSignal, channel: number): Promise<string[]> {
    return this.#crew.run(signal, 'measuring', async (hand) =>
      (await hand.engine()).aboutMeasuring(this.name, this.facts, channel),
    );
  }

  /** A figure for a report, as SVG. */
  figure(
    signal: AbortSignal,
    frame: FigureFrame,
    style: FigureStyle,
    sounds: readonly FigureSound[],
    onShare: OnShare,
  ): Promise<string> {
    return withNews(signal, onShare, (told) =>
      this.#crew.run(signal, 'drawing', (hand, job) =>
        hand.workOn(this.#source, (engine) =>
          engine.figure(job, this.#source.id, this.name, frame, style, sounds, told),
        ),
      ),
    );
  }

  /** The SHA-256 of the file's content, by which it is known again under any name: 64 small hexadecimal digits. */
  hash(signal: AbortSignal, onShare: OnShare): Promise<string> {
    return withNews(signal, onShare, (told) =>
      this.#crew.run(signal, 'measuring', (hand, job) =>
        hand.workOn(this.#source, (engine) => engine.hash(job, this.#source.id, told)),
      ),
    );
  }

  /** A copy of the file that carries these labels in its metadata. The file itself is only read. */
  labelledCopy(signal: AbortSignal, labels: readonly LabelGiven[]): Promise<FileCopy> {
    const given = labels.map((label) => Object.assign({}, label, { about: [...label.about] }));
    return this.#crew.run(signal, 'drawing', (hand, job) =>
      hand.workOn(this.#source, (engine) => engine.labelledCopy(job, this.#source.id, given)),
    );
  }

  /** Puts pulses of a channel, counted from 0, into a link. */
  link(signal: AbortSignal, channel: number, order: CallOrder, onShare: OnShare): Promise<MadeLink> {
    return withNews(signal, onShare, (told) =>
      this.#crew.run(signal, 'measuring', (hand, job) =>
        hand.workOn(this.#source, (engine) => engine.link(job, this.#source.id, channel, order, told)),
      ),
    );
  }

  /** Prepares to hear a channel, counted from 0, at the loudspeaker's rate, in a worker of its own. */
  listen(signal: AbortSignal, channel: number, settings: ListeningSettings, outputHz: number): Promise<Listening> {
    return Listening.begin(signal, this.#crew, this.#source, channel, settings, outputHz);
  }

  /** Makes a WAV file of what would be heard. */
  soundFile(
    signal: AbortSignal,
    channel: number,
    settings: ListeningSettings,
    outputHz: number,
    onShare: OnShare,
  ): Promise<Blob> {
    return Listening.file(signal, this.#crew, this.#source, channel, settings, outputHz, onShare);
  }

  /** Lets go of the file. */
  close(): void {
    this.#measured.clear();
    this.#crew.close(this.#source);
  }
}
