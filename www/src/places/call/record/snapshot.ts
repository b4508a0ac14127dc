/** The picture as it stands on the screen, for paper. It has to be had at once: printing waits for nothing. */

import type { CallPicture } from '../picture/call-picture.ts';
import type { Caption } from '../picture/painter.ts';
import { BELOW, LEFT } from '../picture/picture-styles.ts';

export interface Snapshot {
  /** Size of the picture itself, CSS pixels of the screen. */
  readonly width: number;
  readonly height: number;
  /** Room for the axes, left of and below it. */
  readonly left: number;
  readonly below: number;
  /** Addresses of its layers. */
  readonly sound: string;
  readonly marks: string;
  /** The axes, drawn for that size. */
  readonly axes: readonly Node[];
  /** The levels and the window that it was drawn with. */
  readonly caption: Caption | null;
}

/** A picture as it stands; null where there is none yet. */
export function snapshotOf(picture: CallPicture | null): Snapshot | null {
  const root = picture?.shadowRoot;
  const layer = (name: string) => root?.querySelector<HTMLCanvasElement>(`canvas.${name}`);
  const [sound, marks] = [layer('sound'), layer('marks')];
  // What it has measured of itself: by now it may be hidden already.
  if (!picture || !root || !sound || !marks || sound.width === 0 || picture.width < 1) {
    return null;
  }
  return {
    width: picture.width,
    height: picture.height,
    left: LEFT,
    below: BELOW,
    sound: sound.toDataURL(),
    marks: marks.toDataURL(),
    axes: [...root.querySelectorAll('.axes > *')].map((part) => part.cloneNode(true)),
    caption: root.querySelector('level-legend')?.caption ?? null,
  };
}
