import { html, nothing, type TemplateResult } from 'lit';
import type { HandMark } from './matching.ts';

/** What was done by hand to a pulse, as a sign with a word beside its number. */
export function markOf(mark: HandMark | undefined): TemplateResult | typeof nothing {
  if (!mark) {
    return nothing;
  }
  const { corrected, aside } = mark;
  return html`${corrected ? html`<span class="mark"><span aria-hidden="true">✎</span> by hand</span>` : nothing}${aside === null
    ? nothing
    : html`<span class="mark" title=${aside}><span aria-hidden="true">✕</span> set aside</span>`}`;
}
