import type { LitElement, TemplateResult } from 'lit';
import type { Core } from '../core/client.ts';
import type { Keeping } from '../keep/keeping.ts';
import type { Store } from '../store.ts';
import type { Theme } from '../themes.ts';

/** The places of the page, in the words of the navigation. */
export const PLACES = { call: 'Call', night: 'Night' } as const;

export type PlaceName = keyof typeof PLACES;

/** What all places share. */
export interface Kit {
  readonly core: Core;
  /** What the person decided about each recording, wherever it is looked at. */
  readonly keeping: Keeping;
}

/** Where the person is in a place. */
export interface Whereabouts {
  /** The address's fragment, with its #. */
  readonly fragment: string;
  /** What an address cannot name, such as a dropped file, as a number that the place gave it; null: nothing. */
  readonly note: number | null;
}

/** A button of a place in the page's header. */
export interface Deed {
  readonly label: string;
  readonly run: () => void;
}

/** What the page's header says of a place. */
export interface Standing {
  readonly deeds: readonly Deed[];
  /** How many recordings are open, which would be lost if the page were loaded anew. */
  readonly open: number;
}

export const NOTHING_STANDING: Standing = { deeds: [], open: 0 };

/** The keys of a place. */
export interface PlaceKeys {
  /** When they work. */
  readonly when: string;
  readonly words: readonly (readonly [keys: readonly string[], does: string])[];
  /** What else there is to say. */
  readonly more: TemplateResult;
}

/**
 * What the page asks of each of its places. A place that is not looked at stays as it is, laid out and at work, and
 * neither seen nor reached by keys.
 */
export interface Place extends LitElement {
  theme: Theme;
  /** Whether files are being dragged over the page while this place is looked at. */
  hovering: boolean;
  readonly standing: Store<Standing>;
  /** null: it has none of its own. */
  readonly keys: PlaceKeys | null;
  whereabouts(): Whereabouts;
  /** Goes where an address leads, after Back, Forward or a new address. */
  goTo(where: Whereabouts): void;
  /** Puts the focus on what the place is about, after the header. */
  toContent(): void;
  /**
   * Takes what was let go over it. `items` can be read only until the event is over: entries and handles of folders
   * have to be asked for at once.
   */
  droppedItems(items: DataTransferItemList, files: readonly File[]): void;
  /** Puts the focus on what it was sent from, by the name that its event had; false: it is not there any more. */
  focusFrom?(from: string): boolean;
}

/** The person has moved within a place. */
export class MovedEvent extends Event {
  static readonly type = 'moved';
  /** Whether Back leads to where she was before. */
  readonly step: boolean;

  constructor(step: boolean) {
    super(MovedEvent.type, { bubbles: true, composed: true });
    this.step = step;
  }
}

/** The person wants to see recordings of a place in the Call place. */
export class OpenInCallEvent extends Event {
  static readonly type = 'open-in-call';
  readonly files: readonly File[];
  /** A name for where she comes from in the place, which its `focusFrom` understands. */
  readonly from: string;

  constructor(files: readonly File[], from: string) {
    super(OpenInCallEvent.type, { bubbles: true, composed: true });
    this.files = files;
    this.from = from;
  }
}

/** The person wants back to where she opened a recording from. */
export class ReturnEvent extends Event {
  static readonly type = 'return';
  readonly from: string;

  constructor(from: string) {
    super(ReturnEvent.type, { bubbles: true, composed: true });
    this.from = from;
  }
}
