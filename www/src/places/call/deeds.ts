import { seconds, kilohertz } from '../../units.ts';
import {
  moved,
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
export function viewAfter(deed: Deed, extent: Extent, limits: Extent): Extent | null {
  const length = extent.time.to - extent.time.from;
  const height = extent.frequency.to - extent.frequency.from;
  const middle = seconds((extent.time.from + extent.time.to) / 2);
  const centre = kilohertz((extent.frequency.from + extent.frequency.to) / 2);
  const inTime = (by: number) => moved(extent, limits, { time: seconds(by) });
  const inFrequency = (by: number) => moved(extent, limits, { frequency: kilohertz(by) });
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
      return inFrequency(height * STEP);
    case 'lower':
      return inFrequency(-height * STEP);
    case 'closer':
      return zoomedInTime(extent, limits, CLOSER, middle);
    case 'farther':
      return zoomedInTime(extent, limits, 1 / CLOSER, middle);
    case 'closer-frequency':
      return zoomedInFrequency(extent, limits, CLOSER, centre);
    case 'farther-frequency':
      return zoomedInFrequency(extent, limits, 1 / CLOSER, centre);
    case 'whole':
      return limits;
    default:
      return null;
  }
}
