import { nothing, svg, type SVGTemplateResult } from 'lit';
import { contourAt, flattest, line, NOISE, sequence, soundAt, spectrum, steps, TOP } from './drawing.ts';
import { arrow } from './figure.ts';

const WIDTH = 240;
const HEIGHT = 120;
const EDGE_DB = -20;

const x = (u: number): number => 36 + 168 * u;
const khz = (value: number): number => 104 - (value - 16) * 2.4;
/** A scale that has room for harmonics. */
const wide = (value: number): number => 112 - (value - 16) * 0.78;
const db = (value: number): number => 22 - value * 2.3;

interface Picture {
  readonly tells: string;
  readonly drawn: () => SVGTemplateResult;
}

/** A small picture for an entry: the same pulse as in the figures, with that one thing marked. */
export function mini(id: string): SVGTemplateResult | typeof nothing {
  const picture = Object.hasOwn(PICTURES, id) ? PICTURES[id] : undefined;
  return picture
    ? svg`<svg class="mini" role="img" aria-label=${`Drawing: ${picture.tells}`} viewBox="0 0 ${WIDTH} ${HEIGHT}">${picture.drawn()}</svg>`
    : nothing;
}

function contour(multiple = 1, kind = 'contour', scale: (value: number) => number = khz): SVGTemplateResult {
  const points = steps(0, 1, 0.02).map((u) => [x(u), scale(contourAt(u) * multiple)] as const);
  return svg`<path class=${kind} d=${line(points)} />`;
}

function envelope(): SVGTemplateResult {
  const curve = line(steps(-0.22, 1.22, 0.01).map((u) => [x(u), db(soundAt(u))] as const));
  return svg`<path class="fill" d=${`${curve}V${HEIGHT}H-10Z`} /><path class="envelope" d=${curve} />`;
}

function across(y: number, kind = ''): SVGTemplateResult {
  return svg`<path class="rule ${kind}" d=${`M0 ${y}H${WIDTH}`} />`;
}

function spot(u: number, y: number): SVGTemplateResult {
  return svg`<circle class="spot" cx=${x(u)} cy=${y} r="5" />`;
}

/** Short strokes at places, each with its height as a share. */
function strokes(places: readonly (readonly [number, number])[], kind = 'contour'): SVGTemplateResult {
  return svg`${places.map(([at, height]) => {
    const points = steps(0, 1, 0.1).map(
      (u) => [at + 12 * u, 88 - (contourAt(u) - 18) * 1.7 * height] as const,
    );
    return svg`<path class=${kind} style="stroke-width: ${kind === 'contour' ? 3.5 : 2.5}" d=${line(points)} />`;
  })}`;
}

function buzz(): SVGTemplateResult {
  const beats = sequence().filter((beat) => beat.part !== 'search');
  const [first, last] = [beats[0]?.ms ?? 0, beats[beats.length - 1]?.ms ?? 1];
  const at = (ms: number): number => 14 + (205 * (ms - first)) / (last - first);
  const dense = beats.filter((beat) => beat.part === 'buzz').map((beat) => at(beat.ms));
  const ends = [dense[0] ?? 0, dense[dense.length - 1] ?? 0];
  return svg`
    ${beats.map((beat) => svg`<path class="contour" style="stroke-width: ${beat.part === 'buzz' ? 2 : 3.5}" d=${`M${at(beat.ms)} 30L${at(beat.ms) + (beat.part === 'buzz' ? 1 : 4)} 86`} />`)}
    <path class="leader" d=${`M${ends[0]} 22V16H${ends[1]}V22`} />
    ${ends.map((end) => svg`<path class="spot" d=${`M${end} 94l5 9h-10Z`} />`)}`;
}

/** Scales of the spectrum. */
const place = (value: number): number => 20 + (value - 14) * 5.4;
const height = (value: number): number => 106 - Math.max(0, 1 + value / 26) * 82;

function peak(): SVGTemplateResult {
  const points = spectrum().map((point) => [place(point.khz), height(point.db)] as const);
  const top = spectrum().reduce((a, b) => (b.db > a.db ? b : a));
  return svg`
    <path class="fill" d=${`${line(points)}V106H${place(contourAt(0))}Z`} /><path class="envelope" d=${line(points)} />
    <path class="rule" d=${`M${place(top.khz)} 24V118`} /><path class="frame" d="M0 106H240" />
    <rect class="spot" x=${place(top.khz) - 5} y="19" width="10" height="10" />`;
}

function characteristic(): SVGTemplateResult {
  const { from, to } = flattest();
  const y = khz(contourAt(to));
  return svg`${contour()}
    <path class="leader" d=${`M${x(from)} ${y - 14}V${y - 20}H${x(to)}V${y - 14}`} />
    <rect class="spot" x="-5" y="-5" width="10" height="10" transform=${`translate(${x(to)} ${y}) rotate(45)`} />`;
}

