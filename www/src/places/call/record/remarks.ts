import { html, nothing, type TemplateResult } from 'lit';
import type { HandEntry } from '../../../keep/hand.ts';
import type { Label } from '../../../keep/label.ts';
import { KINDS, madeWords } from '../hand/hand-words.ts';
import { asidesOf, namedEntries, nameNow, type NamedEntry } from '../hand/matching.ts';
import { CERTAINTY_WORDS, LABEL_CAUTION } from '../labels/label-words.ts';
import type { Labelled } from '../labels/labelled.ts';
import { fixed, inWords } from '../plus-minus.ts';
import type { Recording } from '../recordings.ts';
import { sentence } from '../../../sentence.ts';

/** What people said of a recording, for its record on paper. */
export function labelSection({ labels, about }: Labelled): TemplateResult | typeof nothing {
  if (labels.length === 0) {
    return nothing;
  }
  const item = (label: Label): TemplateResult => html`<li>
    <b>${label.text}</b>, ${CERTAINTY_WORDS[label.certainty].label.toLowerCase()}: ${about(label)}.
    ${label.note} ${sentence(madeWords(label))}
  </li>`;
  return html`<h2>Labels</h2>
    <ul>${labels.map(item)}</ul>
    <p class="small">${LABEL_CAUTION}</p>`;
}

/** What was measured and set aside by hand, for the same. */
export function handSection(recording: Recording, entries: readonly HandEntry[]): TemplateResult | typeof nothing {
  const named = namedEntries(recording, entries);
  const aside = asidesOf(recording, entries);
  if (named.length + aside.length === 0) {
    return nothing;
  }
  return html`<h2>By hand</h2>
    <p class="small">By the definitions of the automatic numbers, which stay as they are above.</p>
    <ul>
      ${named.map((one) => html`<li>${handWords(recording, one)} ${sentence(madeWords(one.entry))}</li>`)}
      ${aside.map(
        (entry) => html`<li>
          Pulse ${nameNow(recording, entry.of)} is set aside: ${sentence(entry.reason === '' ? 'no reason given' : entry.reason)}
          ${sentence(madeWords(entry))}
        </li>`,
      )}
    </ul>`;
}

function handWords(recording: Recording, { name, entry }: NamedEntry): string {
  const what = `${name}, ${KINDS[entry.kind].toLowerCase()}`;
  if (entry.kind === 'interval') {
    const { interval_ms, interval_u95_ms } = entry.interval;
    const [from, to] = [entry.first, entry.second].map((span) => nameNow(recording, span));
    return `${what} from pulse ${from} to ${to}: ${inWords(interval_ms, interval_u95_ms, { usual: 2, most: 2 })} ms.`;
  }
  const { pulse, band, band_peak_khz } = entry.measurement;
  const of = entry.kind === 'corrected' ? ` ${nameNow(recording, entry.of)}` : '';
  const start = fixed(pulse?.start_s ?? band.start_s, 4);
  const duration = fixed(pulse?.duration_ms ?? (band.end_s - band.start_s) * 1e3, 2);
  const peak = fixed(pulse?.peak_khz ?? band_peak_khz, 1);
  const [low, high] = [fixed(pulse?.low_khz ?? band.low_khz, 1), fixed(pulse?.high_khz ?? band.high_khz, 1)];
  return `${what}${of}: start ${start} s, duration ${duration} ms, peak ${peak} kHz, ${low} to ${high} kHz.`;
}
