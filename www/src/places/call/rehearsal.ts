import { html, render } from 'lit';
import type { Rehearsed } from '../../core/client.ts';
import type { Theme } from '../../themes.ts';
import { whole } from './extent.ts';
import './facts-panel.ts';
import type { Recording } from './recordings.ts';
import './recording-view.ts';
import type { Session } from './session.ts';

/**
 * Shows a made-up recording for a moment where nobody sees or hears of it, so
 * that the browser has compiled and laid out everything before a person waits
 * for it: the first recording is then on the screen nearly as soon as the next.
 */
export async function rehearse(session: Session, theme: Theme): Promise<void> {
  const rehearsed = await session.core.rehearsed;
  if (rehearsed === null || session.store.value.list.length > 0) {
    return;
  }
  const stage = document.createElement('div');
  stage.inert = true;
  stage.setAttribute('aria-hidden', 'true');
  stage.style.cssText = 'position: fixed; inset: 0; visibility: hidden; contain: strict';
  render(
    html`<recording-view
        .session=${session}
        .recording=${madeUp(rehearsed)}
        .shown=${session.store.value.shown}
        .theme=${theme}
        .map=${null}
      ></recording-view>
      <facts-panel .facts=${rehearsed.facts}></facts-panel>`,
    stage,
  );
  document.body.append(stage);
  // In the first frame it is laid out, in the second its canvases are filled.
  await frame();
  await frame();
  stage.remove();
}

function madeUp({ facts, findings }: Rehearsed): Recording {
  return {
    id: 0,
    name: '',
    file: new File([], ''),
    sample: false,
    call: null,
    hosted: null,
    from: null,
    status: { kind: 'measured' },
    opened: null,
    channel: 0,
    expansion: null,
    findings,
    selected: null,
    picked: new Set(),
    extent: whole(facts),
    band: null,
  };
}

function frame(): Promise<number> {
  return new Promise(requestAnimationFrame);
}
