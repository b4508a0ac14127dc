import type { Scale } from '../../axis.ts';
import { seconds, kilohertz } from '../../units.ts';
import {
  moved,
  raised,
  zoomedInFrequency,
  zoomedInTime,
  type Extent,
} from './extent.ts';
import type { Deed } from './picture/keys.ts';

/** Share of the view that an arrow key moves by. */
const STEP = 0.15;
/** Factor by which a plus key comes closer. */
const CLOSER = 0.7;

/** The view that a key leads to; null where the key is about something else. */
export function viewAfter(deed: Deed, extent: Extent, limits: Extent, scale: Scale = 'linear'): Extent | null {
  const length = extent.time.to - extent.time.from;
  const middle = seconds((extent.time.from + extent.time.to) / 2);
  const { from, to } = extent.frequency;
  const centre = kilohertz(scale === 'linear' ? (from + to) / 2 : Math.sqrt(from * to));
  const inTime = (by: number) => moved(extent, limits, { time: seconds(by) });
  const inFrequency = (share: number) => raised(extent, limits, share, scale);
  switch (deed) {
    case 'earlier':
      return inTime(-length * STEP);
    case 'later':
      return inTime(length * STEP);
    case 'page-earlier':
      return inTime(-length);
    case 'page-later':
      return inTime(length);
    case 'beginning':
      return inTime(limits.time.from - extent.time.from);
    case 'end':
      return inTime(limits.time.to - extent.time.to);
    case 'higher':
      return inFrequency(STEP);
    case 'lower':
      return inFrequency(-STEP);
    case 'closer':
      return zoomedInTime(extent, limits, CLOSER, middle);
    case 'farther':
      return zoomedInTime(extent, limits, 1 / CLOSER, middle);
    case 'closer-frequency':
      return zoomedInFrequency(extent, limits, CLOSER, centre, scale);
    case 'farther-frequency':
      return zoomedInFrequency(extent, limits, 1 / CLOSER, centre, scale);
    case 'whole':
      return limits;
    default:
      return null;
  }
}
