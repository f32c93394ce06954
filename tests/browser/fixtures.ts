import { expect, test as base } from '@playwright/test';

/**
 * `test` with a page that opens at the app's own address and that fails the test at any console error, uncaught
 * error, failed or refused request, or request to another origin. `complaints` holds what was seen so far.
 */
export const test = base.extend<{ complaints: string[] }>({
	// The address is known only once the server runs.
	baseURL: async ({}, use) => use(process.env.APP_ADDRESS),
	complaints: [
		async ({ context, baseURL }, use) => {
			const complaints: string[] = [];
			const origin = new URL(baseURL ?? '').origin;
			context.on('console', (message) => {
				if (message.type() === 'error') complaints.push(`console: ${message.text()}`);
			});
			context.on('weberror', (error) =>
				complaints.push(`uncaught: ${error.error().stack ?? error.error().message}`)
			);
			context.on('request', (request) => {
				const address = new URL(request.url());
				const local = ['data:', 'blob:'].includes(address.protocol);
				if (!local && address.origin !== origin) complaints.push(`another origin: ${request.url()}`);
			});
			context.on('requestfailed', (request) => {
				complaints.push(`request failed: ${request.url()} ${request.failure()?.errorText ?? ''}`);
			});
			context.on('response', (response) => {
				if (response.status() >= 400) complaints.push(`answer ${response.status()}: ${response.url()}`);
			});
			await use(complaints);
			expect(complaints).toEqual([]);
		},
		{ auto: true }
	]
});

export { expect };
