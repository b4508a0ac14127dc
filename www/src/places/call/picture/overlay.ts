import type { Axis } from '../../../axis.ts';
import type { Contour, Pulse } from '../../../core/client.ts';
import { kilohertz, seconds, type CssPx, type Kilohertz, type Seconds } from '../../../units.ts';
import { isDoubted, type Sound } from '../sounds.ts';
import type { Point } from './gestures.ts';

/** Colours and type for what is drawn over the picture. */
export interface Pen {
  readonly line: string;
  readonly halo: string;
  readonly font: string;
}

/** What to draw over the picture. */
export interface Marks {
  readonly sounds: readonly Sound[];
  /** Index into `sounds`. */
  readonly selected: number | null;
  readonly contours: boolean;
}

/** Room that a number takes along the time axis, CSS pixels. */
interface Span {
  readonly from: number;
  readonly to: number;
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Room that a pulse's box keeps around it, CSS pixels. */
const MARGIN = 7;
const NUMBER_HEIGHT = 16;
const NUMBER_GAP = 6;
/** A pulse narrower than this is marked by a hairline, which leaves its sound in sight. */
const NARROW = 10;
/** Narrower still, and a contour would cover the sound: a tick above it is enough. */
const SPECK = 2;
const TICK_HEIGHT = 6;
/** Dashes of a doubted sound's contour, and of its tick; whole lines are a pulse's. CSS pixels. */
const DASH = [0.5, 4.5];
const TICK_DASH = [1, 2.5];
const WHOLE: number[] = [];
/** Points that even the narrowest contour is drawn with. */
const POINTS_LEAST = 6;

/** Draws contours, the frame of the selected sound, and the sounds' numbers. Doubted sounds are dashed. */
export function drawMarks(
  context: CanvasRenderingContext2D,
  marks: Marks,
  time: Axis<Seconds>,
  frequency: Axis<Kilohertz>,
  pen: Pen,
): void {
  context.lineJoin = 'round';
  context.lineCap = 'round';
  context.font = pen.font;
  context.textAlign = 'center';
  context.textBaseline = 'alphabetic';
  const taken: Span[] = [];
  // Where there is no room for all numbers, those of pulses come first.
  for (const doubted of [false, true]) {
    drawKind(context, marks, doubted, taken, time, frequency, pen);
  }
  drawSelected(context, marks, time, frequency, pen);
}

/** Draws all pulses, or all doubted sounds. Numbers keep off what is taken, and take their room. */
function drawKind(
  context: CanvasRenderingContext2D,
  marks: Marks,
  doubted: boolean,
  taken: Span[],
  time: Axis<Seconds>,
  frequency: Axis<Kilohertz>,
  pen: Pen,
): void {
  // One path for all ticks: there may be thousands.
  const ticks = new Path2D();
  let free = -Infinity;
  marks.sounds.forEach(({ pulse, name }, index) => {
    const isOther = isDoubted(pulse) !== doubted;
    if (isOther || pulse.end_s < time.span.from || pulse.start_s > time.span.to) {
      return;
    }
    const box = boxOf(pulse, time, frequency);
    const middle = (box.left + box.right) / 2;
    const isSpeck = box.right - box.left - 2 * MARGIN < SPECK;
    if (marks.contours && isSpeck) {
      ticks.moveTo(middle, box.top);
      ticks.lineTo(middle, box.top + TICK_HEIGHT);
    } else if (marks.contours) {
      drawContour(context, pulse, time, frequency, pen, index === marks.selected);
    }
    const half = context.measureText(name).width / 2 + NUMBER_GAP / 2;
    const span = { from: middle - half, to: middle + half };
    // Numbers that would lie on one another are left out.
    if (index !== marks.selected && span.from > free && !(doubted && clashes(span, taken))) {
      drawNumber(context, name, middle, box.top - NUMBER_GAP, pen, false);
      free = span.to;
      taken.push(span);
    }
  });
  context.setLineDash(doubted ? TICK_DASH : WHOLE);
  context.strokeStyle = pen.line;
  context.lineWidth = 1;
  context.stroke(ticks);
  context.setLineDash(WHOLE);
}

function clashes(span: Span, taken: readonly Span[]): boolean {
  return taken.some(({ from, to }) => span.from < to && span.to > from);
}

/** The selected pulse's frame and number, which lie above all others. */
function drawSelected(
  context: CanvasRenderingContext2D,
  { sounds, selected }: Marks,
  time: Axis<Seconds>,
  frequency: Axis<Kilohertz>,
  pen: Pen,
): void {
  const sound = selected === null ? undefined : sounds[selected];
  if (!sound) {
    return;
  }
  const box = boxOf(sound.pulse, time, frequency);
  const middle = (box.left + box.right) / 2;
  drawFrame(context, box, pen);
  drawNumber(context, sound.name, middle, box.top - NUMBER_GAP, pen, true);
}

/** The sound that lies under a point, the nearest where several do. */
export function soundAt(
  sounds: readonly Sound[],
  point: Point,
  time: Axis<Seconds>,
  frequency: Axis<Kilohertz>,
): number | null {
  let best: number | null = null;
  let nearest = Infinity;
  sounds.forEach(({ pulse }, index) => {
    const box = boxOf(pulse, time, frequency);
    const inside =
      point.x >= box.left &&
      point.x <= box.right &&
      point.y >= box.top - NUMBER_HEIGHT &&
      point.y <= box.bottom;
    const distance = Math.abs(point.x - (box.left + box.right) / 2);
    if (inside && distance < nearest) {
      best = index;
      nearest = distance;
    }
  });
  return best;
}

function boxOf(pulse: Pulse, time: Axis<Seconds>, frequency: Axis<Kilohertz>): Box {
  return {
    left: time.pixel(seconds(pulse.start_s)) - MARGIN,
    right: time.pixel(seconds(pulse.end_s)) + MARGIN,
    top: frequency.pixel(kilohertz(pulse.high_khz)) - MARGIN,
    bottom: frequency.pixel(kilohertz(pulse.low_khz)) + MARGIN,
  };
}

function drawContour(
  context: CanvasRenderingContext2D,
  pulse: Pulse,
  time: Axis<Seconds>,
  frequency: Axis<Kilohertz>,
  pen: Pen,
  selected: boolean,
): void {
  const width = time.length(seconds(pulse.end_s - pulse.start_s));
  const path = contourPath(pulse.contour, width, time, frequency);
  const dash = isDoubted(pulse) ? DASH : WHOLE;
  if (width < NARROW && !selected) {
    context.strokeStyle = pen.line;
    context.lineWidth = 1;
    context.setLineDash(dash);
    context.stroke(path);
    context.setLineDash(WHOLE);
    return;
  }
  context.strokeStyle = pen.halo;
  context.lineWidth = selected ? 5 : 3.5;
  context.globalAlpha = 0.75;
  context.stroke(path);
  context.globalAlpha = 1;
  context.strokeStyle = pen.line;
  context.lineWidth = selected ? 2.5 : 1.5;
  context.setLineDash(dash);
  context.stroke(path);
  context.setLineDash(WHOLE);
}

/** The contour with no more points than its pixels can show. */
function contourPath(
  contour: Contour,
  width: CssPx,
  time: Axis<Seconds>,
  frequency: Axis<Kilohertz>,
): Path2D {
  const path = new Path2D();
  const last = contour.khz.length - 1;
  const stride = Math.max(1, Math.floor(last / Math.max(POINTS_LEAST, width)));
  contour.khz.forEach((value, index) => {
    if (index % stride !== 0 && index !== last) {
      return;
    }
    const x = time.pixel(seconds(contour.start_s + index * contour.step_s));
    const y = frequency.pixel(kilohertz(value));
    if (index === 0) {
      path.moveTo(x, y);
    } else {
      path.lineTo(x, y);
    }
  });
  return path;
}

/** Four corners, so that the sound inside stays free. */
function drawFrame(context: CanvasRenderingContext2D, box: Box, pen: Pen): void {
  const arm = Math.min(10, (box.right - box.left) / 3, (box.bottom - box.top) / 3);
  const path = new Path2D();
  for (const [x, inward] of [[box.left, arm], [box.right, -arm]] as const) {
    for (const [y, downward] of [[box.top, arm], [box.bottom, -arm]] as const) {
      path.moveTo(x + inward, y);
      path.lineTo(x, y);
      path.lineTo(x, y + downward);
    }
  }
  context.strokeStyle = pen.halo;
  context.lineWidth = 5;
  context.stroke(path);
  context.strokeStyle = pen.line;
  context.lineWidth = 2;
  context.stroke(path);
}

function drawNumber(
  context: CanvasRenderingContext2D,
  number: string,
  middle: number,
  above: number,
  pen: Pen,
  selected: boolean,
): void {
  const baseline = Math.max(above, NUMBER_HEIGHT);
  if (selected) {
    const width = context.measureText(number).width + 12;
    context.fillStyle = pen.line;
    context.beginPath();
    context.roundRect(middle - width / 2, baseline - NUMBER_HEIGHT + 1, width, NUMBER_HEIGHT + 4, 3);
    context.fill();
    context.fillStyle = pen.halo;
    context.fillText(number, middle, baseline);
    return;
  }
  context.strokeStyle = pen.halo;
  context.lineWidth = 3.5;
  context.strokeText(number, middle, baseline);
  context.fillStyle = pen.line;
  context.fillText(number, middle, baseline);
}
