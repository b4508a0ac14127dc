import { existsSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

import type { Plugin } from 'vite';

const NAME = 'virtual:sample-calls';
const FOLDER = fileURLToPath(new URL('../../sample-calls/', import.meta.url));

interface Entry {
  readonly file: string;
  readonly title: string;
  readonly sentence: string;
}

/**
 * Gives the page its samples as the module `virtual:sample-calls`: beside the
 * page for the site, inside it where everything is inside. `room` is how many
 * bytes of recordings may be taken; those that come first in the list and still
 * fit are taken.
 */
export function sampleCalls(room: number): Plugin {
  return {
    name: 'dusklens-sample-calls',
    resolveId: (id) => (id === NAME ? `\0${NAME}` : null),
    load(id) {
      if (id !== `\0${NAME}`) {
        return null;
      }
      const index = `${FOLDER}index.json`;
      if (!existsSync(index)) {
        this.warn(`${index} is missing, so the page offers no samples: cargo xtask samples makes them.`);
        return 'export default [];';
      }
      this.addWatchFile(index);
      return moduleOf(fitting(JSON.parse(readFileSync(index, 'utf8')) as Entry[], room));
    },
  };
}

function fitting(entries: readonly Entry[], room: number): Entry[] {
  let left = room;
  return entries.filter(({ file }) => {
    const { size } = statSync(FOLDER + file);
    const fits = size <= left;
    left -= fits ? size : 0;
    return fits;
  });
}

function moduleOf(entries: readonly Entry[]): string {
  const imports = entries.map(
    ({ file }, index) => `import url${index} from ${JSON.stringify(`${FOLDER}${file}?url`)};`,
  );
  const values = entries.map(({ file, title, sentence }, index) =>
    `{ ...${JSON.stringify({ file, title, sentence })}, url: url${index} }`,
  );
  return `${imports.join('\n')}\nexport default [${values.join(', ')}];`;
}
