/** Which strips stand beside the picture. */
export interface Strips {
  readonly waveform: boolean;
  readonly power: boolean;
}

const KEY = 'dusklens.strips';

/** Those of last time; none at first. */
export function rememberedStrips(): Strips {
  let kept = '';
  try {
    kept = localStorage.getItem(KEY) ?? '';
  } catch {
    // A private window may have no storage; then nothing is remembered.
  }
  const words = kept.split(' ');
  return { waveform: words.includes('waveform'), power: words.includes('power') };
}

/** Keeps the choice for next time, where the browser allows it. */
export function rememberStrips({ waveform, power }: Strips): void {
  const words = [...(waveform ? ['waveform'] : []), ...(power ? ['power'] : [])];
  try {
    localStorage.setItem(KEY, words.join(' '));
  } catch {
    // As above: the choice then lasts as long as the page.
  }
}
