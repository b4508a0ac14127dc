import type { Core } from '../../../core/client.ts';
import { kilohertz, seconds } from '../../../units.ts';
import type { Extent } from '../extent.ts';
import type { CallFromLink } from '../recordings.ts';

/** A call out of a link, as a file that is opened like any other. */
export interface Received {
  readonly file: File;
  readonly call: CallFromLink;
  /** What the sender looked at; null where that was not sent. */
  readonly extent: Extent | null;
}

/** Reads a call link: an address with it, or its text alone. */
export async function received(core: Core, text: string): Promise<Received> {
  const { call, bytes } = await core.readCall(new AbortController().signal, text);
  const file = new File([bytes], call.file, { type: 'audio/wav' });
  const view = call.content.view;
  const extent = view && {
    time: { from: seconds(view.start_s), to: seconds(view.end_s) },
    frequency: { from: kilohertz(view.low_khz), to: kilohertz(view.high_khz) },
  };
  return { file, call: { received: call, text: alone(text) }, extent: extent ?? null };
}

/** The text of a link without the address before it, as an address of this page has it. */
function alone(text: string): string {
  const bare = text.replaceAll(/\s/g, '');
  return /call=([\w-]+)/.exec(bare)?.[1] ?? bare;
}
