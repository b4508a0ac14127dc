import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { base } from '../../parts/base-styles.ts';
import '../../parts/term-tip.ts';
import { fixed } from './plus-minus.ts';
import { countOf, type Recording } from './recordings.ts';
import { countsOf } from './summary-words.ts';
import { VERDICTS } from './words.ts';

/** Stop what goes on with the recording. */
export class StopEvent extends Event {
  static readonly type = 'stop';
  constructor() {
    super(StopEvent.type, { bubbles: true, composed: true });
  }
}

/** Open or measure the recording again, in a channel counted from 0. */
export class MeasureEvent extends Event {
  static readonly type = 'measure';
  readonly channel: number;

  constructor(channel: number) {
    super(MeasureEvent.type, { bubbles: true, composed: true });
    this.channel = channel;
  }
}

/**
 * The recording's name, what is going on with it or came of it, and what was odd about it.
 *
 * @fires stop - the work on it shall end
 * @fires measure - it shall begin anew
 */
export class RecordingHead extends LitElement {
  static override properties = { recording: { attribute: false } };

  declare recording: Recording;

  override render(): TemplateResult {
    return html`
      <h1>${this.recording.name}</h1>
      ${this.recording.status.kind === 'failed' && !this.recording.opened
        ? nothing
        : html`<div class="state">${this.#extent()} ${this.#state()}</div>`}
      ${this.#failure()} ${this.#notices()}
    `;
  }

  #extent(): TemplateResult | typeof nothing {
    const facts = this.recording.opened?.facts;
    return facts
      ? html`<span class="soft">${fixed(facts.duration_s, 2)} s at ${fixed(facts.rate_hz / 1000, 1)} kHz</span>`
      : nothing;
  }

  #state(): TemplateResult | typeof nothing {
    const { status, findings } = this.recording;
    switch (status.kind) {
      case 'waiting':
      case 'opening':
        return html`<span>Opening …</span>`;
      case 'ready':
        return html`<span>Waiting to be measured</span>`;
      case 'measuring':
        return html`
          <label>Measuring <progress max="1" .value=${status.share}></progress></label>
          <span>${Math.round(status.share * 100)} %, ${countOf(findings.pulses)} so far</span>
          <button @click=${() => this.dispatchEvent(new StopEvent())}>Cancel</button>
        `;
      case 'measured':
        return this.#summary();
      case 'stopped':
        return html`<span>Stopped, ${countOf(findings.pulses)} so far</span> ${this.#again('Start again')}`;
      case 'failed':
        return nothing;
    }
  }

  #summary(): TemplateResult {
    const { findings } = this.recording;
    const { label, meaning } = VERDICTS[findings.summary.verdict];
    return html`<p class="summary">
      <b><term-tip .meaning=${meaning}>${label}</term-tip></b>${countsOf(findings).map(
        (words) => html`<span class="dot" aria-hidden="true">·</span><span class="quiet">, </span><span>${words}</span>`,
      )}
    </p>`;
  }

  #again(label: string): TemplateResult {
    const again = () => this.dispatchEvent(new MeasureEvent(this.recording.channel));
    return html`<button @click=${again}>${label}</button>`;
  }

  #failure(): TemplateResult | typeof nothing {
    const { status, opened } = this.recording;
    if (status.kind !== 'failed') {
      return nothing;
    }
    return html`<div class="failure">
      <h2>${opened ? 'This recording could not be measured' : 'This file could not be read'}</h2>
      <p>${status.message}</p>
      <p>${status.advice}</p>
      ${this.#again('Try again')}
    </div>`;
  }

  #notices(): TemplateResult | typeof nothing {
    const notices = this.recording.opened?.facts.notices ?? [];
    return notices.length === 0
      ? nothing
      : html`<ul class="notices" aria-label="What was odd about the file">
          ${notices.map((notice) => html`<li>${notice.text}${this.#byte(notice.byte)}</li>`)}
        </ul>`;
  }

  #byte(byte: number | null | undefined): TemplateResult | typeof nothing {
    return byte === null || byte === undefined
      ? nothing
      : html` <span class="soft small">(byte ${byte})</span>`;
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
      }
      h1 {
        font-size: clamp(1.35rem, 3vw, 1.8rem);
        overflow-wrap: anywhere;
      }
      .state {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.3rem 1rem;
        min-height: 2.6rem;
        font-variant-numeric: tabular-nums;
      }
      .summary {
        max-width: none;
      }
      .dot {
        margin: 0 0.45em;
        color: var(--soft);
      }
      .failure {
        display: grid;
        justify-items: start;
        gap: 0.6rem;
        margin: 0.8rem 0;
        padding: 1.2rem 1.4rem;
        background: var(--sheet);
        border: 1.5px solid var(--line-strong);
        border-left: 5px solid var(--pencil);
        overflow-wrap: anywhere;
      }
      .notices {
        margin: 0.4rem 0 0.8rem;
        padding: 0.6rem 1rem 0.6rem 2rem;
        background: var(--warn);
        max-width: 62rem;
        overflow-wrap: anywhere;
      }
    `,
  ];
}

customElements.define('recording-head', RecordingHead);

declare global {
  interface HTMLElementTagNameMap {
    'recording-head': RecordingHead;
  }
}
