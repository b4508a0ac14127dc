/** What the address says of the Night place. */

export const LEAVES = [
  { id: 'glance', label: 'Glance' },
  { id: 'check', label: 'Night check' },
  { id: 'files', label: 'Files' },
  { id: 'hand-in', label: 'Hand in' },
  { id: 'settings', label: 'Settings' },
] as const;

export type NightLeaf = (typeof LEAVES)[number]['id'];

export const FIRST_LEAF: NightLeaf = 'glance';

export function leafOf(text: string | undefined): NightLeaf {
  return LEAVES.find(({ id }) => id === text)?.id ?? FIRST_LEAF;
}
