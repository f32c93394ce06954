import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { root, testBuild } from '../../scripts/project.js';
import { serve } from '../../scripts/server.js';

/** Serves the test build for the whole run and tells the tests its address in `APP_ADDRESS`. */
export default async function serveTestBuild(): Promise<() => Promise<void>> {
	const folder = join(root, testBuild.BUILD_FOLDER);
	if (!existsSync(folder))
		throw new Error('There is no test build: run `npm run test:browser`, which makes it.');
	const server = await serve(folder, testBuild.BASE_PATH, 4873);
	process.env.APP_ADDRESS = server.address;
	return server.close;
}
