import type { ColourMap } from '../../../core/client.ts';
import type { CssPx } from '../../../units.ts';
import type { Extent } from '../extent.ts';
import type { Deed } from './keys.ts';
import type { PictureLook } from './look.ts';
import type { Caption } from './painter.ts';

/**
 * How a new view came about: in the middle of a gesture, at its rest, or by a
 * leap to somewhere else, which is a place that Back leads to.
 */
export type Manner = 'moving' | 'rest' | 'leap';

/** A new view. */
export class LookEvent extends Event {
  static readonly type = 'look';
  readonly extent: Extent;
  readonly manner: Manner;

  constructor(extent: Extent, manner: Manner) {
    super(LookEvent.type, { bubbles: true, composed: true });
    this.extent = extent;
    this.manner = manner;
  }
}

/** Another colour map was chosen; null: the theme's own. */
export class MapEvent extends Event {
  static readonly type = 'map';
  readonly map: ColourMap | null;

  constructor(map: ColourMap | null) {
    super(MapEvent.type, { bubbles: true, composed: true });
    this.map = map;
  }
}

/** Another way for the picture to look, beside its colours. */
export class PictureLookEvent extends Event {
  static readonly type = 'picture-look';
  readonly change: Partial<PictureLook>;

  constructor(change: Partial<PictureLook>) {
    super(PictureLookEvent.type, { bubbles: true, composed: true });
    this.change = change;
  }
}

/** What there is to say of the picture changed: its levels, its window; null: nothing is known yet. */
export class CaptionEvent extends Event {
  static readonly type = 'caption';
  readonly caption: Caption | null;

  constructor(caption: Caption | null) {
    super(CaptionEvent.type, { bubbles: true, composed: true });
    this.caption = caption;
  }
}

/** The picture was drawn anew. */
export class DrawnEvent extends Event {
  static readonly type = 'drawn';
  constructor() {
    super(DrawnEvent.type);
  }
}

/** A pulse or doubted sound that was clicked, by its index among those shown; null: beside all of them. */
export class PickEvent extends Event {
  static readonly type = 'pick';
  readonly index: number | null;

  constructor(index: number | null) {
    super(PickEvent.type, { bubbles: true, composed: true });
    this.index = index;
  }
}

/** A sound that is to be brought into the picture's view, by its index among those shown. */
export class GoEvent extends Event {
  static readonly type = 'go';
  readonly index: number;

  constructor(index: number) {
    super(GoEvent.type, { bubbles: true, composed: true });
    this.index = index;
  }
}

/** A key that was pressed in the picture. */
export class DeedEvent extends Event {
  static readonly type = 'deed';
  readonly deed: Deed;

  constructor(deed: Deed) {
    super(DeedEvent.type, { bubbles: true, composed: true });
    this.deed = deed;
  }
}

/** Where the picture itself lies, within all that belongs to it, CSS pixels. */
export class StageEvent extends Event {
  static readonly type = 'stage';
  readonly top: CssPx;
  readonly height: CssPx;

  constructor(top: CssPx, height: CssPx) {
    super(StageEvent.type);
    this.top = top;
    this.height = height;
  }
}