function sweep(): SVGTemplateResult {
  const { from, to } = flattest();
  const lift = -11;
  return svg`${contour()}
    <path class="rule" d=${`M${x(0)} ${khz(contourAt(0))}L${x(1)} ${khz(contourAt(1))}`} />
    <path class="leader" style="stroke-width: 4" d=${`M${x(from)} ${khz(contourAt(from)) + lift + 22}L${x(to)} ${khz(contourAt(to)) + lift + 22}`} />`;
}

const EVEN = [14, 74, 134, 194] as const;

const PICTURES: Readonly<Record<string, Picture>> = {
  uncertainty: {
    tells: 'a number with a bar on either side of it.',
    drawn: () => svg`${arrow(50, 60, 190, 60)}<path class="rule" d="M50 36V84M190 36V84" /><circle class="spot" cx="120" cy="60" r="7" />`,
  },
  'start-end': {
    tells: 'the envelope crosses the line 20 dB below its maximum at the start and at the end.',
    drawn: () => svg`${envelope()}${across(db(EDGE_DB))}${spot(0, db(EDGE_DB))}${spot(1, db(EDGE_DB))}`,
  },
  duration: {
    tells: 'an arrow from the start to the end of the envelope.',
    drawn: () => svg`${envelope()}<path class="edge" d=${`M${x(0)} 0V${HEIGHT}M${x(1)} 0V${HEIGHT}`} />${arrow(x(0), 100, x(1), 100)}`,
  },
  interval: {
    tells: 'an arrow from the start of one pulse to the start of the next.',
    drawn: () => svg`${strokes(EVEN.map((at) => [at, 1] as const))}<path class="edge" d="M74 10V108M134 10V108" />${arrow(74, 102, 134, 102)}`,
  },
  contour: {
    tells: 'a line of points, close together, along the pulse.',
    drawn: () => svg`${contour(1, 'harmonic')}${steps(0, 1, 0.08).map((u) => svg`<circle class="spot" cx=${x(u)} cy=${khz(contourAt(u))} r="3.5" />`)}`,
  },
  'start-end-frequency': {
    tells: 'the first and the last point of the contour.',
    drawn: () => svg`${contour()}${spot(0, khz(contourAt(0)))}${spot(1, khz(contourAt(1)))}`,
  },
  'high-low': {
    tells: 'lines at the highest and the lowest point of the contour, and the bandwidth between them.',
    drawn: () => svg`${across(khz(contourAt(0)))}${across(khz(contourAt(1)))}${contour()}${arrow(220, khz(contourAt(0)), 220, khz(contourAt(1)))}`,
  },
  peak: { tells: 'the spectrum of the pulse, and its highest point.', drawn: peak },
  characteristic: { tells: 'the flattest stretch of the contour, and its end.', drawn: characteristic },
  sweep: {
    tells: 'a straight line from the start to the end of the contour, and a short one below its flattest stretch.',
    drawn: sweep,
  },
  level: {
    tells: 'an arrow from full scale, at the top, down to the maximum of the envelope.',
    drawn: () => svg`<g transform="translate(0 26)">${envelope()}</g><path class="frame" d=${`M0 8H${WIDTH}`} />${arrow(x(TOP), 9, x(TOP), db(0) + 24)}`,
  },
  snr: {
    tells: 'an arrow from the noise up to the maximum of the envelope.',
    drawn: () => svg`${envelope()}${across(db(NOISE), 'dots')}${arrow(x(TOP), db(NOISE), x(TOP), db(0))}`,
  },
  edges: {
    tells: 'an arrow from the maximum of the envelope down to the line on which start and end lie.',
    drawn: () => svg`${envelope()}${across(db(EDGE_DB))}${arrow(x(TOP), db(0), x(TOP), db(EDGE_DB))}`,
  },
  harmonics: {
    tells: 'a contour with its second and third multiple above it, thinner.',
    drawn: () => svg`${contour(3, 'harmonic', wide)}${contour(2, 'harmonic', wide)}${contour(1, 'contour', wide)}`,
  },
  sequence: {
    tells: 'two rows of pulses that interlock, strong high ones and thin low ones.',
    drawn: () => svg`${strokes(EVEN.map((at) => [at, 1.3] as const))}${strokes([[40, 0.55], [96, 0.55], [152, 0.55], [212, 0.55]], 'harmonic')}`,
  },
  pass: {
    tells: 'pulses that grow and fade, and a silence after them.',
    drawn: () => svg`${strokes([[12, 0.5], [36, 0.85], [60, 1.2], [84, 1], [108, 0.6]])}${arrow(124, 98, 232, 98)}`,
  },
  buzz: { tells: 'pulses closer and closer together, and marks at the first and the last of the dense run.', drawn: buzz },
};
