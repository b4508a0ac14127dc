/** How the person has narrowed the list of files down. */

import type { Group, NightKey, Order, Wanted } from '../../../core/types.ts';

/** A stretch of the night, and of frequency, that was marked on the plot. */
export interface Stretch {
  /** Seconds since 1970, UTC. */
  readonly from: number | null;
  readonly to: number | null;
  readonly lowKhz: number | null;
  readonly highKhz: number | null;
}

/** A double-check: files that were drawn at random, and what they were drawn from. */
export interface Draw {
  readonly contents: readonly string[];
  readonly group: Group;
  readonly of: number;
}

export interface Narrowing {
  readonly groups: ReadonlySet<Group>;
  readonly stretch: Stretch | null;
  /** null: any; '': without a label. */
  readonly label: string | null;
  readonly buzzes: boolean;
  readonly path: string;
  readonly order: Order;
  readonly descending: boolean;
  /** The double-check that is under way; it is listed as it was drawn, and nothing else. */
  readonly draw: Draw | null;
}

export const ALL_FILES: Narrowing = {
  groups: new Set(),
  stretch: null,
  label: null,
  buzzes: false,
  path: '',
  order: 'time',
  descending: false,
  draw: null,
};

/** What the list is asked for. */
export function wantedOf(narrowing: Narrowing, nights: readonly NightKey[]): Wanted {
  const { groups, stretch, label, buzzes, path, order, descending, draw } = narrowing;
  const nothing: Wanted = {
    nights: [...nights],
    groups: [],
    from: undefined,
    to: undefined,
    low_khz: undefined,
    high_khz: undefined,
    buzzes: false,
    label: undefined,
    reviewed: undefined,
    contents: undefined,
    path: '',
    order,
    descending,
  };
  if (draw) {
    return { ...nothing, groups: [draw.group], contents: [...draw.contents], order: 'asked', descending: false };
  }
  return {
    ...nothing,
    groups: [...groups],
    from: stretch?.from ?? undefined,
    to: stretch?.to ?? undefined,
    low_khz: stretch?.lowKhz ?? undefined,
    high_khz: stretch?.highKhz ?? undefined,
    buzzes,
    label: label ?? undefined,
    path,
  };
}
