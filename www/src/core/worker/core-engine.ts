/** What a worker does for the page. */

import { transfer } from 'comlink';

import type {
  Alignment,
  CallInFile,
  CallOrder,
  CallSheet,
  Comparison,
  DrawnSpectrum,
  DrawnWaveform,
  Engine,
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
  SoundPiece,
  Rendering,
  SpectrumView,
  Tile,
  TileCodes,
  TileFacts,
  View,
  WaveformView,
} from '../types.ts';
import {
  about_measuring,
  about_method,
  call_sheet,
  compare,
  csv_by_hand,
  csv_with_about,
  hand_interval,
  initSync,
  legend,
  OpenedFile,
  png_with_resolution,
  qr_code,
  read_call,
  rehearsal,
  spreadCsv,
  tabbed,
  tileFacts,
  version,
  type DrawingJob,
  type FigureJob,
  type Label,
} from '../wasm/dusklens_web.js';
import { assembled } from './copies.ts';
import { Drawings } from './drawings.ts';
import { Cancelled, inSteps, Jobs, Throttle, type Check } from './jobs.ts';
import { Larder } from './larder.ts';
import { Listenings, WaveFile } from './listenings.ts';
import { Book } from './night/book.ts';
import { Examiner } from './night/examining.ts';
import { sideOf } from './side.ts';
import { spectrumOf, waveformOf } from './strips.ts';
import { guard, thrown } from './thrown.ts';
import { drawPile, lookAround, rehearsePile } from './tiles.ts';

/** How often a measurement tells how far it has come. */
const PROGRESS_EVERY_MS = 100;

/** A recording that is open here. */
interface Entry {
  readonly file: Blob;
  readonly opened: OpenedFile;
}

/** The core of one worker, as the page calls it. Everything that it throws is a `Thrown`. */
export class CoreEngine implements Engine {
  readonly #jobs = new Jobs();
  readonly #drawings = new Drawings<DrawingJob>();
  readonly #figures = new Drawings<FigureJob>();
  readonly #listenings = new Listenings();
  readonly #opened = new Map<number, Entry>();
  readonly #larder = new Larder<Entry>((entry, bytes) => entry.opened.keep(bytes));

  start(core: WebAssembly.Module | BufferSource): void {
    guard(() => initSync({ module: core }));
  }

  async rehearse(): Promise<Rehearsed> {
    const opened = new OpenedFile(new Blob([rehearsal() as Uint8Array<ArrayBuffer>]), undefined);
    const facts = opened.facts();
    const measuring = opened.measure(0);
    try {
      await rehearsePile(opened);
      await inSteps(nothing, () => measuring.step(), nothing);
      return { facts, findings: measuring.findings() };
    } finally {
      measuring.free();
      opened.free();
    }
  }

  open(recording: number, file: Blob, options: OpenOptions): Facts {
    return guard(() => {
      const opened = new OpenedFile(file, options.expansion ?? undefined);
      this.close(recording);
      const entry = { file, opened };
      this.#opened.set(recording, entry);
      if (options.soon) {
        void this.#larder.bring(entry);
      }
      return opened.facts();
    });
  }

  close(recording: number): void {
    this.#drawings.clear();
    this.#figures.clear();
    const entry = this.#opened.get(recording);
    if (entry !== undefined) {
      this.#larder.drop(entry);
      entry.opened.free();
      this.#opened.delete(recording);
    }
  }

