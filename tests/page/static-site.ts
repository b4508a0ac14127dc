import { createReadStream, existsSync, statSync } from 'node:fs';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Where the built site lies. */
export const BUILT = fileURLToPath(new URL('../../www/dist', import.meta.url));

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.wasm': 'application/wasm',
  '.wav': 'audio/wav',
  '.webmanifest': 'application/manifest+json',
};

/** What a test answers by itself; false: the file is to be sent. */
type Own = (path: string, response: ServerResponse) => boolean;

/** A host as plain as can be, which a test can stop, and which notes all that it is asked for. */
export class StaticSite {
  /** Every path that was asked for. */
  readonly asked: string[] = [];
  /** The folder that is handed out; a newer build may take its place. */
  folder: string;
  /** Where the site is found, also after it was stopped. */
  readonly address: string;
  readonly #server: Server;
  readonly #own: Own;

  private constructor(server: Server, folder: string, own: Own) {
    this.#server = server;
    this.folder = folder;
    this.#own = own;
    this.address = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
    server.on('request', (request, response) => this.#answer(request, response));
  }

  static async start(folder = BUILT, own: Own = () => false): Promise<StaticSite> {
    const server = createServer();
    await new Promise<void>((resolve) => {
      server.listen(0, '127.0.0.1', resolve);
    });
    return new StaticSite(server, folder, own);
  }

  /** From here on nobody answers. */
  async stop(): Promise<void> {
    const closed = new Promise((resolve) => {
      this.#server.close(resolve);
    });
    this.#server.closeAllConnections();
    await closed;
  }

  #answer(request: IncomingMessage, response: ServerResponse): void {
    const path = decodeURIComponent(new URL(request.url ?? '/', this.address).pathname);
    this.asked.push(path);
    if (this.#own(path, response)) {
      return;
    }
    const file = join(this.folder, normalize(path), path.endsWith('/') ? 'index.html' : '');
    if (!existsSync(file) || !statSync(file).isFile()) {
      response.writeHead(404).end('not here');
      return;
    }
    const type = TYPES[extname(file)] ?? 'application/octet-stream';
    response.writeHead(200, { 'Content-Type': type, 'Content-Length': statSync(file).size });
    createReadStream(file).pipe(response);
  }
}
