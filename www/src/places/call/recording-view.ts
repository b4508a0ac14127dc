import { html, LitElement, nothing, type TemplateResult } from 'lit';
import type { ColourMap, Pulse } from '../../core/client.ts';
import { keptOf, type Kept } from '../../keep/keeping.ts';
import { base } from '../../parts/base-styles.ts';
import '../../parts/leaf-tabs.ts';
import { LeafEvent } from '../../parts/leaf-tabs.ts';
import { KeysEvent } from '../../shell/key-list.ts';
import { Watch } from '../../store.ts';
import { THEMES, type Theme } from '../../themes.ts';
import { viewAfter } from './deeds.ts';
import './expansion-guess.ts';
import { ExpandEvent } from './expansion-guess.ts';
import { around, whole, type Extent } from './extent.ts';
import './facts-panel.ts';
import './hand/aside-dialog.ts';
import { handDeed, type AtHand } from './hand/hand-deeds.ts';
import './hand/hand-overlay.ts';
import { AsideEvent } from './hand/pulse-part.ts';
import './hear/hear-bar.ts';
import { hearDeed } from './hear/hear-deeds.ts';
import './hear/hear-marks.ts';
import './labels/carried-labels.ts';
import { isLabelKey } from './labels/keys.ts';
import './labels/label-dialog.ts';
import { labelled } from './labels/labelled.ts';
import { LabelEvent } from './labels/labels-leaf.ts';
import { HAND_LEAF, leafOf, LEAVES } from './leaves.ts';
import './overview/overview-strip.ts';
import './picture-words.ts';
import './picture/call-picture.ts';
import type { CallPicture, OverPicture } from './picture/call-picture.ts';
import {
  CaptionEvent,
  DeedEvent,
  GoEvent,
  LookEvent,
  PickEvent,
  PictureLookEvent,
  type Manner,
} from './picture/events.ts';
import type { Deed } from './picture/keys.ts';
import type { Caption } from './picture/painter.ts';
import './picture/view-settings.ts';
import './picture-tools.ts';
import { PulseTable } from './pulse-table.ts';
import './recording-head.ts';
import { MeasureEvent, StopEvent } from './recording-head.ts';
import { isReadable, type Recording, type Shown } from './recordings.ts';
import type { Session } from './session.ts';
import { soundsOf, type Sound } from './sounds.ts';
import './record/print-record.ts';
import './strips/picture-strips.ts';
import './share/call-panel.ts';
import './share/share-call.ts';
import './take/take-along.ts';
import { viewStyles } from './view-styles.ts';

/**
 * One recording: its picture, its pulses, its facts.
 *
 * @fires map - another colour map was chosen
 * @fires keys - the list of keys was asked for
 * @fires look - the view settled somewhere else
 */
export class RecordingView extends LitElement {
  static override properties = {
    session: { attribute: false },
    recording: { attribute: false },
    shown: { attribute: false },
    theme: { attribute: false },
    map: { attribute: false },
    contours: { state: true },
    caption: { state: true },
    settings: { state: true },
  };

  declare session: Session;
  declare recording: Recording;
  declare shown: Shown;
  declare theme: Theme;
  /** The colour map that the person chose; null: the theme's own. */
  declare map: ColourMap | null;
  declare contours: boolean;
  #watch: Watch<ReadonlyMap<number, Kept>> | null = null;
  /** What there is to say of the picture. */
  declare caption: Caption | null;
  /** Whether the settings of the view are shown. */
  declare settings: boolean;

  /** Whether the view moves just now, and the recording as it was before. */
  #moving = false;
  #still: Recording | null = null;

