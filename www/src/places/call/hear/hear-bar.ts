import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { base } from '../../../parts/base-styles.ts';
import { watch } from '../../../store.ts';
import { kilohertz, type Kilohertz } from '../../../units.ts';
import { fixed } from '../plus-minus.ts';
import type { Recording } from '../recordings.ts';
import {
  FACTORS,
  factorOf,
  heardFor,
  highestTuning,
  LOWEST_KHZ,
  RUMBLE_KHZ,
  stretchOf,
  tuningWithin,
  WAYS,
  type HearChoice,
  type Way,
  type Where,
} from './choice.ts';
import { hearStyles } from './hear-styles.ts';
import type { Hearing, HearState } from './hearing.ts';

const PLACES: Readonly<Record<Where, string>> = {
  view: 'What is in view',
  whole: 'The whole recording',
  pulse: 'The selected pulse',
  band: 'The marked band',
};

const HOW: Readonly<Record<Way, string>> = {
  expansion: 'Slower, and lower by the same factor; nothing is lost.',
  heterodyne: 'In real time: what lies within 5 kHz of the tuning, above or below it, is heard as the difference.',
  division: 'In real time: the loudest sound at each moment, with its frequency divided.',
};

/** Listening to a recording: playing, how it is made audible, how loud. */
export class HearBar extends LitElement {
  static override properties = {
    hearing: { attribute: false },
    recording: { attribute: false },
  };

  declare hearing: Hearing;
  declare recording: Recording;

  #clock = 0;

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    cancelAnimationFrame(this.#clock);
    this.hearing.stop('');
  }

  override willUpdate(): void {
    watch(this, this.hearing.store);
    const { playing } = this.hearing.store.value;
    const { opened, channel } = this.recording;
    if (playing && (playing.opened !== opened || playing.channel !== channel)) {
      this.hearing.stop('Stopped');
    }
  }

  override updated(_changed: PropertyValues<this>): void {
    cancelAnimationFrame(this.#clock);
    this.#tick();
  }

  override render(): TemplateResult {
    const state = this.hearing.store.value;
    const { choice, playing } = state;
    const isReady = this.recording.opened !== null;
    return html`<section aria-label="Listen">
      <div class="row">
        <button class="main play" ?disabled=${!isReady} aria-keyshortcuts="Space" title="Space, in the picture"
          @click=${() => this.hearing.toggle(this.recording)}>
          ${playing ? html`<span aria-hidden="true">■</span> Stop` : html`<span aria-hidden="true">▶</span> Play`}
        </button>
        <fieldset>
          <legend class="quiet">How it is made audible</legend>
          ${(Object.keys(WAYS) as Way[]).map((way) => this.#way(way, choice.way))}
        </fieldset>
        ${this.#dial(choice)}
        <span class="clock"></span>
      </div>
      <p class="soft small how">${HOW[choice.way]}</p>
      <div class="row">
        ${this.#places(choice.where)}
        ${this.#box('Loop', 'loop', choice.loop, 'L')}
        ${this.#box('The view follows', 'follow', choice.follow)}
        ${this.#box('Automatic gain', 'gain', choice.gain)}
        ${this.#box(`Cut rumble below ${RUMBLE_KHZ} kHz`, 'rumble', choice.rumble)}
        ${this.#save(state.saving, isReady)}
      </div>
      ${this.#loudness(choice.volume)}
      ${state.problem === null ? nothing : html`<p class="problem">${state.problem}</p>`}
      <p class="quiet" role="status">${state.said}</p>
    </section>`;
  }

  #way(way: Way, chosen: Way): TemplateResult {
    return html`<label>
      <input type="radio" name="way" .checked=${way === chosen} @change=${() => this.hearing.change({ way })} />
      ${WAYS[way]}
    </label>`;
  }

