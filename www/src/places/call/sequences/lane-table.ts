import { html, type TemplateResult } from 'lit';
import { fixed, NONE } from '../plus-minus.ts';
import { isMissedBefore, laneName, PITCHES, type Lane, type Pitch } from './lane.ts';

/** The pulses of a lane as a table: what the plot shows, for who would rather read it. */
export function laneTable(lane: Lane, pitch: Pitch, selected: number | null): TemplateResult {
  return html`<div class="scroll" tabindex="0" role="region" aria-label=${`Table of ${laneName(lane)}`}>
    <table>
      <thead>
        <tr>
          <th scope="col">Pulse</th>
          <th scope="col">Start, s</th>
          <th scope="col">Interval, ms</th>
          <th scope="col">${PITCHES[pitch]}, kHz</th>
          <th scope="col">Remarks</th>
        </tr>
      </thead>
      <tbody>
        ${lane.members.map(({ sound: { pulse, name }, index }) => {
          const remarks = [
            (pulse.buzz ?? null) === null ? '' : 'feeding buzz',
            isMissedBefore(pulse) ? 'pulses missed before it' : '',
          ].filter((remark) => remark !== '');
          return html`<tr aria-current=${index === selected ? 'true' : 'false'}>
            <th scope="row">${name}</th>
            <td>${fixed(pulse.start_s, 4)}</td>
            <td>${fixed(pulse.interval_ms, 1)}</td>
            <td>${fixed(pulse[pitch], 1)}</td>
            <td class="words">${remarks.join(', ') || NONE}</td>
          </tr>`;
        })}
      </tbody>
    </table>
  </div>`;
}
