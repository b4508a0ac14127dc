import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { base } from '../../parts/base-styles.ts';
import { fixed } from './columns.ts';
import { countOf, type Recording } from './recordings.ts';

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
 * The recording's name, what is going on with it, and what was odd about it.
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
        : html`<div class="state">${this.#summary()} ${this.#state()}</div>`}
      ${this.#failure()} ${this.#notices()}
    `;
  }

  #summary(): TemplateResult | typeof nothing {
    const facts = this.recording.opened?.facts;
    return facts
      ? html`<span class="soft">${fixed(facts.duration_s, 2)} s at ${fixed(facts.rate_hz / 1000, 1)} kHz</span>`
      : nothing;
  }

  #state(): TemplateResult | typeof nothing {
    const { status, pulses } = this.recording;
    switch (status.kind) {
      case 'waiting':
      case 'opening':
        return html`<span>Opening …</span>`;
      case 'ready':
        return html`<span>Waiting to be measured</span>`;
      case 'measuring':
        return html`
          <label>Measuring <progress max="1" .value=${status.share}></progress></label>
          <span>${Math.round(status.share * 100)} %, ${countOf(pulses)} so far</span>
          <button @click=${() => this.dispatchEvent(new StopEvent())}>Cancel</button>
        `;
      case 'measured':
        return html`<b>${countOf(pulses)}</b>`;
      case 'stopped':
        return html`<span>Stopped, ${countOf(pulses)} so far</span> ${this.#again('Start again')}`;
      case 'failed':
        return nothing;
    }
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
