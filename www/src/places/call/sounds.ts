import type { Findings, Pulse } from '../../core/types.ts';

/** A line of the table: a pulse or a doubted sound. */
export interface Sound {
  readonly pulse: Pulse;
  /** "7" for a pulse and "D3" for a doubted sound, counted among its own kind: as in a saved table. */
  readonly name: string;
}

/** Whether there is a reason to doubt that a sound is a bat's. */
export function isDoubted({ doubt }: Pulse): boolean {
  return doubt !== null && doubt !== undefined;
}

interface Lists {
  readonly pulses: readonly Sound[];
  readonly all: readonly Sound[];
}

/** Made once for all findings, so that what shows them knows them again. */
const MADE = new WeakMap<Findings, Lists>();

/** Pulses, with the doubted sounds between them if these are wanted, in order of time. */
export function soundsOf(findings: Findings, withDoubted: boolean): readonly Sound[] {
  let lists = MADE.get(findings);
  if (!lists) {
    lists = made(findings);
    MADE.set(findings, lists);
  }
  return withDoubted ? lists.all : lists.pulses;
}

function made({ pulses, doubted }: Findings): Lists {
  const named = pulses.map((pulse, index) => ({ pulse, name: String(index + 1) }));
  const others = doubted.map((pulse, index) => ({ pulse, name: `D${index + 1}` }));
  return { pulses: named, all: others.length > 0 ? merged(named, others) : named };
}

/** Two lists in order of time as one. */
function merged(some: readonly Sound[], others: readonly Sound[]): Sound[] {
  const all: Sound[] = [];
  let next = 0;
  for (const sound of some) {
    let other = others[next];
    while (other && other.pulse.start_s < sound.pulse.start_s) {
      all.push(other);
      next += 1;
      other = others[next];
    }
    all.push(sound);
  }
  return [...all, ...others.slice(next)];
}
