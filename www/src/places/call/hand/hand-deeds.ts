import type { Deed } from '../picture/keys.ts';
import type { Recording } from '../recordings.ts';
import type { Session } from '../session.ts';
import type { Sound } from '../sounds.ts';
import { rememberStrips, type Strips } from '../strips/remembered.ts';
import { asideOf } from './matching.ts';

/** What a deed by hand is done with. */
export interface AtHand {
  readonly session: Session;
  readonly recording: Recording;
  /** The chosen sound. */
  readonly sound: Sound | null;
  readonly strips: Strips;
  /** Turns to the leaf with all that is done by hand. */
  readonly turn: () => void;
  /** Asks why a sound is set aside. */
  readonly ask: (sound: Sound) => void;
}

const NUDGES: Readonly<Partial<Record<Deed, readonly ['start' | 'end', 1 | -1]>>> = {
  'start-earlier': ['start', -1],
  'start-later': ['start', 1],
  'end-earlier': ['end', -1],
  'end-later': ['end', 1],
};

/** Does what a key asks for, if that is something by hand; tells whether it was. */
export function handDeed(deed: Deed, at: AtHand): boolean {
  const { session, recording, sound, strips } = at;
  const { hand } = session;
  const nudge = NUDGES[deed];
  if (nudge) {
    if (sound) {
      const [edge, direction] = nudge;
      hand.nudge(recording, sound, edge, direction * hand.store.value.step.ms * 1e-3);
    } else {
      hand.set({ said: 'Choose a pulse first' });
    }
    return true;
  }
  switch (deed) {
    case 'band':
      if (!hand.store.value.marking) {
        at.turn();
      }
      hand.mark(!hand.store.value.marking);
      return true;
    case 'waveform':
      showStrips(session, { ...strips, waveform: !strips.waveform });
      return true;
    case 'power':
      showStrips(session, { ...strips, power: !strips.power });
      return true;
    case 'add':
      at.turn();
      hand.keepBand(recording, 'added');
      return true;
    case 'set-aside':
      setAside(at);
      return true;
    default:
      return false;
  }
}

/** Shows or hides the strips beside the picture. */
export function showStrips(session: Session, strips: Strips): void {
  session.reveal({ strips });
  rememberStrips(strips);
}

/** Asks for a reason, or brings back what was set aside. */
function setAside({ session, recording, sound, ask }: AtHand): void {
  if (!sound) {
    session.hand.set({ said: 'Choose a pulse first' });
  } else if (asideOf(recording, session.hand.entries(recording), sound.pulse)) {
    session.hand.bringBack(recording, sound);
  } else {
    ask(sound);
  }
}
