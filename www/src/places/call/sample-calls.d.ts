/** Made while the page is built; see `build/sample-calls.ts`. */
declare module 'virtual:sample-calls' {
  const list: readonly {
    readonly file: string;
    readonly title: string;
    readonly sentence: string;
    readonly url: string;
  }[];
  export default list;
}
