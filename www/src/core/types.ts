/** The types that the page and its workers share. Those of the core itself are made from the Rust sources. */

import type {
  Alignment,
  CallOrder,
  CallSheet,
  Comparison,
  Facts,
  FigureFrame,
  FigureSound,
  FigureStyle,
  Findings,
  HandInterval,
  HandMeasurement,
  HandRequest,
  HandRow,
  Label,
  ListeningSettings,
  Look,
  MadeLink,
  Noise,
  PaintedFacts,
  PieceFacts,
  Pulse,
  ReceivedCall,
  Rendering,
  SetAside,
  SpectrumFacts,
  SpectrumView,
  Tile,
  TileFacts,
  View,
  WaveformFacts,
  WaveformView,
} from './wasm/dusklens_web.js';

export type {
  Alignment,
  Band,
  Buzz,
  CallContent,
  CallOrder,
  CallSheet,
  Check,
  CheckSoFar,
  CheckVerdict,
  ColourMap,
  Comparison,
  Contour,
  ContourPoint,
  Course,
  Crowd,
  Decisions,
  Doubt,
  DoubtCount,
  DrawnFiles,
  ExaminedFile,
  ExamineOptions,
  Expansion,
  ExpansionGuess,
  ExpansionOrigin,
  Facts,
  Field,
  FigureFrame,
  FigureLines,
  FigureSound,
  FigureStyle,
  Findings,
  Flag,
  Frame,
  Group,
  GroupCount,
  HandInterval,
  HandKind,
  HandMeasurement,
  HandNote,
  HandRequest,
  HandRow,
  Harmonic,
  Identification,
  Label,
  LabelCount,
  ListeningSettings,
  Look,
  MadeLink,
  Measure,
  Method,
  MissRate,
  NightChecks,
  NightFacts,
  NightKey,
  NightPlots,
  NightSettings,
  NightTable,
  Noise,
  Notice,
  Order,
  Overview,
  PaintedFacts,
  PieceFacts,
  Place,
  PlaceSharing,
  Plot,
  Position,
  PowerMethod,
  Pulse,
  ReceivedCall,
  Rendering,
  ReportOrder,
  Resolution,
  Review,
  ReviewVerdict,
  Row,
  SentPulse,
  SequenceFacts,
  SetAside,
  Shape,
  SpectrumFacts,
  SpectrumView,
  Spread,
  Stamp,
  StampOrigin,
  StandsOut,
  Stretch,
  Summary,
  Tile,
  TileFacts,
  TimeOrigin,
  Timer,
  TimerEdge,
  Totals,
  Twilight,
  Uncertainty,
  UnreadableFile,
  Verdict,
  View,
  Wanted,
  WaveformFacts,
  WaveformView,
  Window as SpectrumWindow,
} from './wasm/dusklens_web.js';

/** A painted picture. Its pixels may be handed straight to `new ImageData`. */
export interface Picture extends PaintedFacts {
  /** Red, green, blue, opacity; row after row from the highest frequency down. */
  pixels: Uint8ClampedArray<ArrayBuffer>;
}

/** A waveform. */
export interface DrawnWaveform extends WaveformFacts {
  /** Full scale 1: the lowest and the highest of each column, or all samples one by one. */
  values: Float32Array<ArrayBuffer>;
}

/** A power spectrum. */
export interface DrawnSpectrum extends SpectrumFacts {
  /** Decibels re full scale, from 0 kHz on. */
  levels_db: Float32Array<ArrayBuffer>;
}

/** A piece of sound. */
export interface SoundPiece extends PieceFacts {
  /** Full scale 1, never above half of it. */
  samples: Float32Array<ArrayBuffer>;
}

/** How far a measurement has come. */
export interface Progress {
  done_s: number;
  total_s: number;
  /** All that was found so far; order and grouping may still change. */
  findings: Findings;
}

/** A copy of a file, and what in it is other than wanted. */
export interface FileCopy {
  /** Put together by the browser from slices of the original; it is not in memory. */
  file: Blob;
  /** What is other than in the original besides the labels, as sentences. */
  notices: string[];
}

/** A call that came in a link. */
export interface CallInFile {
  /** What its sender says. */
  readonly call: ReceivedCall;
  /** Its sound, as a WAV file. */
  readonly bytes: Uint8Array<ArrayBuffer>;
}

/** What a person decides before a recording is opened. */
export interface OpenOptions {
  /** The time expansion as the person knows it; null leaves it to the file. */
  expansion: number | null;
  /** Whether it will be looked at and measured at once: its samples are then read along with its headers. */
  soon: boolean;
}

/** What a made-up recording says of itself, and what was measured in it. */
export interface Rehearsed {
  facts: Facts;
  findings: Findings;
}

/** What a person made of the pulses of a recording, for its table. */
export interface HandTable {
  readonly rows: readonly HandRow[];
  readonly aside: readonly SetAside[];
}

/** The levels of a pile of tiles, each in rows from above: 128 to a decibel, counted from -240 dB re full scale. */
export type TileCodes = Uint16Array<ArrayBuffer>[];

