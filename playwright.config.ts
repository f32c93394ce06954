import { defineConfig } from '@playwright/test';
import { browserArguments, notedBrowser } from './scripts/browser.js';

export default defineConfig({
	testDir: 'tests/browser',
	outputDir: 'test-results',
	globalSetup: './tests/browser/server.ts',
	workers: 1,
	retries: 0,
	forbidOnly: true,
	use: {
		browserName: 'chromium',
		viewport: { width: 1280, height: 800 },
		trace: 'retain-on-failure',
		launchOptions: { executablePath: notedBrowser(), args: browserArguments }
	}
});
