import { html, type TemplateResult } from 'lit';
import type { Spread } from '../../../core/client.ts';
import { figure, MEASURES } from '../sheet/measures.ts';

/** How the numbers of the compared pulses spread, a row a number. */
export function spreadTable(spreads: readonly Spread[]): TemplateResult {
  return html`<div class="scroll" tabindex="0" role="region" aria-label="Table of what is picked">
    <table>
      <caption class="quiet">Median, quartiles and limits of what is picked</caption>
      <thead>
        <tr>
          <th scope="col">Number</th>
          <th scope="col">Median</th>
          <th scope="col">Quartiles</th>
          <th scope="col">Min to max</th>
          <th scope="col"><abbr title="How many have this number">n</abbr></th>
        </tr>
      </thead>
      <tbody>
        ${spreads.map(
          ({ measure, median, lower, upper, least, most, pulses }) => html`<tr data-measure=${measure}>
            <th scope="row">${MEASURES[measure].name.replace(' frequency', '')}, ${MEASURES[measure].unit}</th>
            <td>${figure(median, measure)}</td>
            <td>${figure(lower, measure)} to ${figure(upper, measure)}</td>
            <td>${figure(least, measure)} to ${figure(most, measure)}</td>
            <td>${pulses}</td>
          </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}
