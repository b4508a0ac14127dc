/** Closes every dialogue in a component: one that stays open where nobody sees it would hold the whole page. */
export function closeDialogues(host: Element): void {
  const root = host.shadowRoot;
  for (const element of root?.querySelectorAll('*') ?? []) {
    if (element instanceof HTMLDialogElement) {
      element.close();
    } else if (element.shadowRoot) {
      closeDialogues(element);
    }
  }
}
