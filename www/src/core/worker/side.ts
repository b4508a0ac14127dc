/** Another side of a worker: an object of its own that the page calls by a way of its own. */

import { expose, transfer } from 'comlink';

import { guard, thrown } from './thrown.ts';

/** A way to an object here; whatever its methods throw crosses as `Thrown`. */
export function sideOf<T extends object>(object: T): MessagePort {
  const { port1, port2 } = new MessageChannel();
  expose(guarded(object), port1);
  return transfer(port2, [port2]);
}

function guarded<T extends object>(object: T): T {
  return new Proxy(object, {
    get(target, name) {
      const value: unknown = Reflect.get(target, name);
      return typeof value === 'function' ? (...given: unknown[]) => settled(target, value, given) : value;
    },
  });
}

function settled(target: object, method: Function, given: readonly unknown[]): unknown {
  const result: unknown = guard(() => Reflect.apply(method, target, given));
  return result instanceof Promise
    ? result.catch((error: unknown) => {
        throw thrown(error);
      })
    : result;
}
