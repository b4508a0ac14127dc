import { kilohertz } from '../../../units.ts';
import type { Deed } from '../picture/keys.ts';
import type { Recording } from '../recordings.ts';
import { tuningWithin, TUNING_STEP_KHZ } from './choice.ts';
import type { Hearing } from './hearing.ts';

/** Does what a key asks for, if that is about listening; tells whether it was. */
export function hearDeed(deed: Deed, hearing: Hearing, recording: Recording): boolean {
  const { choice } = hearing.store.value;
  switch (deed) {
    case 'play':
      hearing.toggle(recording);
      return true;
    case 'loop':
      hearing.change({ loop: !choice.loop });
      return true;
    case 'tune-down':
    case 'tune-up': {
      const facts = recording.opened?.facts;
      const step = deed === 'tune-up' ? TUNING_STEP_KHZ : -TUNING_STEP_KHZ;
      const tuning = kilohertz(choice.tuning + step);
      hearing.change({ way: 'heterodyne', tuning: facts ? tuningWithin(tuning, facts) : tuning });
      return true;
    }
    default:
      return false;
  }
}
