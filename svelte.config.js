import adapter from '@sveltejs/adapter-static';
import { vitePreprocess } from '@sveltejs/vite-plugin-svelte';

/** `BASE_PATH`: '' or '/name', where a shared host serves the app. `BUILD_FOLDER`: where the build goes. */
const base = process.env.BASE_PATH ?? '';
const folder = process.env.BUILD_FOLDER ?? 'build';

/** @type {import('@sveltejs/kit').Config} */
export default {
	preprocess: vitePreprocess(),
	kit: {
		adapter: adapter({ pages: folder, assets: folder, fallback: '404.html' }),
		outDir: folder === 'build' ? '.svelte-kit' : `.svelte-kit-${folder}`,
		paths: { base },
		csp: {
			mode: 'hash',
			directives: {
				'default-src': ['none'],
				'script-src': ['self'],
				'style-src': ['self'],
				// Kit hides its announcer for screen readers by a style attribute: exactly that one is let in.
				'style-src-attr': ['unsafe-hashes', 'sha256-S8qMpvofolR8Mpjy4kQvEm7m1q8clzU4dfDH0AmvZjo='],
				'img-src': ['self', 'data:', 'blob:'],
				'font-src': ['self'],
				'connect-src': ['self'],
				'worker-src': ['self'],
				'manifest-src': ['self'],
				'base-uri': ['none'],
				'form-action': ['none'],
				'require-trusted-types-for': ['script'],
				// `default` is ours (src/hooks.client.ts); svelte and kit bring the other two.
				'trusted-types': ['default', 'svelte-trusted-html', 'sveltekit-trusted-url']
			}
		},
		typescript: {
			config: (config) => ({ ...config, include: [...config.include, '../*.config.ts'] })
		}
	}
};
