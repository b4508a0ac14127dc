import type { Facts, Findings, Opened, Pulse, ReceivedCall } from '../../core/client.ts';
import type { Extent } from './extent.ts';
import { USUAL_LOOK, type PictureLook } from './picture/look.ts';
import { rememberedStrips, type Strips } from './strips/remembered.ts';
import { VERDICTS } from './words.ts';

/** What is going on with a recording. */
export type Status =
  | { readonly kind: 'waiting' }
  | { readonly kind: 'opening' }
  | { readonly kind: 'ready' }
  | { readonly kind: 'measuring'; readonly share: number }
  | { readonly kind: 'measured' }
  | { readonly kind: 'stopped' }
  | { readonly kind: 'failed'; readonly message: string; readonly advice: string };

/** A call that came in a link. */
export interface CallFromLink {
  readonly received: ReceivedCall;
  /** The link's text, by which an address names it. */
  readonly text: string;
}

/** A recording in the list, as far as it is known by now. */
export interface Recording {
  readonly id: number;
  readonly name: string;
  readonly file: File;
  /** Whether it is one of the samples, so that an address can name it. */
  readonly sample: boolean;
  /** What came with it, where it came in a call link. */
  readonly call: CallFromLink | null;
  /** Where it lies beside the page, as the link has it; null for any other. */
  readonly hosted: string | null;
  /** Where in the Night place it was opened, in that place's words; null for any other. */
  readonly from: string | null;
  readonly status: Status;
  readonly opened: Opened | null;
  /** Counted from 0. */
  readonly channel: number;
  /** What the person said of the time expansion; null: what the file says. */
  readonly expansion: number | null;
  readonly findings: Findings;
  /** One of the pulses or of the doubted sounds. */
  readonly selected: Pulse | null;
  /**
   * The sounds that are picked for comparing, by their start, seconds: every news of a measurement brings new objects
   * for the same sounds.
   */
  readonly picked: ReadonlySet<number>;
  readonly extent: Extent | null;
  /** The stretch of time and frequency that the person marked. */
  readonly band: Extent | null;
}

/** What a person wants to see of all recordings. */
export interface Shown {
  /** Whether doubted sounds stand among the pulses. */
  readonly doubted: boolean;
  /** Whether numbers have their uncertainty beside them. */
  readonly uncertainty: boolean;
  /** Whether a saved table says what it holds, in lines that begin with #. */
  readonly about: boolean;
  /** The leaf below the picture, by its `id`. */
  readonly leaf: string;
  /** The strips beside the picture. */
  readonly strips: Strips;
  /** How pictures look beside their colours. */
  readonly look: PictureLook;
}

/** All recordings of this visit; they are kept in memory only. */
export interface Recordings {
  readonly list: readonly Recording[];
  readonly currentId: number | null;
  readonly shown: Shown;
}

export const NONE: Recordings = {
  list: [],
  currentId: null,
  shown: {
    doubted: false,
    uncertainty: true,
    about: true,
    leaf: 'table',
    strips: rememberedStrips(),
    look: USUAL_LOOK,
  },
};

/** The findings of a recording that is not measured yet. */
export const NOTHING_YET: Findings = {
  pulses: [],
  doubted: [],
  summary: { verdict: 'probably_none', sequences: [], buzzes: [], doubts: [], tones_khz: [] },
};

export function current(recordings: Recordings): Recording | null {
  return find(recordings, recordings.currentId);
}

export function find(recordings: Recordings, id: number | null): Recording | null {
  return recordings.list.find((recording) => recording.id === id) ?? null;
}

/** `recordings` with one of them changed. */
export function changed(
  recordings: Recordings,
  id: number,
  change: Partial<Recording>,
): Recordings {
  return {
    ...recordings,
    list: recordings.list.map((recording) =>
      recording.id === id ? { ...recording, ...change } : recording,
    ),
  };
}

export function factsOf(recording: Recording): Facts | null {
  return recording.opened?.facts ?? null;
}

/** Whether it is open, or may still turn out to be a recording. */
export function isReadable(recording: Recording): boolean {
  return recording.opened !== null || recording.status.kind !== 'failed';
}

/** Whether measuring has come to an end, whichever: what is not there then will not come. */
export function hasEnded({ status: { kind } }: Recording): boolean {
  return kind === 'measured' || kind === 'stopped' || kind === 'failed';
}

/** "14 pulses", "1 pulse", "no pulses". */
export function countOf(pulses: readonly Pulse[]): string {
  if (pulses.length === 0) {
    return 'no pulses';
  }
  return pulses.length === 1 ? '1 pulse' : `${pulses.length} pulses`;
}

/** "holds 14 pulses", "unsure: 1 pulse", "probably no bat pulses". */
function verdictOf({ pulses, summary }: Findings): string {
  const { label, short } = VERDICTS[summary.verdict];
  return short === null ? label.toLowerCase() : `${short} ${countOf(pulses)}`;
}

/** What is going on, in the words of the list. */
export function statusWords(recording: Recording): string {
  const { status } = recording;
  switch (status.kind) {
    case 'waiting':
    case 'ready':
      return 'waiting';
    case 'opening':
      return 'opening';
    case 'measuring':
      return `measuring, ${Math.round(status.share * 100)} %`;
    case 'measured':
      return verdictOf(recording.findings);
    case 'stopped':
      return `stopped, ${countOf(recording.findings.pulses)} so far`;
    case 'failed':
      return recording.opened ? 'could not be measured' : 'could not be read';
  }
}
