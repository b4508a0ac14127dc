import type { ColourMap } from '../../core/client.ts';
import type { Whereabouts } from '../../shell/place.ts';
import type { Theme } from '../../themes.ts';
import { format } from './address.ts';
import type { Errand } from './hosted/errand.ts';
import { FIRST_LEAF } from './leaves.ts';
import { current, type Recordings } from './recordings.ts';

/** How the Call place is looked at, apart from its recordings. */
export interface Sight {
  readonly theme: Theme;
  readonly map: ColourMap | null;
  /** The entry of the page about the numbers; null: it is closed. */
  readonly reading: string | null;
}

/** Where the person is in the Call place. */
export function whereaboutsOf(all: Recordings, errand: Errand, { theme, map, reading }: Sight): Whereabouts {
  const shown = current(all);
  const { leaf, look } = all.shown;
  // What is still on its way is named too, so that a reload asks for it again.
  const hosted = shown === null && errand.kind !== 'none' ? errand.path : shown?.hosted;
  const fragment = format({
    extent: shown?.extent ?? null,
    theme,
    map,
    look,
    sample: shown?.sample ? shown.name : null,
    ...(typeof hosted === 'string' ? { hosted } : {}),
    ...(reading === null ? {} : { numbers: reading }),
    ...(leaf === FIRST_LEAF ? {} : { leaf }),
    ...(shown?.call ? { call: shown.call.text } : {}),
  });
  return { fragment, note: shown?.id ?? null };
}
