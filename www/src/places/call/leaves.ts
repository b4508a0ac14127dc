import { html, type TemplateResult } from 'lit';
import type { LeafName } from '../../parts/leaf-tabs.ts';
import type { Theme } from '../../themes.ts';
import type { ColourMap } from '../../core/client.ts';
import './hand/hand-leaf.ts';
import type { Kept } from '../../keep/keeping.ts';
import type { Labelled } from './labels/labelled.ts';
import './labels/labels-leaf.ts';
import './pulse-section.ts';
import type { Recording, Shown } from './recordings.ts';
import type { Session } from './session.ts';
import './sequences/sequence-leaf.ts';
import './sheet/pulse-sheet.ts';
import type { Sound } from './sounds.ts';

/** What a leaf may show. */
export interface LeafMatter {
  readonly session: Session;
  readonly recording: Recording;
  readonly shown: Shown;
  /** The pulses, and the doubted sounds where these are shown. */
  readonly sounds: readonly Sound[];
  /** Index into `sounds`. */
  readonly selected: number | null;
  /** What the person decided about the recording. */
  readonly kept: Kept;
  readonly labelled: Labelled;
  readonly theme: Theme;
  readonly map: ColourMap;
}

/** A leaf below the picture. Only the chosen one is rendered. */
export interface Leaf extends LeafName {
  readonly render: (matter: LeafMatter) => TemplateResult;
}

/** The leaf that an address need not name. */
export const FIRST_LEAF = 'table';
/** The leaf that a band turns to. */
export const HAND_LEAF = 'hand';

/** All leaves, in the order of their tabs and of the keys 1, 2, 3 ... */
export const LEAVES: readonly Leaf[] = [
  {
    id: FIRST_LEAF,
    label: 'Table',
    render: ({ session, recording, shown, sounds, selected, labelled }) => html`<pulse-section
      .session=${session}
      .recording=${recording}
      .shown=${shown}
      .sounds=${sounds}
      .selected=${selected}
      .labelled=${labelled}
    ></pulse-section>`,
  },
  {
    id: 'sheet',
    label: 'Pulse sheet',
    render: ({ session, recording, shown, sounds, selected, theme, map }) => html`<pulse-sheet
      .session=${session}
      .recording=${recording}
      .shown=${shown}
      .sounds=${sounds}
      .selected=${selected}
      .theme=${theme}
      .map=${map}
    ></pulse-sheet>`,
  },
  {
    id: 'sequences',
    label: 'Sequences',
    render: ({ recording, sounds, selected, theme }) => html`<sequence-leaf
      .recording=${recording}
      .sounds=${sounds}
      .selected=${selected}
      .theme=${theme}
    ></sequence-leaf>`,
  },
  {
    id: HAND_LEAF,
    label: 'By hand',
    render: ({ session, recording, sounds, selected }) => html`<hand-leaf
      .session=${session}
      .recording=${recording}
      .sounds=${sounds}
      .selected=${selected}
    ></hand-leaf>`,
  },
  {
    id: 'labels',
    label: 'Labels',
    render: ({ session, recording, sounds, selected, kept, labelled }) => html`<labels-leaf
      .session=${session}
      .recording=${recording}
      .kept=${kept}
      .labelled=${labelled}
      .selected=${selected === null ? null : (sounds[selected]?.name ?? null)}
    ></labels-leaf>`,
  },
];

/** The leaf of an `id`; the first where there is no such. */
export function leafOf(id: string | null): Leaf | undefined {
  return LEAVES.find((leaf) => leaf.id === id) ?? LEAVES[0];
}
