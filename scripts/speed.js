/** `npm run speed`: builds the command line if its sources changed, and measures. */
import { join } from 'node:path';
import { buildCommandLine } from './build.js';
import { root, run, SetUpError } from './project.js';

try {
	buildCommandLine();
	const commandLine = join(root, 'dist', 'cli', 'faint-echo.js');
	if (!run('node', [commandLine, 'speed', ...process.argv.slice(2)])) process.exitCode = 1;
} catch (error) {
	if (!(error instanceof SetUpError)) throw error;
	console.error(error.message);
	process.exitCode = 1;
}