  constructor() {
    super();
    this.contours = true;
    this.caption = null;
    this.settings = false;
    this.addEventListener(PickEvent.type, (event) => this.#picked(event as PickEvent));
    this.addEventListener(DeedEvent.type, (event) => this.#deed((event as DeedEvent).deed));
    this.addEventListener(GoEvent.type, (event) => {
      const pulse = this.#sounds()[(event as GoEvent).index]?.pulse ?? null;
      this.session.select(this.recording.id, pulse);
      this.#goTo(pulse);
    });
    this.addEventListener(LookEvent.type, (event) => {
      const { extent, manner } = event as LookEvent;
      this.#moving = manner === 'moving';
      this.session.look(this.recording.id, extent);
    });
    this.addEventListener(PictureLookEvent.type, (event) => {
      this.session.relook((event as PictureLookEvent).change);
    });
    this.addEventListener(CaptionEvent.type, (event) => {
      this.caption = (event as CaptionEvent).caption;
    });
    this.addEventListener(ExpandEvent.type, (event) => {
      this.session.expand(this.recording.id, (event as ExpandEvent).factor);
    });
    this.addEventListener(MeasureEvent.type, (event) => {
      this.session.measure(this.recording.id, (event as MeasureEvent).channel);
    });
    this.addEventListener(LeafEvent.type, (event) => {
      this.session.reveal({ leaf: (event as LeafEvent).leaf });
    });
    this.addEventListener(AsideEvent.type, () => this.#deed('set-aside'));
    this.addEventListener(LabelEvent.type, (event) => this.#label(event as LabelEvent));
    this.addEventListener('keydown', (event) => {
      if (isLabelKey(event)) {
        event.preventDefault();
        this.#label(new LabelEvent(null));
      }
    });
    this.addEventListener(StopEvent.type, () => this.session.stop(this.recording.id));
  }

  /** Puts the keyboard into the picture. */
  override focus(options?: FocusOptions): void {
    this.renderRoot.querySelector('call-picture')?.focus(options);
  }

  override render(): TemplateResult {
    const { recording } = this;
    return html`
      <recording-head .recording=${recording}></recording-head>
      ${isReadable(recording) ? this.#body(recording) : nothing}
    `;
  }

  #body(recording: Recording): TemplateResult {
    const facts = recording.opened?.facts;
    const sounds = this.#sounds();
    const selected = this.#selected(sounds);
    const kept = this.#kept();
    const laid = labelled(kept.history.present.labels, recording);
    const map = this.map ?? THEMES[this.theme].map;
    return html`
      ${recording.call ? html`<call-panel .call=${recording.call} .recording=${recording}></call-panel>` : nothing}
      <carried-labels .keeping=${this.session.keeping} .recording=${recording} .kept=${kept}></carried-labels>
      ${facts?.expansion_guess ? html`<expansion-guess .facts=${facts}></expansion-guess>` : nothing}
      <section aria-label="Picture">
        <picture-tools
          .session=${this.session}
          .recording=${recording}
          .shown=${this.shown}
          .none=${sounds.length === 0}
          .contours=${this.contours}
          .settings=${this.settings}
          @settings=${this.#toggleSettings}
        ></picture-tools>
        ${this.settings
          ? html`<view-settings
              id="view-settings"
              .look=${this.shown.look}
              .caption=${this.caption}
              .map=${map}
              .usualMap=${THEMES[this.theme].map}
            ></view-settings>`
          : nothing}
        <overview-strip
          .recording=${recording}
          .sounds=${sounds}
          .map=${map}
          .theme=${this.theme}
        ></overview-strip>
        <picture-strips
          .recording=${recording}
          .name=${sounds[selected ?? -1]?.name ?? null}
          .strips=${this.shown.strips}
          .scale=${this.shown.look.scale}
        >
          <call-picture
            .core=${this.session.core}
            .recording=${recording}
            .sounds=${sounds}
            .selected=${selected}
            .theme=${this.theme}
            .map=${map}
            .look=${this.shown.look}
            .contours=${this.contours}
            .over=${this.#over(sounds, selected)}
            @drawn=${this.#drawn}
          ></call-picture>
        </picture-strips>
        <picture-words .recording=${recording} .sounds=${sounds}></picture-words>
        <aside-dialog></aside-dialog>
      </section>
      <hear-bar .hearing=${this.session.hearing} .recording=${recording}></hear-bar>
      ${this.#leaves(sounds, selected)}
      ${facts ? html`<facts-panel .facts=${facts}></facts-panel>` : nothing}
      <label-dialog .keeping=${this.session.keeping} .recording=${recording}></label-dialog>
      <print-record
        .recording=${recording}
        .sounds=${sounds}
        .entries=${this.session.hand.entries(recording)}
        .labelled=${laid}
        .uncertainty=${this.shown.uncertainty}
        .theme=${this.theme}
        .map=${map}
        .picture=${() => this.renderRoot.querySelector('call-picture')}
      ></print-record>
      <share-call
        .session=${this.session}
        .recording=${recording}
        .sounds=${sounds}
        .selected=${selected}
        .labelled=${laid}
        .look=${this.shown.look}
        .map=${map}
      ></share-call>
      <take-along
        .session=${this.session}
        .recording=${recording}
        .sounds=${sounds}
        .selected=${selected}
        .map=${map}
        .look=${this.shown.look}
      ></take-along>
    `;
  }

  #toggleSettings(): void {
    this.settings = !this.settings;
  }

  /** What is done by hand and what is heard, on the picture's own axes. */
  #over(sounds: readonly Sound[], selected: number | null): OverPicture {
    const { session, recording, shown } = this;
    return (time, frequency, width, height) => html`<hand-overlay
      .session=${session}
      .recording=${recording}
      .sounds=${sounds}
      .selected=${selected}
      .handles=${shown.leaf === HAND_LEAF}
      .time=${time}
      .frequency=${frequency}
      .width=${width}
      .height=${height}
    ></hand-overlay>
    <hear-marks
      .hearing=${session.hearing}
      .recording=${recording}
      .time=${time}
      .frequency=${frequency}
      .width=${width}
      .height=${height}
    ></hear-marks>`;
  }

  /** What the person decided about the recording. */
  #kept(): Kept {
    this.#watch ??= new Watch(this, this.session.keeping.store);
    return keptOf(this.#watch.value, this.recording.id);
  }

  #label({ label, whole: isWhole }: LabelEvent): void {
    const dialog = this.renderRoot.querySelector('label-dialog');
    void (label ? dialog?.change(label) : dialog?.make(isWhole ? 'recording' : undefined));
  }

