import { expect, test } from '@playwright/test';

import { TileCache } from '../../www/src/places/call/picture/tiles/tile-cache.ts';

interface Value {
  readonly byteLength: number;
}

/** The same, as plainly as it can be said: a list, the one that was used last at its end. */
class Model {
  readonly most: number;
  entries: { readonly key: string; readonly value: Value }[] = [];

  constructor(most: number) {
    this.most = most;
  }

  get bytes(): number {
    return this.entries.reduce((sum, { value }) => sum + value.byteLength, 0);
  }

  get(key: string): Value | undefined {
    const entry = this.entries.find((one) => one.key === key);
    if (entry) {
      this.entries = [...this.entries.filter((one) => one !== entry), entry];
    }
    return entry?.value;
  }

  put(key: string, value: Value): void {
    this.entries = this.entries.filter((one) => one.key !== key);
    if (value.byteLength > this.most) {
      return;
    }
    this.entries.push({ key, value });
    while (this.bytes > this.most) {
      this.entries.shift();
    }
  }
}

/** Numbers below `most` from a plain generator (Numerical Recipes), so that a failure can be repeated. */
function chance(seed: number): (most: number) => number {
  let state = seed;
  return (most) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * most);
  };
}

test('tiles are kept up to a bound, and the least used ones go first', () => {
  const wrong: string[] = [];
  for (let seed = 0; seed < 200; seed += 1) {
    const next = chance(seed);
    const most = 1 + next(200);
    const cache = new TileCache<Value>(most);
    const model = new Model(most);
    for (let step = 0; step < 120; step += 1) {
      const key = `tile ${next(12)}`;
      const deed = next(5);
      let agrees = true;
      if (deed < 2) {
        agrees = cache.get(key) === model.get(key);
      } else if (deed < 4) {
        const value = { byteLength: next(90) };
        cache.put(key, value);
        model.put(key, value);
      } else {
        // To look whether a tile is there is no use of it.
        agrees = cache.has(key) === model.entries.some((one) => one.key === key);
      }
      const bounded = cache.bytes === model.bytes && cache.bytes <= most && cache.size === model.entries.length;
      if (!agrees || !bounded) {
        wrong.push(`seed ${seed}, step ${step}`);
      }
    }
    cache.clear();
    if (cache.bytes !== 0 || cache.size !== 0) {
      wrong.push(`seed ${seed}, cleared`);
    }
  }
  expect(wrong).toEqual([]);
});