  draw(job: number, recording: number, view: View, look: Look): Promise<Picture> {
    return this.#job(job, async (check) => {
      const opened = await this.#atHand(recording, check);
      const key = JSON.stringify([recording, view]);
      return this.#drawings.use(key, () => opened.draw(view), async (drawing) => {
        await inSteps(check, () => drawing.step(), nothing);
        return picture(drawing, look);
      });
    });
  }

  survey(job: number, recording: number, channel: number): Promise<Noise> {
    return this.#job(job, async (check) => lookAround(await this.#atHand(recording, check), channel, check));
  }

  tiles(
    job: number,
    recording: number,
    pile: Tile,
    rows: number,
    rendering: Rendering,
    onPart: OnTilePart | null,
  ): Promise<TileCodes> {
    return this.#job(job, async (check) => {
      const opened = await this.#atHand(recording, check);
      return drawPile(opened, pile, rows, rendering, check, onPart);
    });
  }

  tileFacts(tile: Tile, rendering: Rendering, noise: Noise, rate_hz: number): TileFacts {
    return guard(() => tileFacts(tile, rendering, noise, rate_hz));
  }

  measure(job: number, recording: number, channel: number, onProgress: OnProgress): Promise<Findings> {
    return this.#job(job, async (check) => {
      const opened = await this.#atHand(recording, check);
      const measuring = opened.measure(channel);
      const throttle = new Throttle(PROGRESS_EVERY_MS);
      const tell = () => {
        onProgress({ done_s: measuring.done_s, total_s: measuring.total_s, findings: measuring.findings() });
      };
      try {
        await inSteps(check, () => measuring.step(), () => throttle.pass(tell));
        return measuring.findings();
      } finally {
        measuring.free();
      }
    });
  }

  waveform(job: number, recording: number, view: WaveformView): Promise<DrawnWaveform> {
    return this.#job(job, async (check) => waveformOf(check, await this.#atHand(recording, check), view));
  }

  spectrum(job: number, recording: number, view: SpectrumView): Promise<DrawnSpectrum> {
    return this.#job(job, async (check) => spectrumOf(check, await this.#atHand(recording, check), view));
  }

  measureByHand(job: number, recording: number, channel: number, request: HandRequest): Promise<HandMeasurement> {
    return this.#job(job, async (check) => (await this.#atHand(recording, check)).measure_by_hand(channel, request));
  }

  handInterval(one: Pulse, other: Pulse): HandInterval {
    return guard(() => hand_interval(one, other));
  }

  csv(name: string, findings: Findings, hand: HandTable): string {
    return guard(() => csv_by_hand(name, findings, [...hand.rows], [...hand.aside]));
  }

  figure(
    job: number,
    recording: number,
    file: string,
    frame: FigureFrame,
    style: FigureStyle,
    sounds: readonly FigureSound[],
    onShare: OnShare,
  ): Promise<string> {
    return this.#job(job, async (check) => {
      const opened = await this.#atHand(recording, check);
      const key = JSON.stringify([recording, frame]);
      return this.#figures.use(key, () => opened.figure(frame), async (figure) => {
        const throttle = new Throttle(PROGRESS_EVERY_MS);
        await inSteps(check, () => figure.step(), () => throttle.pass(() => onShare(figure.done_fraction)));
        return figure.svg(file, style, [...sounds]);
      });
    });
  }

  withResolution(png: Uint8Array<ArrayBuffer>, dpi: number): Uint8Array<ArrayBuffer> {
    return guard(() => {
      // The core returns it in a buffer of its own, which its declarations cannot say.
      const told = png_with_resolution(png, dpi) as Uint8Array<ArrayBuffer>;
      return transfer(told, [told.buffer]);
    });
  }

  withAbout(table: string, file: string, facts: Facts, channel: number): string {
    return guard(() => csv_with_about(table, file, facts, channel));
  }

  tabbed(table: string): string {
    return guard(() => tabbed(table));
  }

  aboutMeasuring(file: string, facts: Facts, channel: number): string[] {
    return guard(() => about_measuring(file, facts, channel));
  }

  aboutMethod(): string[] {
    return guard(() => about_method());
  }

  hash(job: number, recording: number, onShare: OnShare): Promise<string> {
    return this.#job(job, async (check) => {
      const hashing = (await this.#atHand(recording, check)).hash();
      const throttle = new Throttle(PROGRESS_EVERY_MS);
      try {
        await inSteps(check, () => hashing.step(), () => throttle.pass(() => onShare(hashing.done_fraction)));
        return hashing.hex;
      } finally {
        hashing.free();
      }
    });
  }

  compare(pulses: readonly Pulse[], alignment: Alignment): Comparison {
    return guard(() => compare(pulses as Pulse[], alignment));
  }

  spreadCsv(comparison: Comparison): string {
    return guard(() => spreadCsv(comparison));
  }

  labelledCopy(job: number, recording: number, labels: Label[]): Promise<FileCopy> {
    return this.#job(job, async (check) => {
      const opened = await this.#atHand(recording, check);
      const file = this.#opened.get(recording)?.file ?? new Blob();
      return assembled(file, opened.labelled_copy(labels));
    });
  }

  version(): string {
    return guard(() => version());
  }

  legend(map: Look['map'], steps: number): Uint8ClampedArray<ArrayBuffer> {
    return guard(() => handOver(legend(map, steps)));
  }

  listen(
    job: number,
    listening: number,
    recording: number,
    channel: number,
    settings: ListeningSettings,
    outputHz: number,
  ): Promise<void> {
    return this.#job(job, async (check) => {
      const opened = await this.#atHand(recording, check);
      this.#listenings.begin(listening, opened, channel, settings, outputHz);
    });
  }

  hear(listening: number, most: number): SoundPiece | null {
    return guard(() => this.#listenings.next(listening, most));
  }

  tune(listening: number, tuningKhz: number): void {
    guard(() => this.#listenings.tune(listening, tuningKhz));
  }

  endListening(listening: number): void {
    guard(() => this.#listenings.end(listening));
  }

  waveFile(
    job: number,
    recording: number,
    channel: number,
    settings: ListeningSettings,
    outputHz: number,
    name: string,
    onShare: OnShare,
  ): Promise<Blob> {
    return this.#job(job, async (check) => {
      const opened = await this.#atHand(recording, check);
      const making = new WaveFile(opened, channel, settings, outputHz, name);
      const throttle = new Throttle(PROGRESS_EVERY_MS);
      try {
        await inSteps(check, () => making.step(), () => throttle.pass(() => onShare(making.share)));
        return making.file();
      } finally {
        making.free();
      }
    });
  }

  link(job: number, recording: number, channel: number, order: CallOrder, onShare: OnShare): Promise<MadeLink> {
    return this.#job(job, async (check) => {
      const opened = await this.#atHand(recording, check);
      const making = opened.link(channel, order);
      const throttle = new Throttle(PROGRESS_EVERY_MS);
      try {
        await inSteps(check, () => making.step(), () => throttle.pass(() => onShare(making.done_fraction)));
        return making.made();
      } finally {
        making.free();
      }
    });
  }

  qrCode(text: string): string {
    return guard(() => qr_code(text));
  }

  callSheet(sheet: CallSheet): string {
    return guard(() => call_sheet(sheet));
  }

  readCall(text: string): CallInFile {
    return guard(() => {
      const read = read_call(text);
      try {
        // A buffer of its own, which its declarations cannot say.
        const bytes = read.bytes() as Uint8Array<ArrayBuffer>;
        return transfer({ call: read.call(), bytes }, [bytes.buffer]);
      } finally {
        read.free();
      }
    });
  }

  examiner(): MessagePort {
    return sideOf(new Examiner(this.#jobs));
  }

  book(): MessagePort {
    return sideOf(new Book());
  }

  cancel(job: number): void {
    this.#jobs.cancel(job);
  }

  /** A recording that is open here, with its bytes at hand if that can be. */
  async #atHand(recording: number, check: Check): Promise<OpenedFile> {
    const entry = this.#opened.get(recording);
    if (entry === undefined) {
      throw new Error(`recording ${recording} is not open in this worker`);
    }
    await this.#larder.bring(entry);
    check();
    if (this.#opened.get(recording) !== entry) {
      // It was closed in the meantime.
      throw new Cancelled();
    }
    return entry.opened;
  }

  async #job<T>(job: number, work: (check: Check) => Promise<T>): Promise<T> {
    try {
      return await this.#jobs.run(job, work);
    } catch (error) {
      throw thrown(error);
    }
  }
}

/** What is painted so far, in a buffer that is handed over to the page. */
function picture(drawing: DrawingJob, look: Look): Picture {
  const facts = drawing.paint(look);
  const pixels = handOver(drawing.pixels());
  return transfer({ ...facts, pixels }, [pixels.buffer]);
}

/** Marks pixels to be moved to the page and not copied. */
function handOver(pixels: Uint8ClampedArray): Uint8ClampedArray<ArrayBuffer> {
  // The core returns them in a buffer of their own, which its declarations cannot say.
  const own = pixels as Uint8ClampedArray<ArrayBuffer>;
  return transfer(own, [own.buffer]);
}

function nothing(): void {
  // For where nothing is to be done.
}
