import type { KeptRecording } from './keeper.ts';
import type { Label, Span } from './label.ts';

/** A column of the table of labels. */
interface Column {
  readonly name: string;
  readonly meaning: string;
  readonly value: (row: Row) => string;
}

interface Row {
  readonly recording: KeptRecording;
  readonly label: Label;
  /** One of the pulses it is about; null: the whole recording. */
  readonly span: Span | null;
  readonly version: string;
}

/** Decimals of times, as in the table of pulses. */
const DECIMALS = 6;

/** The columns in their order, each with what it means. */
export const LABEL_COLUMNS: readonly Column[] = [
  { name: 'file', meaning: 'name of the file when it was last labelled', value: ({ recording }) => freeText(recording.name) },
  { name: 'sha256', meaning: 'SHA-256 of the file’s content: the same under any name', value: ({ recording }) => recording.hash },
  {
    name: 'pulse',
    meaning: 'number of the pulse in the table when it was labelled; empty: the label is for the whole recording',
    value: ({ span }) => freeText(span?.name ?? ''),
  },
  { name: 'channel', meaning: 'channel of the pulse, counted from 1', value: ({ span }) => (span ? String(span.channel + 1) : '') },
  {
    name: 'start_s',
    meaning: 'start of the pulse, seconds, real time at the microphone',
    value: ({ span }) => span?.start_s.toFixed(DECIMALS) ?? '',
  },
  { name: 'end_s', meaning: 'end of the pulse, likewise', value: ({ span }) => span?.end_s.toFixed(DECIMALS) ?? '' },
  {
    name: 'expansion',
    meaning: 'time expansion that these times were measured with; 1 for real time',
    value: ({ span }) => (span ? String(span.expansion) : ''),
  },
  { name: 'label', meaning: 'the words of the label', value: ({ label }) => freeText(label.text) },
  { name: 'certainty', meaning: 'sure, probable or possible: a person’s own judgement', value: ({ label }) => label.certainty },
  { name: 'note', meaning: 'anything else that was written', value: ({ label }) => freeText(label.note) },
  { name: 'who', meaning: 'who says so', value: ({ label }) => freeText(label.who) },
  { name: 'when', meaning: 'when it was last changed: ISO 8601 with the distance from UTC', value: ({ label }) => label.when },
  { name: 'id', meaning: 'the label’s own id: rows with the same one are one label', value: ({ label }) => freeText(label.id) },
  { name: 'version', meaning: 'version of Dusklens that wrote the table', value: ({ version }) => version },
];

/**
 * Labels as comma-separated values (RFC 4180): one row for each pulse of each label, and one for a label of a whole
 * recording.
 */
export function labelTable(recordings: readonly KeptRecording[], version: string): string {
  const rows = recordings.flatMap((recording) =>
    recording.remarks.labels.flatMap((label) =>
      (label.about.length > 0 ? label.about : [null]).map((span): Row => ({ recording, label, span, version })),
    ),
  );
  const lines = [
    LABEL_COLUMNS.map(({ name }) => name),
    ...rows.map((row) => LABEL_COLUMNS.map(({ value }) => value(row))),
  ];
  return lines.map((cells) => `${cells.map(quoted).join(',')}\r\n`).join('');
}

/**
 * Text that a person wrote. A spreadsheet would run what begins with =, +, -, @ or a control character as a formula: an
 * apostrophe before it has it shown as text.
 */
function freeText(text: string): string {
  // oxlint-disable-next-line eslint/no-control-regex -- these are what is looked for
  return /^\s*[=+\-@\u0000-\u001F]/.test(text) ? `'${text}` : text;
}

function quoted(cell: string): string {
  return /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}
