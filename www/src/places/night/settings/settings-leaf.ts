import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { NightSettings } from '../../../core/types.ts';
import { base } from '../../../parts/base-styles.ts';
import { watch } from '../../../store.ts';
import type { NightSession } from '../night-session.ts';
import { readOffset, readPosition, readTimer, writeEdge, writeOffset, writePosition } from './reading.ts';

/** Faults of the fields, by their name. */
type Faults = Readonly<Record<string, string | undefined>>;

/** What the person says of the nights: where, when, with which clock, and how passes are counted. */
export class SettingsLeaf extends LitElement {
  static override properties = {
    session: { attribute: false },
    faults: { state: true },
    said: { state: true },
  };

  declare session: NightSession;
  declare faults: Faults;
  declare said: string;

  constructor() {
    super();
    this.faults = {};
    this.said = '';
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('session')) {
      watch(this, this.session.store);
    }
  }

  override render(): TemplateResult {
    const { settings } = this.session.store.value;
    return html`
      <form @change=${() => void this.#take()} @submit=${(event: Event) => event.preventDefault()}>
        ${this.#place(settings)} ${this.#clock(settings)} ${this.#counting(settings)}
      </form>
      <p class="quiet" role="status">${this.said}</p>
      <h2>Kept on this computer</h2>
      <p>
        What was found in each file is kept in this browser, so that a card that is opened again is there at once. Labels
        and checks are kept apart, and stay.
      </p>
      <p><button @click=${() => void this.#forget()}>Forget what was found</button></p>
    `;
  }

  #place(settings: NightSettings): TemplateResult {
    return html`<fieldset>
      <legend>Where and who</legend>
      ${this.#text('site', 'Site', settings.site)}
      ${this.#text(
        'position',
        'Position',
        writePosition(settings.position),
        'Latitude and longitude in degrees, such as 52.4, 0.31. Empty: as the files say.',
      )}
      ${this.#text('who', 'Who answers for the survey', settings.who)}
      ${this.#text('weather', 'Weather', settings.weather, 'In your words; it stands in the report.')}
      ${this.#text('remarks', 'Remarks', settings.remarks)}
    </fieldset>`;
  }

  #clock(settings: NightSettings): TemplateResult {
    const { clock, timer } = settings;
    return html`<fieldset>
      <legend>Clock and timer</legend>
      ${this.#text(
        'zone',
        'Local time is ahead of UTC by',
        writeOffset(settings.utc_offset_min),
        'Hours and minutes, such as +01:00. Files whose metadata state their own offset keep it.',
      )}
      ${this.#text(
        'setup',
        'The recorder’s clock was fast at set-up by',
        String(clock.at_setup_s),
        'Seconds; negative where it was slow. An hour is 3600. The files themselves are not changed.',
      )}
      ${this.#text(
        'collection',
        '… and at collection by',
        clock.at_collection_s === undefined ? '' : String(clock.at_collection_s),
        'Empty: as at set-up. Otherwise the error is taken to have grown evenly.',
      )}
      ${this.#text(
        'from',
        'The timer was set to begin at',
        timer ? writeEdge(timer.from) : '',
        'A time such as 20:50, or sunset-30 for half an hour before sunset.',
      )}
      ${this.#text('to', '… and to end at', timer ? writeEdge(timer.to) : '', 'Such as 05:10, or sunrise+30.')}
      ${this.#text(
        'pattern',
        'Date and time in file names',
        settings.name_pattern ?? '',
        'Such as YYYYMMDD_hhmmss; ? stands for any character. Empty: as usual. Metadata come first.',
      )}
    </fieldset>`;
  }

  #counting(settings: NightSettings): TemplateResult {
    return html`<fieldset>
      <legend>Counting</legend>
      ${this.#text(
        'pulses',
        'A pass has at least so many pulses',
        String(settings.pass_min_pulses),
        'Two is common; some programmes ask for three. A pass ends with a silence of one second. It is a measure of activity and not a number of animals.',
      )}
      <div class="row">
        <label for="bin">Activity by</label>
        <select id="bin" name="bin">
          ${[5, 10, 60].map(
            (minutes) => html`<option value=${minutes} ?selected=${settings.bin_min === minutes}>${minutes} minutes</option>`,
          )}
        </select>
      </div>
    </fieldset>`;
  }

  #text(name: string, label: string, value: string, hint = ''): TemplateResult {
    const fault = this.faults[name];
    const described = [hint === '' ? '' : `${name}-hint`, fault === undefined ? '' : `${name}-fault`].join(' ').trim();
    return html`<div class="row">
      <label for=${name}>${label}</label>
      <div>
        <input
          id=${name}
          name=${name}
          class="field"
          autocomplete="off"
          maxlength="1000"
          .value=${value}
          aria-invalid=${fault === undefined ? nothing : 'true'}
          aria-describedby=${described === '' ? nothing : described}
        />
        ${fault === undefined ? nothing : html`<p class="fault" id=${`${name}-fault`} role="alert">${fault}</p>`}
        ${hint === '' ? nothing : html`<p class="soft small" id=${`${name}-hint`}>${hint}</p>`}
      </div>
    </div>`;
  }

  /** Takes over what can be read; what cannot is marked, and what it was before stays. */
  async #take(): Promise<void> {
    const form = this.renderRoot.querySelector('form');
    if (!form) {
      return;
    }
    const data = new FormData(form);
    const text = (name: string): string => String(data.get(name) ?? '').trim();
    const faults: Record<string, string> = {};
    const read = <T>(name: string, value: T | null, words: string): T | undefined => {
      if (value === null) {
        faults[name] = words;
      }
      return value ?? undefined;
    };
    const { settings } = this.session.store.value;
    const zone = read('zone', readOffset(text('zone')), 'Write it as +01:00 or -03:30.');
    const setup = read('setup', numberOf(text('setup') || '0'), 'Write seconds, such as 3600 or -12.');
    const collection = text('collection');
    const atCollection = read('collection', collection === '' ? undefined : numberOf(collection), 'Write seconds, such as 3600 or -12.');
    const position = read('position', readPosition(text('position')), 'Write latitude and longitude in degrees, such as 52.4, 0.31.');
    const timer = read('to', readTimer(text('from'), text('to')), 'Write both ends: times such as 20:50, sunset-30 or sunrise+30.');
    const pulses = read('pulses', wholeOf(text('pulses'), 2, 100), 'Write a whole number from 2 on.');
    const pattern = text('pattern');
    const patternFault = pattern === '' ? null : await this.#patternFault(pattern);
    if (patternFault !== null) {
      faults['pattern'] = patternFault;
    }
    this.faults = faults;
    this.session.change({
      site: text('site'),
      who: text('who'),
      weather: text('weather'),
      remarks: text('remarks'),
      ...(zone === undefined || zone === settings.utc_offset_min ? {} : { utc_offset_min: zone }),
      clock: {
        at_setup_s: setup ?? settings.clock.at_setup_s,
        at_collection_s: 'collection' in faults ? settings.clock.at_collection_s : atCollection,
      },
      position: 'position' in faults ? settings.position : position,
      timer: 'to' in faults ? settings.timer : timer,
      pass_min_pulses: pulses ?? settings.pass_min_pulses,
      bin_min: Number(text('bin')) || settings.bin_min,
      name_pattern: patternFault === null && pattern !== '' ? pattern : pattern === '' ? undefined : settings.name_pattern,
    });
    const wrong = Object.keys(faults).length;
    this.said = wrong === 0 ? 'Taken over.' : 'Some fields cannot be read; what was there before stays.';
  }

  async #patternFault(pattern: string): Promise<string | null> {
    return await (await this.session.book()).patternFault(pattern);
  }

  async #forget(): Promise<void> {
    await (await this.session.book()).forget();
    this.said = 'Forgotten. What is on the page stays until another folder is opened.';
  }

  static override styles = [
    base,
    css`
      :host {
        display: grid;
        gap: 1rem;
        max-width: 60rem;
      }
      form {
        display: grid;
        gap: 1.2rem;
      }
      fieldset {
        display: grid;
        gap: 0.7rem;
        margin: 0;
        padding: 0.8rem 1.1rem 1.1rem;
        border: 1.5px solid var(--line-strong);
        border-radius: 3px;
        background: var(--sheet);
        min-width: 0;
      }
      legend {
        padding: 0 0.4rem;
        font-family: var(--hand);
        font-size: 1.2rem;
        font-weight: 600;
      }
      .row {
        display: grid;
        grid-template-columns: minmax(0, 15rem) minmax(0, 1fr);
        gap: 0.2rem 1rem;
        align-items: baseline;
      }
      .row input {
        width: 100%;
        max-width: 24rem;
      }
      .row select {
        justify-self: start;
      }
      .fault {
        color: var(--pencil);
        font-weight: 600;
      }
      @media (max-width: 40rem) {
        .row {
          grid-template-columns: minmax(0, 1fr);
        }
      }
    `,
  ];
}

function numberOf(text: string): number | null {
  const value = Number(text.replace('−', '-'));
  return Number.isFinite(value) && Math.abs(value) < 1e8 ? value : null;
}

function wholeOf(text: string, least: number, most: number): number | null {
  const value = Number(text);
  return Number.isInteger(value) && value >= least && value <= most ? value : null;
}

customElements.define('settings-leaf', SettingsLeaf);

declare global {
  interface HTMLElementTagNameMap {
    'settings-leaf': SettingsLeaf;
  }
}
