/**
 * How well each number is known: the project's own check against synthetic
 * recordings whose truth is known (`cargo xtask truth`). All that the page says
 * of it stands here, so that a new check is entered in one place.
 */

/** The error that half of all pulses stay below. */
export interface Known {
  readonly name: string;
  readonly median: number;
  readonly unit: 'kHz' | 'ms' | 'dB';
  /** Where it is worse. */
  readonly but?: string;
}

export const KNOWN = {
  peak: {
    name: 'Peak frequency',
    median: 0.01,
    unit: 'kHz',
    but: 'about 1 kHz for steep sweeps whose spectrum is nearly flat',
  },
  start: { name: 'Start frequency', median: 0.14, unit: 'kHz' },
  end: { name: 'End frequency', median: 0.08, unit: 'kHz' },
  characteristic: { name: 'Characteristic frequency', median: 0.02, unit: 'kHz' },
  duration: { name: 'Duration', median: 0.04, unit: 'ms' },
  interval: { name: 'Interval', median: 0.03, unit: 'ms' },
  level: { name: 'Level', median: 0.05, unit: 'dB' },
} as const satisfies Readonly<Record<string, Known>>;

/** From this signal-to-noise on the figures hold, dB. */
export const FROM_DB = 15;

/** Where the figures come from. */
export const SOURCE =
  `These figures come from the project’s own check. Synthetic recordings, whose true values are known, go through the whole measurement: calls over a recorder’s hiss, with echoes, two animals, feeding buzzes and animals that fly past. Each figure is a median over the pulses from ${FROM_DB} dB of signal-to-noise on: half of the errors are smaller, half are larger. Their pulses are drawn apart from those that the measurement was tuned on. Real recordings are rougher, so take the figures for the best case.`;

/** "0.05 ms in the middle case, from 15 dB of signal-to-noise on". */
export function median(...keys: (keyof typeof KNOWN)[]): string {
  const parts = keys.map((key) => {
    const { name, median: value, unit }: Known = KNOWN[key];
    return keys.length > 1 ? `${name.toLowerCase()} ${value} ${unit}` : `${value} ${unit}`;
  });
  return `Median error: ${parts.join(', ')}, from ${FROM_DB} dB of signal-to-noise on.`;
}
