// Times measuring five busy seconds beside transforming them once, by turns, in wasm, and prints both and their ratio.
// Arguments: the folder of the bindings, how often.
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

const [folder, times] = process.argv.slice(2);
const { initSync, measure_bench, TransformBench } = await import(pathToFileURL(`${folder}/dusklens_web.js`));
initSync({ module: readFileSync(`${folder}/dusklens_web_bg.wasm`) });

const RATE_HZ = 500_000;
const PULSES = 61;

/** Hiss 60 dB below full scale, with pulses of 4 ms that sweep from 80 to 40 kHz, as the native bench has it. */
function busy() {
  const samples = new Float32Array(5 * RATE_HZ);
  let state = 1;
  for (let n = 0; n < samples.length; n += 1) {
    // Numerical Recipes' linear congruential generator: plain, and the same everywhere.
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    samples[n] = (state / 0xffffffff - 0.5) * 0.0035;
  }
  // Up to so many samples later than every 80 ms, or it would be a machine's.
  const scatter = [0, 1_300, 400, 1_700, 900];
  for (let pulse = 0; pulse < PULSES; pulse += 1) {
    const start = pulse * 40_000 + scatter[pulse % scatter.length];
    for (let n = 0; n < 2_000; n += 1) {
      const t = n / RATE_HZ;
      const turns = 80_000 * t - 5_000_000 * t * t;
      samples[start + n] += 0.3 * Math.sin((Math.PI * t) / 0.004) * Math.sin(2 * Math.PI * turns);
    }
  }
  return samples;
}

function timed(work) {
  const begun = performance.now();
  work();
  return performance.now() - begun;
}

function median(values) {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];
}

const samples = busy();
const transform = new TransformBench(samples);
const measure = () => {
  // A bench of pulses that were not found would look fast.
  if (measure_bench(samples, RATE_HZ) < PULSES) {
    throw new Error('pulses were missed');
  }
};
// The first runs include the compiler's own work and the growth of the memory.
transform.run();
measure();
const transforms = [];
const measurings = [];
for (let n = 0; n < Number(times); n += 1) {
  transforms.push(timed(() => transform.run()));
  measurings.push(timed(measure));
}
const [one, other] = [median(transforms), median(measurings)];
console.log(
  `    wasm: measuring ${PULSES} pulses in 5 s ${other.toFixed(1)} ms, transforming them ${one.toFixed(1)} ms; ratio ${(other / one).toFixed(2)}`,
);
