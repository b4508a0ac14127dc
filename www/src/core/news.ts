/** News of work that goes on in a worker. */

import { proxy } from 'comlink';

/**
 * Has work done that tells how it goes. News and answers travel by different ways: what comes after the answer, or after
 * the work was given up, is not told on.
 */
export async function withNews<News extends unknown[], T>(
  signal: AbortSignal,
  tell: (...news: News) => void,
  work: (told: (...news: News) => void) => Promise<T>,
): Promise<T> {
  let over = false;
  const told = proxy((...news: News) => {
    if (!over && !signal.aborted) {
      tell(...news);
    }
  });
  try {
    return await work(told);
  } finally {
    over = true;
  }
}
