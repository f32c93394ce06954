/** Installs the packages of the lock file, if that has not been done for this lock file, Node and platform. */
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { note, root, run, SetUpError } from './project.js';

function stamp() {
	const lock = createHash('sha256')
		.update(readFileSync(join(root, 'package-lock.json')))
		.digest('hex');
	return [lock, `node ${process.versions.node.split('.')[0]}`, process.platform, process.arch].join('\n');
}

export function installPackages() {
	const wanted = stamp();
	const installed = join(root, 'node_modules', '.faint-echo', 'packages');
	if (!existsSync(installed) || readFileSync(installed, 'utf8') !== wanted) {
		console.log('Installing packages …');
		if (!run('npm', ['ci', '--no-audit', '--no-fund'])) {
			throw new SetUpError(
				'The packages could not be installed (npm ci failed, see above). Is the network up?'
			);
		}
		writeFileSync(note('packages'), wanted);
	}
	if (!existsSync(join(root, '.svelte-kit', 'tsconfig.json')) && !run('svelte-kit', ['sync'])) {
		throw new SetUpError('svelte-kit sync failed, see above.');
	}
}
