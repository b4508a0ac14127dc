import { html, nothing, type TemplateResult } from 'lit';
import type { HandMeasurement, Pulse } from '../../../core/client.ts';
import { GROUPS, type Column } from '../columns.ts';
import { fixed, inWords, NONE } from '../plus-minus.ts';
import { NOTES } from './hand-words.ts';

/** What stands in a column of numbers by hand. */
export interface ByHand {
  readonly head: string;
  readonly measurement: HandMeasurement;
}

/** Columns whose numbers a single pulse has. */
const LEFT_OUT = ['Interval', 'Sequence', 'Flags'];
const ROWS = GROUPS.flatMap((group) =>
  group.columns
    .filter((column) => !LEFT_OUT.some((word) => column.label.startsWith(word)))
    .map((column) => ({ column, unit: unitOf(group.label, column.label) })),
);

/** The numbers of an automatic pulse and those by hand, side by side and never mixed. */
export function comparison(automatic: { head: string; pulse: Pulse } | null, hand: ByHand): TemplateResult {
  const { pulse } = hand.measurement;
  return html`<div class="scroll" tabindex="0" role="region" aria-label="Automatic and by hand: ${hand.head}">
      <table class="compared">
        <thead>
          <tr>
            <th scope="col">Quantity</th>
            <th scope="col">Automatic${automatic === null ? '' : `: ${automatic.head}`}</th>
            <th scope="col" class="by-hand">✎ By hand: ${hand.head}</th>
          </tr>
        </thead>
        <tbody>
          ${pulse === undefined
            ? bandRows(automatic?.pulse ?? null, hand.measurement)
            : ROWS.map(
                ({ column, unit }) => html`<tr>
                  <th scope="row">${plainLabel(column.label)}${unit}</th>
                  <td>${automatic === null ? NONE : cell(column, automatic.pulse)}</td>
                  <td class="by-hand">${handCell(column, pulse, hand.measurement)}</td>
                </tr>`,
              )}
        </tbody>
      </table>
    </div>
    ${hand.measurement.notes.length === 0
      ? nothing
      : html`<ul class="notes">${hand.measurement.notes.map((note) => html`<li>${NOTES[note]}</li>`)}</ul>`}`;
}

/** What can be said of a band in which nothing could be followed. */
function bandRows(automatic: Pulse | null, { band, band_peak_khz, band_level_db, band_over_noise_db }: HandMeasurement): TemplateResult[] {
  const rows: [string, number | null | undefined, number | undefined, number][] = [
    ['Start, s (of the band)', automatic?.start_s, band.start_s, 4],
    ['End, s (of the band)', automatic?.end_s, band.end_s, 4],
    ['Low, kHz (of the band)', automatic?.low_khz, band.low_khz, 1],
    ['High, kHz (of the band)', automatic?.high_khz, band.high_khz, 1],
    ['Peak, kHz (of its power spectrum)', automatic?.peak_khz, band_peak_khz, 1],
    ['Level, dB (of its strongest spot)', automatic?.level_db, band_level_db, 1],
    ['Over the noise, dB', null, band_over_noise_db, 1],
  ];
  return rows.map(
    ([label, value, own, decimals]) => html`<tr>
      <th scope="row">${label}</th>
      <td>${fixed(value, decimals)}</td>
      <td class="by-hand">${fixed(own, decimals)}</td>
    </tr>`,
  );
}

function cell({ figure, text }: Column, pulse: Pulse): string {
  return figure ? inWords(figure.value(pulse), figure.spread(pulse), figure.decimals) : text(pulse);
}

function handCell(column: Column, pulse: Pulse, { notes }: HandMeasurement): string {
  const given = notes.includes('start_given') || notes.includes('end_given');
  // How far below the maximum the edges lie is not known of edges that a person set.
  return given && column.label.startsWith('Edges') ? NONE : cell(column, pulse);
}

function plainLabel(label: string): string {
  return label.replaceAll('\u00ad', '');
}

/** ", kHz" where the group says what its columns are in. */
function unitOf(group: string, label: string): string {
  const unit = /, (\S+)$/.exec(group)?.[1];
  return unit === undefined || label.includes(',') ? '' : `, ${unit}`;
}
