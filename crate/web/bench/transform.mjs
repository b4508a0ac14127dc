// Times the wasm transform on a file of 32-bit floats and prints {"ms": [...], "total": ...}.
// Arguments: the folder of the bindings, the file, how often.
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

const [folder, file, times] = process.argv.slice(2);
const { initSync, TransformBench } = await import(pathToFileURL(`${folder}/dusklens_web.js`));
initSync({ module: readFileSync(`${folder}/dusklens_web_bg.wasm`) });
const bytes = readFileSync(file);
const bench = new TransformBench(new Float32Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / 4));

// The first runs include the compiler's own work and the growth of the memory.
bench.run();
bench.run();
const ms = [];
for (let n = 0; n < Number(times); n += 1) {
  const begun = performance.now();
  bench.run();
  ms.push(performance.now() - begun);
}
console.log(JSON.stringify({ ms, total: bench.total() }));
