import { expect, test } from './fixtures.ts';

test('the app opens under its base path', async ({ page, baseURL }) => {
	await page.goto('./');
	await expect(page).toHaveURL(baseURL ?? '');
	expect(new URL(page.url()).pathname).toBe('/faint-echo/');
	await expect(page).toHaveTitle(/Faint Echo/);
	await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
});

test('the page forbids inline scripts, inline styles, eval and other origins', async ({ page }) => {
	await page.goto('./');
	const policy = await page.locator('meta[http-equiv="content-security-policy"]').getAttribute('content');
	expect(policy).toContain("default-src 'none'");
	expect(policy).toContain("require-trusted-types-for 'script'");
	expect(policy).not.toContain('unsafe-inline');
	expect(policy).not.toContain('unsafe-eval');
});

test('an address that does not exist answers with the app’s own page', async ({ page, complaints }) => {
	const answer = await page.goto('./no-such-page/');
	expect(answer?.status()).toBe(404);
	await expect(page.getByText('404')).toBeVisible();
	const others = complaints.splice(0).filter((complaint) => !/404|Not found/.test(complaint));
	expect(others).toEqual([]);
});

test('a script from another site is refused, and so is markup from a string', async ({
	page,
	complaints
}) => {
	await page.goto('./');
	const refused = await page.evaluate(() => {
		const outcome = (attempt: () => unknown) => {
			try {
				attempt();
				return 'allowed';
			} catch (error) {
				return error instanceof TypeError ? 'refused' : String(error);
			}
		};
		return {
			worker: outcome(() => new Worker('https://example.com/worker.js')),
			markup: outcome(() => (document.createElement('p').innerHTML = '<b>x</b>')),
			policy: outcome(() => window.trustedTypes?.createPolicy('another', { createScriptURL: String }))
		};
	});
	expect(refused).toEqual({ worker: 'refused', markup: 'refused', policy: 'refused' });
	expect(complaints.splice(0).every((complaint) => /Trusted ?Type|TrustedHTML/.test(complaint))).toBe(true);
});
