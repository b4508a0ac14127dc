import type { Plugin } from 'vite';

/** Gives the built page another name, so that two shapes of it can lie in one folder. */
export function renamePage(name: string): Plugin {
  return {
    name: 'rename-page',
    apply: 'build',
    enforce: 'post',
    generateBundle(_options, bundle) {
      const page = bundle['index.html'];
      if (page === undefined) {
        this.error('there is no index.html to rename');
      }
      page.fileName = name;
    },
  };
}
