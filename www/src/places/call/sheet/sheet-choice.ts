import type { Measure, Pulse } from '../../../core/client.ts';
import type { Sound } from '../sounds.ts';

/** What the sheet is put in order by: a number, or the order in the recording. */
export type Order = 'time' | Measure;
/** Which sounds the sheet holds: all, those of a sequence by its number, those that stand alone, or what is picked. */
export type Part = 'all' | 'alone' | 'picked' | number;
export type CellSize = 'small' | 'medium' | 'large';

/** How a person wants the sheet; it lasts as long as the visit. */
export interface SheetChoice {
  readonly order: Order;
  readonly descending: boolean;
  readonly part: Part;
  readonly size: CellSize;
  /** The numbers below each pulse. */
  readonly numbers: readonly Measure[];
  /** Whether a colour stands for the same level in all cells. */
  readonly sameLevels: boolean;
}

export const FIRST_CHOICE: SheetChoice = {
  order: 'time',
  descending: false,
  part: 'all',
  size: 'medium',
  numbers: ['duration_ms', 'peak_khz', 'characteristic_khz'],
  sameLevels: true,
};

/** A sound on the sheet, and where it stands among all that are shown. */
export interface Item {
  readonly sound: Sound;
  readonly index: number;
}

/** The sounds that a choice leaves, in its order. What has no such number comes last. */
export function arranged(sounds: readonly Sound[], picked: ReadonlySet<number>, choice: SheetChoice): Item[] {
  const items = sounds
    .map((sound, index) => ({ sound, index }))
    .filter(({ sound }) => belongs(sound.pulse, picked, choice.part));
  const { order, descending } = choice;
  const sign = descending ? -1 : 1;
  if (order === 'time') {
    return descending ? items.toReversed() : items;
  }
  const value = ({ sound }: Item): number => sound.pulse[order] ?? Number.NaN;
  const isTold = (item: Item): boolean => Number.isFinite(value(item));
  const told = items.filter(isTold).toSorted((a, b) => sign * (value(a) - value(b)));
  return [...told, ...items.filter((item) => !isTold(item))];
}

function belongs(pulse: Pulse, picked: ReadonlySet<number>, part: Part): boolean {
  switch (part) {
    case 'all':
      return true;
    case 'alone':
      return (pulse.sequence ?? null) === null;
    case 'picked':
      return picked.has(pulse.start_s);
    default:
      return pulse.sequence === part;
  }
}
