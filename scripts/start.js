/** `npm start`: installs what is missing, builds what changed, serves the app and prints its address. */
import { join } from 'node:path';
import { buildApp, buildCommandLine } from './build.js';
import { installPackages } from './packages.js';
import { root, SetUpError } from './project.js';
import { serve } from './server.js';

try {
	installPackages();
	buildCommandLine();
	buildApp();
	const { address } = await serve(join(root, 'build'), '', 4173);
	console.log(`\nFaint Echo is at ${address}\nStop it with Ctrl+C.`);
} catch (error) {
	if (!(error instanceof SetUpError)) throw error;
	console.error(error.message);
	process.exitCode = 1;
}
