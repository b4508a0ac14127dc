// Makes ticks_reference.json: round values along axes, as d3-scale chooses and writes them.
//
//     cd www && node ../tests/data/make_ticks_reference.mjs > ../tests/data/ticks_reference.json
//
// Made with d3-scale 4.0.3 (ISC licence) on Node 20. d3 writes a minus as U+2212.

import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const require = createRequire(join(process.cwd(), 'package.json'));
const { scaleLinear } = await import(pathToFileURL(require.resolve('d3-scale')).href);

const cases = [];
const add = (from, to, count) => {
  const scale = scaleLinear([from, to], [0, 1]);
  const ticks = scale.ticks(count);
  const format = scale.tickFormat(count, 'f');
  cases.push({ from, to, count, ticks, labels: ticks.map(format) });
};
for (const count of [2, 3, 5, 8, 13]) {
  for (const to of [1, 1.3, 2.5, 96, 125, 192, 250, 3600]) {
    add(0, to, count);
    add(to / 3, to, count);
  }
  add(-98.25, -38.25, count);
  add(-100, -20, count);
  add(-0.5, 0.5, count);
  add(1234.5678, 1234.6012, count);
  add(0.0001, 0.0021, count);
}
// A plain generator with a fixed seed.
let seed = 11;
const next = () => {
  seed = (seed * 1103515245 + 12345) % 2147483648;
  return seed / 2147483648;
};
for (let n = 0; n < 100; n += 1) {
  const from = (next() - 0.3) * 10 ** Math.floor(next() * 5 - 1);
  const length = next() * 10 ** Math.floor(next() * 5 - 2) + 1e-4;
  add(from, from + length, Math.floor(next() * 10) + 2);
}
process.stdout.write(`${JSON.stringify(cases)}\n`);
