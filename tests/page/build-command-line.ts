import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** Builds the command line, whose table the page's table must equal. */
export default function buildCommandLine(): void {
  execFileSync(process.env['CARGO'] ?? 'cargo', ['build', '--quiet', '--package', 'dusklens'], {
    cwd: fileURLToPath(new URL('../../', import.meta.url)),
    stdio: 'inherit',
  });
}
