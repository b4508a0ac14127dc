import { html, LitElement, nothing, svg, type TemplateResult } from 'lit';
import { Axis, type Span, type Tick } from '../../../axis.ts';
import { base } from '../../../parts/base-styles.ts';
import { OwnWidth } from '../../../parts/own-width.ts';
import type { Theme } from '../../../themes.ts';
import { cssPx, kilohertz, seconds, type Kilohertz, type Seconds } from '../../../units.ts';
import { GoEvent, PickEvent } from '../picture/events.ts';
import { timeRuler } from '../picture/ticks.ts';
import { IntervalAxis } from './interval-axis.ts';
import { laneName, laneWords, memberWords, isMissedBefore, type Lane, type LaneAxes, type Member, type Pitch } from './lane.ts';
import { lookOf } from './lane-look.ts';
import { laneStyles } from './lane-styles.ts';
import { laneTable } from './lane-table.ts';

/** What all lanes of a recording have in common, so that they can be compared by eye. */
export interface LaneScale {
  readonly time: Span<Seconds>;
  readonly frequency: Span<Kilohertz>;
  /** The shortest and the longest interval, milliseconds. */
  readonly intervals: Span<number>;
  readonly isLog: boolean;
}

/** Room around the plots, and their heights, CSS pixels. */
const LEFT = 60;
const RIGHT = 14;
const TOP = 20;
const PITCH_HEIGHT = 104;
const BETWEEN = 14;
const INTERVAL_HEIGHT = 88;
const BELOW = 42;
/** Width of what can be clicked around a mark. */
const HIT = 24;

/**
 * One sequence: the frequency of its pulses and their intervals over time.
 *
 * @fires pick - a pulse was chosen
 * @fires go - a pulse is to be brought into the picture's view
 */
export class SequenceLane extends LitElement {
  static override properties = {
    lane: { attribute: false },
    scale: { attribute: false },
    pitch: { attribute: false },
    selected: { attribute: false },
    theme: { attribute: false },
    open: { state: true },
  };

  declare lane: Lane;
  declare scale: LaneScale;
  declare pitch: Pitch;
  /** Index among all sounds that are shown. */
  declare selected: number | null;
  declare theme: Theme;
  /** Whether the table is open. */
  declare open: boolean;

  readonly #width = new OwnWidth(this);

  constructor() {
    super();
    this.open = false;
  }

  override render(): TemplateResult {
    const { lane, pitch } = this;
    const look = lookOf(lane.sequence, this.theme);
    return html`<section aria-labelledby="name" style="--lane: ${look.colour}">
      <h3 id="name">
        <svg class="sign" aria-hidden="true" viewBox="-7 -7 14 14"><path d=${look.path} /></svg>
        ${laneName(lane)}<span class="quiet">, marked by ${look.shape}</span>
      </h3>
      <p class="sum">${laneWords(lane, pitch).join(' · ')}</p>
      ${this.#width.value > LEFT + RIGHT ? this.#plot(look.path) : html`<div style="height: ${this.#height()}px"></div>`}
      <details @toggle=${this.#toggled}>
        <summary>${laneName(lane)} as a table</summary>
        ${this.open ? laneTable(lane, pitch, this.selected) : nothing}
      </details>
    </section>`;
  }