/** Takes a part of a pile of tiles: its levels so far, and how much of it is done, 0 to 1. */
export type OnTilePart = (codes: TileCodes, doneFraction: number) => void;

/** Takes how much of a work is done, 0 to 1. */
export type OnShare = (share: number) => void;

/** Takes the news of a measurement. */
export type OnProgress = (progress: Progress) => void;

/**
 * What a worker does, as it is called from the page. A recording and a job are known by numbers that the page gives
 * out; a job is what can be cancelled.
 */
export interface Engine {
  /** Makes the core ready; everything else waits for this. */
  start(core: WebAssembly.Module | BufferSource): void;
  /**
   * Practises on a made-up recording, so that the browser has compiled well what the person's first one needs. Returns
   * what came out, for others to practise on.
   */
  rehearse(): Promise<Rehearsed>;
  open(recording: number, file: Blob, options: OpenOptions): Facts;
  close(recording: number): void;
  draw(job: number, recording: number, view: View, look: Look): Promise<Picture>;
  /** The noise of a channel, which the colours of its pictures begin at. */
  survey(job: number, recording: number, channel: number): Promise<Noise>;
  /** Draws tiles of `rows` rows each that lie upon one another. */
  tiles(
    job: number,
    recording: number,
    pile: Tile,
    rows: number,
    rendering: Rendering,
    onPart: OnTilePart | null,
  ): Promise<TileCodes>;
  /** What there is to say of a tile's level in a recording with such noise. */
  tileFacts(tile: Tile, rendering: Rendering, noise: Noise, rate_hz: number): TileFacts;
  measure(job: number, recording: number, channel: number, onProgress: OnProgress): Promise<Findings>;
  compare(pulses: readonly Pulse[], alignment: Alignment): Comparison;
  spreadCsv(comparison: Comparison): string;
  waveform(job: number, recording: number, view: WaveformView): Promise<DrawnWaveform>;
  spectrum(job: number, recording: number, view: SpectrumView): Promise<DrawnSpectrum>;
  measureByHand(job: number, recording: number, channel: number, request: HandRequest): Promise<HandMeasurement>;
  handInterval(one: Pulse, other: Pulse): HandInterval;
  csv(name: string, findings: Findings, hand: HandTable): string;
  /** A figure as SVG. */
  figure(
    job: number,
    recording: number,
    file: string,
    frame: FigureFrame,
    style: FigureStyle,
    sounds: readonly FigureSound[],
    onShare: OnShare,
  ): Promise<string>;
  /** A PNG file that says its resolution, dots per inch. */
  withResolution(png: Uint8Array<ArrayBuffer>, dpi: number): Uint8Array<ArrayBuffer>;
  /** A table with lines that say what its columns mean, what was measured and how. */
  withAbout(table: string, file: string, facts: Facts, channel: number): string;
  /** A table with tabs between its cells. */
  tabbed(table: string): string;
  /** What a record on paper says of how it was made. */
  aboutMeasuring(file: string, facts: Facts, channel: number): string[];
  /** How was measured, without a word of a recording. */
  aboutMethod(): string[];
  /** The SHA-256 of the file's content, 64 small hexadecimal digits. */
  hash(job: number, recording: number, onShare: OnShare): Promise<string>;
  /** A copy of the file that carries these labels. */
  labelledCopy(job: number, recording: number, labels: Label[]): Promise<FileCopy>;
  /** The version of the core. */
  version(): string;
  legend(map: Look['map'], steps: number): Uint8ClampedArray<ArrayBuffer>;
  /** Prepares a listening, which the page gave a number. */
  listen(
    job: number,
    listening: number,
    recording: number,
    channel: number,
    settings: ListeningSettings,
    outputHz: number,
  ): Promise<void>;
  hear(listening: number, most: number): SoundPiece | null;
  tune(listening: number, tuningKhz: number): void;
  endListening(listening: number): void;
  /** A WAV file of what would be heard. */
  waveFile(
    job: number,
    recording: number,
    channel: number,
    settings: ListeningSettings,
    outputHz: number,
    name: string,
    onShare: OnShare,
  ): Promise<Blob>;
  /** Puts pulses into a link. */
  link(job: number, recording: number, channel: number, order: CallOrder, onShare: OnShare): Promise<MadeLink>;
  /** A QR code, as SVG. */
  qrCode(text: string): string;
  /** A call sheet, as HTML. */
  callSheet(sheet: CallSheet): string;
  /** Reads a call link. */
  readCall(text: string): CallInFile;
  /** A way to this worker as one that examines files of a card; see `ExaminerSide`. */
  examiner(): MessagePort;
  /** A way to this worker as the one that gathers what was found on a card; see `BookSide`. */
  book(): MessagePort;
  /** Asks a job to end at its next step. */
  cancel(job: number): void;
}

/** What a worker throws: a problem for the person, a job's end by request, or a fault of ours. */
export type Thrown =
  | { kind: 'problem'; message: string; advice: string; byte: number | null }
  | { kind: 'cancelled' }
  | { kind: 'fault'; message: string };

/** What a worker posts beside its answers: that it cannot take a compiled module and needs the bytes. */
export const NEEDS_BYTES = 'dusklens: needs bytes';
