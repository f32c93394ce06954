/** Builds the app and the command line, each only when its sources changed since it was last built. */
import { createHash } from 'node:crypto';
import {
	chmodSync,
	existsSync,
	mkdirSync,
	readdirSync,
	readFileSync,
	rmSync,
	symlinkSync,
	writeFileSync
} from 'node:fs';
import { join } from 'node:path';
import { note, root, runQuietly, SetUpError } from './project.js';

const sources = ['src', 'static', 'lessons', 'package-lock.json', 'package.json', 'tsconfig.json'];
const appSources = [...sources, 'svelte.config.js', 'vite.config.ts'];
const commandLineSources = [...sources, 'vite.cli.config.ts'];
const commandLine = join('dist', 'cli', 'faint-echo.js');

function filesOf(path) {
	if (!existsSync(join(root, path))) return [];
	const entries = readdirSync(join(root, path), { withFileTypes: true });
	return entries.flatMap((entry) => {
		const inside = join(path, entry.name);
		return entry.isDirectory() ? filesOf(inside) : [inside];
	});
}

function fingerprint(paths) {
	const hash = createHash('sha256');
	for (const path of paths.flatMap((path) => (/\.\w+$/.test(path) ? [path] : filesOf(path))).sort()) {
		hash
			.update(path)
			.update('\0')
			.update(readFileSync(join(root, path)))
			.update('\0');
	}
	return hash.digest('hex');
}

/** `product` is a file the build makes; `build` returns whether it ended well. */
function buildOnce(name, product, paths, build) {
	const wanted = fingerprint(paths);
	const stamp = note(name);
	const built =
		existsSync(join(root, product)) && existsSync(stamp) && readFileSync(stamp, 'utf8') === wanted;
	if (built) return;
	console.log(`Building the ${product.startsWith('dist') ? 'command line' : 'app'} …`);
	rmSync(stamp, { force: true });
	if (!build()) throw new SetUpError(`The build of ${name} failed, see above.`);
	writeFileSync(stamp, wanted);
}

/** Builds the app into the folder (and under the base path) that `environment` names: `BUILD_FOLDER`, `BASE_PATH`. */
export function buildApp(environment = {}) {
	const folder = environment.BUILD_FOLDER ?? 'build';
	buildOnce(folder, join(folder, 'index.html'), appSources, () =>
		runQuietly('vite', ['build', '--logLevel', 'warn'], environment)
	);
}

/** Lets `npx --no faint-echo` find the command: npm links the commands of a project's packages, not its own. */
function linkCommand() {
	const tools = join(root, 'node_modules', '.bin');
	mkdirSync(tools, { recursive: true });
	if (process.platform === 'win32') {
		writeFileSync(join(tools, 'faint-echo.cmd'), `@node "%~dp0\\..\\..\\${commandLine}" %*\r\n`);
		return;
	}
	chmodSync(join(root, commandLine), 0o755);
	const link = join(tools, 'faint-echo');
	rmSync(link, { force: true });
	symlinkSync(join('..', '..', commandLine), link);
}

export function buildCommandLine() {
	buildOnce('command-line', commandLine, commandLineSources, () =>
		runQuietly('vite', ['build', '--config', 'vite.cli.config.ts', '--logLevel', 'warn'])
	);
	linkCommand();
}
