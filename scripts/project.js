/** Places every script needs, and one way to run a command with its output shown. */
import { spawnSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { delimiter, join } from 'node:path';

export const root = fileURLToPath(new URL('..', import.meta.url));

/** Notes the set-up keeps for itself. They go when `node_modules` goes, so that all is set up anew. */
export const notes = join(root, 'node_modules', '.faint-echo');

export function note(name) {
	mkdirSync(notes, { recursive: true });
	return join(notes, name);
}

/** The test build lives apart from the one `npm start` serves, and under a base path, as on a shared host. */
export const testBuild = { BASE_PATH: '/faint-echo', BUILD_FOLDER: 'build-test' };

/** Runs a command in the project folder, its output shown; true if it ended well. */
export const run = (command, args, environment = {}) =>
	start(command, args, environment, 'inherit').status === 0;

/** The same, its output shown only if it did not end well. */
export function runQuietly(command, args, environment = {}) {
	const { status, stdout, stderr } = start(command, args, environment, 'pipe');
	if (status !== 0) process.stderr.write(`${stdout}${stderr}`);
	return status === 0;
}

function start(command, args, environment, output) {
	const tools = join(root, 'node_modules', '.bin');
	const result = spawnSync(command, args, {
		cwd: root,
		stdio: ['ignore', output, output],
		maxBuffer: 64 * 1024 * 1024,
		shell: process.platform === 'win32',
		env: { ...process.env, PATH: tools + delimiter + process.env.PATH, ...environment }
	});
	if (result.error) console.error(`${command} could not be started: ${result.error.message}`);
	return result;
}

export class SetUpError extends Error {}
