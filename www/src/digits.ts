/** A number in two digits. */
export function two(value: number): string {
  return String(Math.trunc(value)).padStart(2, '0');
}
