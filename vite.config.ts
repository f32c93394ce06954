import { sveltekit } from '@sveltejs/kit/vite';
import { defineConfig } from 'vite';

export default defineConfig({
	plugins: [sveltekit()],
	// Nothing is inlined as a data: address: the content security policy lets fonts come from the site only.
	build: { assetsInlineLimit: 0, rolldownOptions: { checks: { pluginTimings: false } } },
	worker: { format: 'es' }
});
