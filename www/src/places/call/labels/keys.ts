/** Whether a key press asks for a label: N, but not where one writes. */
export function isLabelKey(event: KeyboardEvent): boolean {
  const [target] = event.composedPath();
  const isHeld = event.ctrlKey || event.metaKey || event.altKey || event.shiftKey;
  const isWriting =
    target instanceof HTMLElement &&
    (target.isContentEditable || target.matches('input:not([type="checkbox"], [type="radio"]), textarea, select'));
  const isInDialog = event.composedPath().some((part) => part instanceof HTMLDialogElement);
  return event.code === 'KeyN' && !isHeld && !isWriting && !isInDialog && !event.defaultPrevented;
}
