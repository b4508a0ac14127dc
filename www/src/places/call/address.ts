import { kilohertz, seconds } from '../../units.ts';
import type { Extent } from './extent.ts';
import { readLook, sameLook, USUAL_LOOK, writeLook, type PictureLook } from './picture/look.ts';

/**
 * What the address's fragment says of the view. A fragment never reaches a
 * server, so nothing of what a person looks at leaves the machine with it.
 */
export interface Address {
  readonly extent: Extent | null;
  readonly theme: string | null;
  readonly map: string | null;
  /** How the picture looks beside its colours; absent where it looks as usual. */
  readonly look?: PictureLook;
  /** File name of a sample; a dropped file cannot be found again. */
  readonly sample: string | null;
  /** The text of a call link; absent where there is none. */
  readonly call?: string;
  /** Where a recording lies beside the page, as the link has it; absent for any other recording. */
  readonly hosted?: string;
  /** There while the page about the numbers is read: the entry that is looked up, or '' for none. */
  readonly numbers?: string;
  /** The leaf below the picture; absent for the first. */
  readonly leaf?: string;
}

export function parse(fragment: string): Address {
  const fields = new URLSearchParams(fragment.replace(/^#/, ''));
  const time = pair(fields.get('t'));
  const frequency = pair(fields.get('f'));
  const numbers = fields.get('numbers');
  const leaf = fields.get('leaf');
  const call = fields.get('call');
  const hosted = readHosted(fragment);
  const look = readLook(fields);
  return {
    extent:
      time && frequency
        ? {
            time: { from: seconds(time[0]), to: seconds(time[1]) },
            frequency: {
              from: kilohertz(frequency[0]),
              to: kilohertz(frequency[1]),
            },
          }
        : null,
    theme: fields.get('theme'),
    map: fields.get('map'),
    sample: fields.get('sample'),
    ...(hosted === null ? {} : { hosted }),
    ...(numbers === null ? {} : { numbers }),
    ...(leaf === null ? {} : { leaf }),
    ...(call === null ? {} : { call }),
    ...(sameLook(look, USUAL_LOOK) ? {} : { look }),
  };
}

export function format(address: Address): string {
  const fields = new URLSearchParams();
  if (address.sample !== null) {
    fields.set('sample', address.sample);
  }
  if (address.extent) {
    const { time, frequency } = address.extent;
    fields.set('t', `${shortened(time.from, 5)}-${shortened(time.to, 5)}`);
    fields.set(
      'f',
      `${shortened(frequency.from, 2)}-${shortened(frequency.to, 2)}`,
    );
  }
  if (address.theme !== null) {
    fields.set('theme', address.theme);
  }
  if (address.map !== null) {
    fields.set('map', address.map);
  }
  writeLook(address.look ?? USUAL_LOOK, fields);
  if (address.leaf !== undefined) {
    fields.set('leaf', address.leaf);
  }
  if (address.call !== undefined) {
    fields.set('call', address.call);
  }
  return `#${[numbersOf(address), hostedOf(address), fields.toString()].filter(Boolean).join('&')}`;
}

function numbersOf({ numbers }: Address): string {
  if (numbers === undefined) {
    return '';
  }
  return numbers === '' ? 'numbers' : `numbers=${encodeURIComponent(numbers)}`;
}

/** A path is written so that a person can read it, and add to it by hand. */
function hostedOf({ hosted }: Address): string {
  return hosted === undefined ? '' : `recording=${encodeURIComponent(hosted).replaceAll('%2F', '/')}`;
}

/** A plus stays a plus: in a path it is part of a name, and no space. */
function readHosted(fragment: string): string | null {
  const written = /(?:^#?|&)recording=([^&]*)/.exec(fragment)?.[1];
  if (written === undefined) {
    return null;
  }
  try {
    return decodeURIComponent(written);
  } catch {
    // A lone % is meant as itself.
    return written;
  }
}

function shortened(value: number, decimals: number): string {
  return String(Number(value.toFixed(decimals)));
}

function pair(text: string | null): [number, number] | null {
  const match = /^(\d+(?:\.\d+)?)-(\d+(?:\.\d+)?)$/.exec(text ?? '');
  if (!match) {
    return null;
  }
  const from = Number(match[1]);
  const to = Number(match[2]);
  return to > from ? [from, to] : null;
}
