import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { expect, test } from './fixtures.ts';
import { Workbench } from './workbench.ts';

test.use({ viewport: { width: 1440, height: 900 } });

let app: Workbench;
test.beforeEach(async ({ page }) => {
	app = new Workbench(page);
	await app.open();
});

async function setLevel(level: string): Promise<void> {
	await app.choose(/reflectometer/);
	await app.bench.getByRole('textbox', { name: 'Source level' }).fill(level);
	await app.page.keyboard.press('Enter');
}

async function shareLink(page: Page): Promise<string> {
	await page.getByRole('button', { name: 'Share' }).click();
	const link = await page.getByRole('textbox', { name: /^Link, / }).inputValue();
	await page.getByRole('dialog').getByRole('button', { name: 'Close' }).click();
	return link;
}

test('a reload keeps bench, notes and readings, and nothing is left to undo', async ({ page }) => {
	await setLevel('-23');
	await app.choose(/^Pad/);
	await app.bench.getByRole('textbox', { name: 'Attenuation', exact: true }).fill('17.5');
	await page.keyboard.press('Enter');
	await page.waitForTimeout(1200);
	await app.pause();
	await app.notebook.getByRole('textbox', { name: 'A note of your own' }).fill('The mast at the weir.');
	await app.notebook.getByRole('button', { name: 'Add in ink' }).click();
	await app.reading.getByRole('button', { name: 'Copy to notebook' }).click();
	const notes = app.notebook.getByRole('region', { name: 'Notes' }).getByRole('listitem');
	await expect(notes).toHaveCount(2);
	const [shown, noted] = [await app.shown(), await notes.allInnerTexts()];
	await page.waitForTimeout(1000);

	await page.reload();
	await app.ready();
	await expect(page.getByRole('button', { name: 'Run', exact: true })).toBeVisible();
	expect(await app.shown()).toBe(shown);
	expect(await notes.allInnerTexts()).toEqual(noted);
	await expect(app.bench.getByRole('option', { name: /^Pad, 17\.5/ })).toBeVisible();
	await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();
	await expect(app.notebook.getByRole('heading', { name: 'Lessons' })).toBeVisible();
});

test('a link opens the same bench with the same readings elsewhere', async ({ page, browser }) => {
	await setLevel('-18.5');
	await page.waitForTimeout(1200);
	await app.pause();
	const shown = await app.shown();
	const link = await shareLink(page);
	expect(link.length).toBeLessThan(6000);

	const elsewhere = await browser.newContext({ viewport: { width: 1440, height: 900 } });
	const other = await elsewhere.newPage();
	const problems: string[] = [];
	other.on('console', (message) => message.type() === 'error' && problems.push(message.text()));
	// the other bench runs at once; with its clock stopped it shows what the link says and takes no further sweep
	await other.clock.install({ time: 0 });
	await other.clock.pauseAt(1);
	const linked = new Workbench(other);
	await linked.open(link);
	await expect(linked.bench.getByText('It came with the link.')).toBeVisible();
	await expect.poll(async () => (await linked.levels()).source).toBeCloseTo(-18.5, 2);
	expect(await linked.shown()).toBe(shown);
	expect(new URL(other.url()).hash).toBe('');
	expect(problems).toEqual([]);
	await elsewhere.close();
});

test('a damaged link says so and keeps the bench', async ({ page, browser }) => {
	const link = await shareLink(page);
	const at = link.indexOf('bench=1.') + 40;
	const damaged = [
		`${link.slice(0, at)}AAAA${link.slice(at + 4)}`,
		link.slice(0, at),
		link.replace('bench=1.', 'bench=7.')
	];
	for (const address of damaged) {
		const elsewhere = await browser.newContext({ viewport: { width: 1440, height: 900 } });
		const linked = new Workbench(await elsewhere.newPage());
		await linked.open(address);
		await expect(linked.bench.getByRole('alert')).toContainText(/link/i);
		await expect(linked.bench.getByRole('option', { name: /^Mast preamp/ })).toBeVisible();
		await elsewhere.close();
	}
});

test('a saved bench opens again; spoiled by hand, path and line are named and the bench is kept', async ({
	page
}) => {
	await setLevel('-24');
	const [download] = await Promise.all([
		page.waitForEvent('download'),
		page.getByRole('button', { name: 'Save' }).click()
	]);
	expect(download.suggestedFilename()).toBe('river-gauge-mast-preamp.bench.yaml');
	const text = readFileSync(await download.path(), 'utf8');
	await setLevel('-31');
	const open = async (content: string) =>
		page
			.getByRole('banner')
			.getByLabel('Open')
			.setInputFiles({ name: 'mine.bench.yaml', mimeType: 'application/yaml', buffer: Buffer.from(content) });

	const line = text.split('\n').findIndex((words) => words.includes('-24 dBm')) + 1;
	await open(text.replace('-24 dBm', '-24'));
	const alert = app.bench.getByRole('alert');
	await expect(alert).toContainText('mine.bench.yaml');
	await expect(alert).toContainText('setup.source.level');
	await expect(alert).toContainText(`line ${line}`);
	await expect.poll(async () => (await app.levels()).source).toBeCloseTo(-31, 2);

	await open(text);
	await expect.poll(async () => (await app.levels()).source).toBeCloseTo(-24, 2);
	await page.getByRole('button', { name: 'Back to the bench before' }).click();
	await expect.poll(async () => (await app.levels()).source).toBeCloseTo(-31, 2);
});

test('a dead simulation worker is noticed and started again, and the work is there', async ({ page }) => {
	await setLevel('-22');
	await expect.poll(async () => (await app.levels()).source).toBeCloseTo(-22, 2);
	await page.workers()[0].evaluate(() => self.close());
	await expect(app.bench.getByRole('alert')).toContainText('It has not answered for 6 s.', {
		timeout: 12_000
	});
	expect((await app.levels()).source).toBeCloseTo(-22, 2);
	await setLevel('-25');
	await expect.poll(async () => (await app.levels()).source).toBeCloseTo(-25, 2);
});
