import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const WORKSPACE = fileURLToPath(new URL('../../', import.meta.url));

/** Where the command line lies once it is built. */
export const COMMAND_LINE = join(
  process.env['CARGO_TARGET_DIR'] ?? join(WORKSPACE, 'target'),
  'debug',
  process.platform === 'win32' ? 'dusklens.exe' : 'dusklens',
);

/** Builds the command line, whose table the page's table must equal, where `cargo xtask test` has not done so before. */
export default function buildCommandLine(): void {
  if (process.env['COMMAND_LINE_IS_BUILT'] === 'true') {
    return;
  }
  execFileSync(process.env['CARGO'] ?? 'cargo', ['build', '--quiet', '--package', 'dusklens'], {
    cwd: WORKSPACE,
    stdio: 'inherit',
  });
}
