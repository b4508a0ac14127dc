/** The two shapes of the page, by the addresses under which a person opens them. */
export const shapes = [
  { name: 'static site', address: '/' },
  { name: 'one-file page', address: fileURLOf('../../www/dist/dusklens.html') },
] as const;

function fileURLOf(path: string): string {
  return new URL(path, import.meta.url).href;
}
