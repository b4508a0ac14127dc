/** What is typed into the settings of a night, read and written. */

import type { Position, Timer, TimerEdge } from '../../../core/types.ts';
import { two } from '../../../digits.ts';

/** "+01:00", "1", "-3:30", "UTC+2" -> minutes; null where it is none. */
export function readOffset(text: string): number | null {
  const match = /^\s*(?:UTC)?\s*([+\-−]?)\s*(\d{1,2})(?::?(\d{2}))?\s*$/i.exec(text);
  if (!match) {
    return null;
  }
  const minutes = Number(match[2]) * 60 + Number(match[3] ?? 0);
  const isWest = match[1] === '-' || match[1] === '−';
  return minutes <= 14 * 60 ? (isWest ? -minutes : minutes) : null;
}

export function writeOffset(minutes: number): string {
  const size = Math.abs(minutes);
  return `${minutes < 0 ? '-' : '+'}${two(size / 60)}:${two(size % 60)}`;
}

/** "52.4, 0.31" or "52.4 0.31" -> a position; undefined for nothing, null where it is none. */
export function readPosition(text: string): Position | undefined | null {
  if (text.trim() === '') {
    return undefined;
  }
  const parts = text.trim().split(/[\s,;]+/).map(Number);
  const [latitude_deg, longitude_deg] = parts;
  if (parts.length !== 2 || latitude_deg === undefined || longitude_deg === undefined) {
    return null;
  }
  const isOnEarth = Math.abs(latitude_deg) <= 90 && Math.abs(longitude_deg) <= 180;
  return isOnEarth ? { latitude_deg, longitude_deg, accuracy_m: undefined } : null;
}

export function writePosition(position: Position | undefined): string {
  return position ? `${position.latitude_deg}, ${position.longitude_deg}` : '';
}

/** "20:50", "sunset-30", "sunrise +30" -> an edge of a timer; null where it is none. */
export function readEdge(text: string): TimerEdge | null {
  const clock = /^\s*(\d{1,2})[:.](\d{2})\s*$/.exec(text);
  if (clock) {
    const minute = Number(clock[1]) * 60 + Number(clock[2]);
    return Number(clock[1]) < 24 && Number(clock[2]) < 60 ? { kind: 'clock', minute } : null;
  }
  const sun = /^\s*(sunset|sunrise)\s*(?:([+\-−])\s*(\d{1,3})\s*(?:min)?)?\s*$/i.exec(text);
  if (!sun) {
    return null;
  }
  const size = Number(sun[3] ?? 0);
  const offset_min = sun[2] === '-' || sun[2] === '−' ? -size : size;
  return { kind: sun[1]?.toLowerCase() === 'sunset' ? 'sunset' : 'sunrise', offset_min };
}

export function writeEdge(edge: TimerEdge): string {
  if (edge.kind === 'clock') {
      return `${two(edge.minute / 60)}:${two(edge.minute % 60)}`;
  }
  const { offset_min } = edge;
  return offset_min === 0 ? edge.kind : `${edge.kind}${offset_min < 0 ? '-' : '+'}${Math.abs(offset_min)}`;
}

/** Both edges of a timer; undefined for nothing, null where one cannot be read. */
export function readTimer(from: string, to: string): Timer | undefined | null {
  if (from.trim() === '' && to.trim() === '') {
    return undefined;
  }
  const [first, last] = [readEdge(from), readEdge(to)];
  return first && last ? { from: first, to: last } : null;
}