  /** The overview is made of what the picture draws anyway. */
  #drawn(event: Event): void {
    const picture = event.currentTarget as CallPicture;
    if (this.renderRoot.querySelector('overview-strip')?.drawFrom(picture.painter) === true) {
      picture.redraw();
    }
  }

  /** The recording as the leaves see it: while the view moves, as it was before, for no table to be made anew with every frame. */
  #stillRecording(): Recording {
    const still = this.#still;
    if (still === null || !this.#moving || !differOnlyInView(still, this.recording)) {
      this.#still = this.recording;
    }
    return this.#still ?? this.recording;
  }

  #leaves(sounds: readonly Sound[], selected: number | null): TemplateResult {
    const { session, shown, theme } = this;
    const recording = this.#stillRecording();
    const map = this.map ?? THEMES[theme].map;
    const leaf = leafOf(shown.leaf);
    const kept = this.#kept();
    const laid = labelled(kept.history.present.labels, recording);
    return html`<leaf-tabs .label=${"What was found"} .leaves=${LEAVES} .chosen=${leaf?.id ?? ''}>
      ${leaf?.render({ session, recording, shown, sounds, selected, kept, labelled: laid, theme, map })}
    </leaf-tabs>`;
  }

  #picked(event: PickEvent): void {
    const { recording, session } = this;
    const pulse = this.#sounds()[event.index ?? -1]?.pulse ?? null;
    session.select(recording.id, pulse);
    // Who clicks in the picture sees the pulse already; the view stays.
    const inTable = event.composedPath().some((part) => part instanceof PulseTable);
    if (inTable) {
      this.#goTo(pulse);
    }
  }

  #deed(deed: Deed): void {
    const { recording, session } = this;
    if (hearDeed(deed, session.hearing, recording) || handDeed(deed, this.#atHand())) {
      return;
    }
    switch (deed) {
      case 'next-pulse':
        this.#step(1);
        return;
      case 'previous-pulse':
        this.#step(-1);
        return;
      case 'contours':
        this.contours = !this.contours;
        return;
      case 'doubted':
        session.reveal({ doubted: !this.shown.doubted });
        return;
      case 'scale':
        this.dispatchEvent(
          new PictureLookEvent({ scale: this.shown.look.scale === 'linear' ? 'logarithmic' : 'linear' }),
        );
        return;
      case 'sharpened':
        this.dispatchEvent(new PictureLookEvent({ sharpened: !this.shown.look.sharpened }));
        return;
      case 'keys':
        this.dispatchEvent(new KeysEvent());
        return;
      case 'pick':
        session.togglePicked(recording.id, recording.selected);
        return;
      case 'take':
        this.renderRoot.querySelector('take-along')?.open();
        return;
      case 'share':
        this.renderRoot.querySelector('share-call')?.open();
        return;
      case 'deselect':
        session.select(recording.id, null);
        return;
      default: {
        const limits = this.#limits();
        if (recording.extent && limits) {
          const manner = deed === 'whole' ? 'leap' : 'rest';
          this.#look(viewAfter(deed, recording.extent, limits, this.shown.look.scale), manner);
        }
      }
    }
  }

  #atHand(): AtHand {
    const { session, recording, shown } = this;
    const sounds = this.#sounds();
    return {
      session,
      recording,
      sound: sounds[this.#selected(sounds) ?? -1] ?? null,
      strips: shown.strips,
      turn: () => this.dispatchEvent(new LeafEvent(HAND_LEAF)),
      ask: (sound) => {
        const dialog = this.renderRoot.querySelector('aside-dialog');
        void dialog?.ask(session, recording, sound);
      },
    };
  }

  /** The pulses, and the doubted sounds where these are shown. */
  #sounds(): readonly Sound[] {
    return soundsOf(this.recording.findings, this.shown.doubted);
  }

  /** Index of what is selected; null where that is nothing, or not shown. */
  #selected(sounds: readonly Sound[]): number | null {
    const { selected } = this.recording;
    const index = selected === null ? -1 : sounds.findIndex(({ pulse }) => pulse === selected);
    return index < 0 ? null : index;
  }

  /** To the sound after or before the selected one, else the first in view. */
  #step(by: 1 | -1): void {
    const { extent } = this.recording;
    const sounds = this.#sounds();
    const selected = this.#selected(sounds);
    const inView = sounds.findIndex(({ pulse }) => extent && pulse.start_s >= extent.time.from);
    const next = sounds[selected === null ? Math.max(0, inView) : selected + by];
    if (next) {
      this.session.select(this.recording.id, next.pulse);
      this.#goTo(next.pulse);
    }
  }

  #goTo(pulse: Pulse | null): void {
    const limits = this.#limits();
    const { extent } = this.recording;
    if (pulse && extent && limits) {
      this.#look(around(pulse, extent, limits), 'leap');
    }
  }

  #look(extent: Extent | null, manner: Manner): void {
    if (extent) {
      this.dispatchEvent(new LookEvent(extent, manner));
    }
  }

  #limits(): Extent | null {
    const facts = this.recording.opened?.facts;
    return facts ? whole(facts, this.shown.look.scale) : null;
  }

  static override styles = [base, viewStyles];
}

function differOnlyInView(a: Recording, b: Recording): boolean {
  return (Object.keys(b) as (keyof Recording)[]).every((key) => key === 'extent' || a[key] === b[key]);
}

customElements.define('recording-view', RecordingView);

declare global {
  interface HTMLElementTagNameMap {
    'recording-view': RecordingView;
  }
}
