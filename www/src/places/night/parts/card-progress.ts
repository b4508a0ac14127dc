import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { base } from '../../../parts/base-styles.ts';
import { watch } from '../../../store.ts';
import { filesPerSecond, finished, secondsLeft, type Progress } from '../card/progress.ts';
import type { Run } from '../card/run.ts';
import { counted, lasting } from '../words.ts';

/** How far the card is worked through, with the means to pause and to stop it. */
export class CardProgress extends LitElement {
  static override properties = { run: { attribute: false } };

  declare run: Run;

  override willUpdate(): void {
    watch(this, this.run.progress);
  }

  override render(): TemplateResult {
    const progress = this.run.progress.value;
    const { phase, recordings, isListed } = progress;
    const isOver = phase === 'done' || phase === 'stopped';
    return html`
      <div class="line">
        ${isOver
          ? nothing
          : html`<progress
              aria-label="Recordings examined"
              max=${Math.max(1, recordings)}
              .value=${isListed ? finished(progress) : 0}
            ></progress>`}
        <span class="now">${stateWords(progress)}</span>
        ${phase === 'working' ? html`<button @click=${() => this.run.pause()}>Pause</button>` : nothing}
        ${phase === 'paused' ? html`<button class="main" @click=${() => this.run.resume()}>Go on</button>` : nothing}
        ${isOver ? nothing : html`<button @click=${() => this.run.stop()}>Stop</button>`}
      </div>
      <p class="soft small">${details(progress)}</p>
      <p class="quiet" role="status">${isOver || phase === 'paused' ? stateWords(progress) : 'Working through the card'}</p>
    `;
  }

  static override styles = [
    base,
    css`
      :host {
        display: block;
      }
      .line {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.4rem 0.9rem;
        min-height: 2.75rem;
      }
      .now {
        font-variant-numeric: tabular-nums;
      }
      p {
        font-variant-numeric: tabular-nums;
      }
    `,
  ];
}

function stateWords(progress: Progress): string {
  const { phase, recordings, isListed } = progress;
  const share = `${finished(progress).toLocaleString('en')} of ${counted(recordings, 'recording')}`;
  switch (phase) {
    case 'done':
      return doneWords(recordings);
    case 'stopped':
      return `Stopped: ${share} examined. Open the folder again to go on where it stopped.`;
    case 'paused':
      return `Paused: ${share}`;
    case 'working':
      return isListed ? share : `${share} so far; looking through folders`;
  }
}

function doneWords(recordings: number): string {
  if (recordings === 0) {
    return 'There are no recordings in this folder.';
  }
  return `${recordings === 1 ? '' : 'All '}${counted(recordings, 'recording')} examined.`;
}

function details(progress: Progress): string {
  const speed = filesPerSecond(progress);
  const left = progress.phase === 'working' ? secondsLeft(progress) : null;
  const said = [
    speed === null ? '' : `${speed.toFixed(1)} files a second`,
    left === null ? '' : `about ${lasting(left)} left`,
    progress.recalled > 0 ? `${counted(progress.recalled, 'recording')} known from before` : '',
    progress.unreadable > 0 ? `${counted(progress.unreadable, 'recording')} could not be read from the card` : '',
    progress.others > 0 ? `${counted(progress.others, 'other file')} passed over` : '',
  ];
  return said.filter((text) => text !== '').join(' · ');
}

customElements.define('card-progress', CardProgress);

declare global {
  interface HTMLElementTagNameMap {
    'card-progress': CardProgress;
  }
}
