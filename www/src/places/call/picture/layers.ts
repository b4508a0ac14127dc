/** What lies over the picture, from the lowest up. Each kind of mark has a small maker of its own in its own folder. */

import type { Axis } from '../../../axis.ts';
import type { Kilohertz, Seconds } from '../../../units.ts';
import type { Recording } from '../recordings.ts';
import type { Pen } from './overlay.ts';

/** Something that is drawn over the picture, again with every frame in which the view moves. */
export interface Layer {
  /** Draws in CSS pixels from the picture's upper left corner; whatever it changes of the context is undone after it. */
  draw(
    context: CanvasRenderingContext2D,
    time: Axis<Seconds>,
    frequency: Axis<Kilohertz>,
    pen: Pen,
  ): void;
}

/** Makes a layer of what is known of a recording; null: there is nothing to draw. */
export type LayerMaker = (recording: Recording) => Layer | null;

/** All that is drawn over the contours and numbers, the lowest first. */
export const LAYERS: readonly LayerMaker[] = [];

/** Draws the layers of a recording, then those that somebody else keeps, such as what moves by itself. */
export function drawLayers(
  context: CanvasRenderingContext2D,
  recording: Recording,
  others: readonly Layer[],
  time: Axis<Seconds>,
  frequency: Axis<Kilohertz>,
  pen: Pen,
): void {
  const own = LAYERS.map((make) => make(recording)).filter((layer) => layer !== null);
  for (const layer of [...own, ...others]) {
    context.save();
    layer.draw(context, time, frequency, pen);
    context.restore();
  }
}
