import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { cssPx, type CssPx } from '../units.ts';

/** The width that a component has been given, which it is rendered anew for. */
export class OwnWidth implements ReactiveController {
  readonly #host: ReactiveControllerHost & Element;
  readonly #resize = new ResizeObserver(([entry]) => this.#take(entry?.contentRect.width ?? 0));
  #width = cssPx(0);

  constructor(host: ReactiveControllerHost & Element) {
    this.#host = host;
    host.addController(this);
  }

  /** In whole pixels; 0 before the component is laid out. */
  get value(): CssPx {
    return this.#width;
  }

  hostConnected(): void {
    this.#resize.observe(this.#host);
  }

  hostDisconnected(): void {
    this.#resize.disconnect();
  }

  #take(width: number): void {
    const whole = cssPx(Math.floor(width));
    if (whole !== this.#width) {
      this.#width = whole;
      this.#host.requestUpdate();
    }
  }
}
