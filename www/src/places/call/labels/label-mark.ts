import { html, nothing, type TemplateResult } from 'lit';
import type { Label } from '../../../keep/label.ts';

/** A sign beside a pulse that has labels, with their words for who asks; nothing where there are none. */
export function labelMark(labels: readonly Label[] | undefined): TemplateResult | typeof nothing {
  if (labels === undefined || labels.length === 0) {
    return nothing;
  }
  const words = labels.map(({ text, certainty }) => `${text} (${certainty})`).join(', ');
  return html`<span class="flag" title=${words} aria-hidden="true">✎</span><span class="quiet">labelled: ${words}</span>`;
}
