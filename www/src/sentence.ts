/** Words with a capital and a full stop, unless they end in one. */
export function sentence(words: string): string {
  const first = words.charAt(0).toUpperCase() + words.slice(1);
  return /[.!?…]$/.test(first) ? first : `${first}.`;
}
