/** What a key does while the picture has the focus. */
export type Deed =
  | 'earlier' | 'later' | 'higher' | 'lower'
  | 'page-earlier' | 'page-later' | 'beginning' | 'end'
  | 'closer' | 'farther' | 'closer-frequency' | 'farther-frequency'
  | 'scale' | 'sharpened' | 'cross-hair'
  | 'whole' | 'next-pulse' | 'previous-pulse' | 'contours' | 'doubted' | 'keys' | 'deselect' | 'pick' | 'take' | 'share'
  | 'play' | 'loop' | 'tune-down' | 'tune-up'
  | 'band' | 'waveform' | 'power' | 'add' | 'set-aside'
  | 'start-earlier' | 'start-later' | 'end-earlier' | 'end-later';

interface Key {
  /** Position on the keyboard, whatever letter the layout prints there. */
  readonly codes: readonly string[];
  readonly shift?: boolean;
  readonly deed: Deed;
}

const KEYS: readonly Key[] = [
  { codes: ['ArrowLeft'], deed: 'earlier' },
  { codes: ['ArrowRight'], deed: 'later' },
  { codes: ['ArrowUp'], deed: 'higher' },
  { codes: ['ArrowDown'], deed: 'lower' },
  { codes: ['PageUp'], deed: 'page-earlier' },
  { codes: ['PageDown'], deed: 'page-later' },
  { codes: ['Home'], deed: 'beginning' },
  { codes: ['End'], deed: 'end' },
  { codes: ['Equal', 'NumpadAdd'], shift: true, deed: 'closer-frequency' },
  { codes: ['Minus', 'NumpadSubtract'], shift: true, deed: 'farther-frequency' },
  { codes: ['Equal', 'NumpadAdd'], deed: 'closer' },
  { codes: ['Minus', 'NumpadSubtract'], deed: 'farther' },
  { codes: ['Digit0', 'Numpad0'], deed: 'whole' },
  { codes: ['Period'], deed: 'next-pulse' },
  { codes: ['Comma'], deed: 'previous-pulse' },
  { codes: ['KeyO'], deed: 'contours' },
  { codes: ['KeyD'], deed: 'doubted' },
  { codes: ['KeyT'], deed: 'take' },
  { codes: ['KeyE'], deed: 'share' },
  { codes: ['KeyG'], deed: 'scale' },
  { codes: ['KeyS'], deed: 'sharpened' },
  { codes: ['KeyC'], deed: 'cross-hair' },
  { codes: ['KeyV'], deed: 'pick' },
  { codes: ['Escape'], deed: 'deselect' },
  { codes: ['Space'], deed: 'play' },
  { codes: ['KeyL'], deed: 'loop' },
  { codes: ['Semicolon'], deed: 'tune-down' },
  { codes: ['Quote'], deed: 'tune-up' },
  { codes: ['KeyB'], deed: 'band' },
  { codes: ['KeyW'], deed: 'waveform' },
  { codes: ['KeyP'], deed: 'power' },
  { codes: ['KeyA'], deed: 'add' },
  { codes: ['KeyX'], deed: 'set-aside' },
  { codes: ['BracketLeft'], deed: 'start-earlier' },
  { codes: ['BracketRight'], deed: 'start-later' },
  { codes: ['BracketLeft'], shift: true, deed: 'end-earlier' },
  { codes: ['BracketRight'], shift: true, deed: 'end-later' },
];

/** Signs that lie elsewhere on other layouts, taken by what they print. */
const PRINTED: Readonly<Record<string, Deed | undefined>> = {
  '?': 'keys',
  '-': 'farther',
};

/** What a key press asks for; null leaves it to the browser. */
export function deedOf(event: KeyboardEvent): Deed | null {
  if (event.ctrlKey || event.metaKey || event.altKey) {
    return null;
  }
  const printed = PRINTED[event.key];
  if (printed) {
    return printed;
  }
  const fits = (key: Key) =>
    key.codes.includes(event.code) && (key.shift ?? false) === event.shiftKey;
  return KEYS.find(fits)?.deed ?? null;
}

/** The list of keys for a person: what to press, what it does. */
export const KEY_WORDS: readonly (readonly [readonly string[], string])[] = [
  [['←', '→'], 'move in time'],
  [['↑', '↓'], 'move in frequency'],
  [['Page up', 'Page down'], 'one whole view earlier, later'],
  [['Home', 'End'], 'beginning, end of the recording'],
  [['+', '−'], 'closer, farther in time'],
  [['Shift +', 'Shift −'], 'closer, farther in frequency'],
  [['0'], 'the whole recording'],
  [[',', '.'], 'previous, next pulse'],
  [['O'], 'contours on, off'],
  [['D'], 'doubted sounds on, off'],
  [['G'], 'frequency axis linear, logarithmic'],
  [['S'], 'sharpened picture on, off'],
  [['C'], 'cross-hair on, off; then arrow keys move it, with Shift farther, and it is read out'],
  [['V'], 'pick the selected pulse for comparing, or let it go'],
  [['Space'], 'play or stop'],
  [['L'], 'loop on, off'],
  [[';', '’'], 'heterodyne: tune down, up by 0.5 kHz (the two keys right of L)'],
  [['B'], 'mark a band, or end that; then arrow keys move it, with Shift they size it, Enter measures'],
  [['A'], 'add what the band holds as a pulse'],
  [['[', ']'], 'start of the selected pulse earlier, later; with Shift its end'],
  [['X'], 'set the selected pulse aside, or bring it back'],
  [['W'], 'waveform on, off'],
  [['P'], 'power spectrum on, off'],
  [['T'], 'take a figure or the table along: save, copy, print'],
  [['E'], 'share a call in a link'],
  [['Esc'], 'let go of the pulse'],
  [['N'], 'label the chosen pulse, else the recording'],
  [['Ctrl Z', 'Ctrl Shift Z'], 'undo, redo what you decided; anywhere on the page'],
  [['?'], 'this list'],
];
