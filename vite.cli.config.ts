import { defineConfig } from 'vite';

/** The command line as plain modules with nothing left to install, since Node 20 runs no TypeScript. */
export default defineConfig({
	publicDir: false,
	ssr: { noExternal: true },
	build: {
		ssr: true,
		target: 'node20',
		outDir: 'dist/cli',
		emptyOutDir: true,
		rolldownOptions: {
			input: { 'faint-echo': 'src/cli/main.ts', worker: 'src/lib/worker/node.ts' },
			// All in one folder: an entry for a thread is found beside the module that starts it.
			output: { entryFileNames: '[name].js', chunkFileNames: '[name].js' }
		}
	}
});
