import { createHash } from 'node:crypto';
import type { Plugin } from 'vite';

/** The two shapes of the page: files beside each other, or all in one. */
export type Shape = 'site' | 'one-file';

/**
 * Writes a Content-Security-Policy into the built page, and sends it along where Vite serves the built site.
 *
 * The site may connect to its own files alone; the one-file page to nothing at all, and it runs only the scripts
 * that were inside when it was built. Compiling wasm needs a word of its own, in workers too.
 */
export function contentSecurityPolicy(shape: Shape): Plugin {
  return {
    name: 'content-security-policy',
    apply: (_config, { command, isPreview }) => command === 'build' || isPreview === true,
    enforce: 'post',
    generateBundle: {
      // After the scripts were put into the page, whose hashes are in the policy.
      order: 'post',
      handler(_options, bundle) {
        for (const file of Object.values(bundle)) {
          if (file.type === 'asset' && file.fileName.endsWith('.html')) {
            const html = typeof file.source === 'string' ? file.source : new TextDecoder().decode(file.source);
            file.source = withPolicy(html, policyFor(shape, html));
          }
        }
      },
    },
    configurePreviewServer(server) {
      const policy = policyFor('site', '');
      server.middlewares.use((request, response, next) => {
        // The one-file page carries a stricter policy of its own, which this one would contradict.
        if (request.url !== '/dusklens.html') {
          response.setHeader('Content-Security-Policy', policy);
        }
        next();
      });
    },
  };
}

/** The policy of a shape; `html` is searched for the scripts that the one-file page may run. */
function policyFor(shape: Shape, html: string): string {
  const common = ["default-src 'none'", "base-uri 'none'", "form-action 'none'"];
  const site = [
    "script-src 'self' 'wasm-unsafe-eval'",
    "worker-src 'self' blob:",
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "manifest-src 'self'",
    "connect-src 'self'",
  ];
  const oneFile = [
    `script-src ${[...inlineScripts(html)].map(hashSource).join(' ')} 'wasm-unsafe-eval'`,
    'worker-src blob:',
    "style-src 'unsafe-inline'",
    'img-src data: blob:',
    'font-src data:',
    "connect-src 'none'",
  ];
  return [...common, ...(shape === 'site' ? site : oneFile)].join('; ');
}

/** The text of every script that is written into the page itself. */
function* inlineScripts(html: string): Generator<string> {
  for (const match of html.matchAll(/<script\b(?![^>]*\bsrc=)[^>]*>([\s\S]*?)<\/script>/g)) {
    yield match[1] ?? '';
  }
}

/** How a policy names a script by its content. */
function hashSource(script: string): string {
  return `'sha256-${createHash('sha256').update(script).digest('base64')}'`;
}

/** Puts the policy before anything that it has to govern. */
function withPolicy(html: string, policy: string): string {
  const charset = /<meta charset="[^"]*"\s*\/?>/i;
  if (!charset.test(html)) {
    throw new Error('the page declares no character set, after which the policy goes');
  }
  return html.replace(charset, (meta) => `${meta}\n    <meta http-equiv="Content-Security-Policy" content="${policy}" />`);
}