  #plot(shape: string): TemplateResult {
    const axes = this.#axes();
    const { time } = this.scale;
    const members = this.lane.members.filter(({ sound: { pulse } }) => pulse.end_s >= time.from && pulse.start_s <= time.to);
    const active = members.find(({ index }) => index === this.selected) ?? members[0];
    return html`<svg
      class="plot"
      role="listbox"
      tabindex="0"
      aria-label=${`Pulses of ${laneName(this.lane)} in order of time; arrow keys go from pulse to pulse, Enter shows one in the picture`}
      aria-activedescendant=${active ? `m${active.index}` : nothing}
      width=${this.#width.value}
      height=${this.#height()}
      @keydown=${(event: KeyboardEvent) => this.#key(event, members)}
    >
      <defs>
        <pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line x1="0" y1="0" x2="0" y2="6" />
        </pattern>
        <clipPath id="inside"><rect x=${LEFT - 6} y="0" width=${this.#width.value - LEFT - RIGHT + 12} height=${this.#height()} /></clipPath>
      </defs>
      <g aria-hidden="true">${this.#scales(axes)}</g>
      <g aria-hidden="true" clip-path="url(#inside)">${this.#buzzes(axes)}</g>
      ${members.map((member) => this.#mark(axes, member, shape))}
    </svg>`;
  }

  #scales(axes: LaneAxes): TemplateResult {
    const right = this.#width.value - RIGHT;
    const bottom = this.#bottom();
    const times = timeRuler(axes.time, cssPx(right - LEFT));
    const rules = (ticks: readonly Tick[]) =>
      ticks.map(({ at, label }) => svg`<line class="rule" x1=${LEFT} x2=${right} y1=${at} y2=${at} />
        <text x=${LEFT - 8} y=${at} dy="0.35em" text-anchor="end">${label}</text>`);
    const pitchBottom = TOP + PITCH_HEIGHT;
    return svg`
      ${rules(axes.frequency.ticks(3))}
      <line x1=${LEFT} x2=${right} y1=${pitchBottom} y2=${pitchBottom} />
      <text class="unit" x="6" y="14">kHz</text>
      ${this.#hasIntervals()
        ? svg`${rules(axes.interval.ticks(3))}
          <line x1=${LEFT} x2=${right} y1=${bottom} y2=${bottom} />
          <text class="unit" x="6" y=${pitchBottom + BETWEEN}>ms</text>`
        : nothing}
      ${times.ticks.map(({ at, label }) => svg`<line x1=${at} x2=${at} y1=${bottom} y2=${bottom + 6} />
        <text x=${at} y=${bottom + 21} text-anchor="middle">${label}</text>`)}
      <text class="unit" x=${right} y=${bottom + 38} text-anchor="end">time, ${times.unit}</text>
    ` as TemplateResult;
  }

  /** Shaded, hatched, and with its word. */
  #buzzes({ time }: LaneAxes): TemplateResult[] {
    return this.lane.buzzes.map(({ start_s: start, end_s: end }) => {
      const from = time.pixel(seconds(start)) - 4;
      const width = Math.max(8, time.pixel(seconds(end)) + 4 - from);
      return svg`<rect class="buzz" x=${from} y=${TOP - 4} width=${width} height=${this.#bottom() - TOP + 4} />
        <rect class="hatched" x=${from} y=${TOP - 4} width=${width} height=${this.#bottom() - TOP + 4} />
        <text class="word" x=${from + width / 2} y=${TOP - 8} text-anchor="middle">feeding buzz</text>` as TemplateResult;
    });
  }

  #mark(axes: LaneAxes, member: Member, shape: string): TemplateResult {
    const { pulse, name } = member.sound;
    const x = axes.time.pixel(seconds(pulse.start_s));
    const y = axes.frequency.pixel(kilohertz(pulse[this.pitch]));
    const interval = pulse.interval_ms ?? null;
    const below = interval === null ? null : axes.interval.pixel(interval);
    const isSelected = member.index === this.selected;
    const missed = isMissedBefore(pulse);
    const bottom = this.#bottom();
    return svg`<g
      role="option"
      id=${`m${member.index}`}
      class=${isSelected ? 'mark selected' : 'mark'}
      aria-selected=${isSelected}
      aria-label=${memberWords(member, this.pitch)}
      @click=${() => this.dispatchEvent(new PickEvent(member.index))}
      @dblclick=${() => this.dispatchEvent(new GoEvent(member.index))}
    >
      ${isSelected ? svg`<line class="at" x1=${x} x2=${x} y1=${TOP} y2=${bottom} /><text class="name" x=${x} y=${TOP - 6} text-anchor="middle">${name}</text>` : nothing}
      <rect class="hit" x=${x - HIT / 2} y=${y - HIT / 2} width=${HIT} height=${HIT} />
      <path d=${shape} transform=${`translate(${x} ${y})${isSelected ? ' scale(1.5)' : ''}`} />
      ${below === null
        ? nothing
        : svg`<rect class="hit" x=${x - HIT / 2} y=${below - HIT / 2} width=${HIT} height=${HIT} />
          <path class=${missed ? 'missed' : ''} d=${shape} transform=${`translate(${x} ${below})${isSelected ? ' scale(1.5)' : ''}`} />`}
      ${missed && below !== null ? svg`<path class="gap" d="M-5 -16H5L0 -9Z" transform=${`translate(${x} ${Math.max(below, TOP + PITCH_HEIGHT + BETWEEN + 14)})`} />` : nothing}
    </g>` as TemplateResult;
  }

  #key(event: KeyboardEvent, members: readonly Member[]): void {
    const at = members.findIndex(({ index }) => index === this.selected);
    const last = members.length - 1;
    const goals: Record<string, number | undefined> = {
      ArrowRight: Math.min(at + 1, last),
      ArrowDown: Math.min(at + 1, last),
      ArrowLeft: Math.max(at - 1, 0),
      ArrowUp: Math.max(at - 1, 0),
      Home: 0,
      End: last,
      Space: Math.max(at, 0),
    };
    const isHeld = event.ctrlKey || event.metaKey || event.altKey;
    const next = members[goals[event.code] ?? -1];
    const chosen = members[at];
    if (!isHeld && next) {
      event.preventDefault();
      this.dispatchEvent(new PickEvent(next.index));
    } else if (!isHeld && event.code === 'Enter' && chosen) {
      event.preventDefault();
      this.dispatchEvent(new GoEvent(chosen.index));
    }
  }

  readonly #toggled = (event: Event): void => {
    this.open = (event.currentTarget as HTMLDetailsElement).open;
  };

  #axes(): LaneAxes {
    const { time, frequency, intervals, isLog } = this.scale;
    return {
      time: new Axis(time, cssPx(LEFT), cssPx(this.#width.value - RIGHT)),
      frequency: new Axis(frequency, cssPx(TOP + PITCH_HEIGHT), cssPx(TOP)),
      interval: new IntervalAxis(
        intervals.from,
        intervals.to,
        isLog,
        cssPx(this.#bottom()),
        cssPx(TOP + PITCH_HEIGHT + BETWEEN),
      ),
    };
  }

  #hasIntervals(): boolean {
    return this.lane.sequence !== null;
  }

  /** Where the lowest plot ends. */
  #bottom(): number {
    return TOP + PITCH_HEIGHT + (this.#hasIntervals() ? BETWEEN + INTERVAL_HEIGHT : 0);
  }

  #height(): number {
    return this.#bottom() + BELOW;
  }

  static override styles = [base, laneStyles];
}

customElements.define('sequence-lane', SequenceLane);

declare global {
  interface HTMLElementTagNameMap {
    'sequence-lane': SequenceLane;
  }
}