  /** What the chosen way can be set to. */
  #dial(choice: HearChoice): TemplateResult {
    switch (choice.way) {
      case 'expansion':
        return this.#factor('Slower by', choice.factor, (factor) => this.hearing.change({ factor }));
      case 'division':
        return this.#factor('Divided by', choice.divisor, (divisor) => this.hearing.change({ divisor }));
      case 'heterodyne':
        return this.#tuning(choice.tuning);
    }
  }

  #factor(label: string, value: number, set: (factor: number) => void): TemplateResult {
    const changed = (event: Event) => {
      const field = event.currentTarget as HTMLInputElement;
      const factor = factorOf(field.value);
      if (factor === null) {
        field.value = String(value);
      } else {
        set(factor);
      }
    };
    return html`<span class="dial">
      <label>${label}
        <input type="range" min=${FACTORS.from} max=${FACTORS.to} step="1" .value=${String(value)} @change=${changed} />
      </label>
      <input class="field number" type="number" aria-label="${label}, a number from 2 to 32"
        min=${FACTORS.from} max=${FACTORS.to} step="any" .value=${String(value)} @change=${changed} />
    </span>`;
  }

  #tuning(tuning: Kilohertz): TemplateResult {
    const facts = this.recording.opened?.facts;
    const highest = facts ? highestTuning(facts) : kilohertz(200);
    const now = facts ? tuningWithin(tuning, facts) : tuning;
    const peak = this.recording.selected?.peak_khz;
    const set = (khz: number) => {
      if (Number.isFinite(khz) && khz > 0) {
        this.hearing.change({ tuning: facts ? tuningWithin(khz, facts) : kilohertz(khz) });
      }
    };
    const typed = (event: Event) => set((event.currentTarget as HTMLInputElement).valueAsNumber);
    return html`<span class="dial">
      <label>Tuned to
        <input type="range" min=${LOWEST_KHZ} max=${highest} step="0.1" .value=${String(now)}
          aria-valuetext="${fixed(now, 1)} kHz" aria-keyshortcuts="; '" @input=${typed} />
      </label>
      <input class="field number" type="number" aria-label="Tuned to, kHz" min=${LOWEST_KHZ} max=${highest}
        step="0.1" .value=${fixed(now, 1)} @change=${typed} />
      <span>kHz</span>
      ${peak === undefined
        ? nothing
        : html`<button @click=${() => set(peak)}>To the pulse’s peak</button>`}
    </span>`;
  }

  #places(chosen: Where): TemplateResult {
    const changed = (event: Event) => {
      this.hearing.change({ where: (event.currentTarget as HTMLSelectElement).value as Where });
    };
    return html`<label>Plays
      <select @change=${changed}>
        ${Object.entries(PLACES).map(
          ([where, label]) => html`<option value=${where} .selected=${where === chosen}>${label}</option>`,
        )}
      </select>
    </label>`;
  }

  #box(label: string, key: 'loop' | 'follow' | 'gain' | 'rumble', checked: boolean, shortcut?: string): TemplateResult {
    const changed = (event: Event) => {
      this.hearing.change({ [key]: (event.currentTarget as HTMLInputElement).checked });
    };
    return html`<label title=${shortcut === undefined ? nothing : `Key ${shortcut}`}>
      <input type="checkbox" .checked=${checked} aria-keyshortcuts=${shortcut ?? nothing} @change=${changed} />
      ${label}
    </label>`;
  }

  #save(saving: number | null, isReady: boolean): TemplateResult {
    if (saving === null) {
      return html`<button ?disabled=${!isReady} @click=${() => void this.hearing.save(this.recording)}>
        Save what is heard (WAV)
      </button>`;
    }
    return html`<span class="dial">
      <label>Saving <progress max="1" .value=${saving}></progress></label>
      <button @click=${() => this.hearing.stopSaving()}>Stop saving</button>
    </span>`;
  }

  #loudness(volume: number): TemplateResult {
    const changed = (event: Event) => {
      this.hearing.change({ volume: (event.currentTarget as HTMLInputElement).valueAsNumber / 100 });
    };
    const percent = Math.round(volume * 100);
    return html`<div class="row">
      <label>Volume
        <input type="range" min="0" max="100" step="1" .value=${String(percent)} aria-valuetext="${percent} %"
          aria-describedby="caution" @input=${changed} />
      </label>
      <span class="percent" aria-hidden="true">${percent} %</span>
      <p class="small caution" id="caution">
        Start quietly, above all with headphones, and turn up slowly: loud calls come suddenly, and hearing that is
        lost does not come back.
      </p>
    </div>`;
  }

  /** Tells the time, again and again: anew in every frame, for which rendering everything would be too much. */
  #tick(): void {
    const { playing } = this.hearing.store.value;
    const clock = this.renderRoot.querySelector('.clock');
    if (clock) {
      clock.textContent = this.#clockWords();
    }
    if (playing) {
      this.#clock = requestAnimationFrame(() => this.#tick());
    }
  }

  /** Where the sound is in the recording's own time, and how long it takes to hear it. */
  #clockWords(): string {
    const { choice, playing }: HearState = this.hearing.store.value;
    const stretch = playing?.stretch ?? stretchOf(choice.where, this.recording);
    if (!stretch) {
      return '';
    }
    const length = stretch.to - stretch.from;
    const lasts = `${fixed(heardFor(stretch, choice), 1)} s to hear`;
    const place = playing ? this.hearing.place : null;
    return place === null
      ? `${fixed(length, 3)} s, ${lasts}`
      : `at ${fixed(place, 3)} s · ${fixed(place - stretch.from, 3)} of ${fixed(length, 3)} s, ${lasts}`;
  }

  static override styles = [base, hearStyles];
}

customElements.define('hear-bar', HearBar);

declare global {
  interface HTMLElementTagNameMap {
    'hear-bar': HearBar;
  }
}
