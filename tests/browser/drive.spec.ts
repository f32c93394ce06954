import type { Locator, Page } from '@playwright/test';
import { expect, test } from './fixtures.ts';
import { numberIn, numbersIn, Workbench } from './workbench.ts';

test.use({ viewport: { width: 1440, height: 900 } });

/** A driven sweep and three drive curves are worked out before the picture changes. */
const PATIENCE = { timeout: 15_000 };

let app: Workbench;
test.beforeEach(async ({ page }) => {
	app = new Workbench(page);
	await app.open();
});

async function setLevel(page: Page, dbm: number): Promise<void> {
	await app.choose(/reflectometer/);
	await app.bench.getByRole('textbox', { name: 'Source level' }).fill(String(dbm));
	await page.keyboard.press('Enter');
	await expect.poll(async () => (await app.levels()).source, PATIENCE).toBeCloseTo(dbm, 1);
}

const opener = (page: Page) => page.getByRole('button', { name: 'R and X against level' });
const strip = () => app.bench.getByRole('img', { name: /against level/ });

/** The figures the picture says of the present level: level, R, X, gain, |ΔΓ|. */
async function presentValues(picture: Locator): Promise<number[]> {
	const words = (await picture.getAttribute('aria-label')) ?? '';
	return numbersIn(/present level of (.+?)\. \|ΔΓ\|/.exec(words)?.[1] ?? '');
}

/** The figures of the row of the present level: level, R, X, |ΔΓ|, gain. */
async function presentRow(table: Locator): Promise<number[]> {
	const row = table.getByRole('row').filter({ hasText: 'now' });
	const [level] = numbersIn(await row.getByRole('rowheader').innerText());
	return [level, ...(await row.getByRole('cell').allInnerTexts()).map(numberIn)];
}

test('at a loud level the wall of damage stands in the corridor, named and in words', async ({ page }) => {
	await expect(app.bench.getByText(/^breaks at/)).toHaveCount(0);
	await setLevel(page, 5);
	await expect(app.bench.getByText(/^breaks at/)).toBeVisible();
	await expect(app.corridor).toHaveAccessibleName(/below what breaks it, \S+\sdBm/);
	await app.bench.getByRole('button', { name: 'Show as table' }).click();
	await expect(app.bench.getByRole('columnheader', { name: 'Breaks' })).toBeVisible();
	await expect(app.bench.getByText(/dB below what breaks it$/)).toBeVisible();
});

test('the picture is folded away, opens by the keyboard, and its table has the same figures', async ({
	page
}) => {
	await expect(strip()).toHaveCount(0);
	await app.pause();
	await setLevel(page, -10);
	await app.tabTo(opener(page));
	await page.keyboard.press('Enter');
	await expect(opener(page)).toHaveAttribute('aria-expanded', 'true');
	await expect(strip()).toHaveAccessibleName(/^Change of R and X against level of Mast preamp at 169\.525/);
	const [level, r, x, gain, moved] = await presentValues(strip());
	expect(level).toBeCloseTo((await app.levels()).device, 2);
	expect(moved).toBeGreaterThan(0.01);
	const ceiling = /its ceiling of (\S+\sdBm)/.exec(
		(await app.corridor.getAttribute('aria-label')) ?? ''
	)?.[1];
	expect(ceiling).toBeDefined();
	await app.tabTo(app.bench.getByRole('button', { name: 'Show as table' }));
	await page.keyboard.press('Enter');
	const table = app.bench.getByRole('region', { name: 'R and X against level as a table' });
	expect(await presentRow(table)).toEqual([level, r, x, moved, gain]);
	await expect(app.bench.getByText(/reaches 0\.010 at/)).toContainText(`at ${ceiling}`);
	await page.keyboard.press('Enter');
	await expect(strip()).toHaveCount(1);
	await page.keyboard.press('Shift+Tab');
	await expect(opener(page)).toBeFocused();
	await page.keyboard.press('Enter');
	await expect(strip()).toHaveCount(0);
});

test('only once the truth is revealed does it show the values, and the chart what has moved', async ({
	page
}) => {
	await app.pause();
	await setLevel(page, 0);
	await opener(page).click();
	await expect(strip()).toHaveAccessibleName(/counted from rest/);
	await expect(app.chart).not.toHaveAccessibleName(/truth/);
	await app.reading.getByRole('checkbox', { name: /truth/ }).check();
	await expect(strip()).toHaveAccessibleName(/^R and X against level/);
	const [, r, x] = await presentValues(strip());
	// noise and calibration leave a few tenths of an ohm
	const centre = (await app.rows())[1];
	expect(Math.abs(centre.resistance - r)).toBeLessThan(0.8);
	expect(Math.abs(centre.reactance - x)).toBeLessThan(0.8);
	await expect(app.chart).toHaveAccessibleName(/at rest; at the present drive it is .+ away from it\.$/);
	await app.showChartTable();
	const table = app.reading.getByRole('region', { name: 'The chart as a table' });
	await expect(table.getByRole('columnheader', { name: /Driven R/ })).toBeVisible();
});

test('where there is no room beside the device it stands upright under the reading', async ({ page }) => {
	await page.setViewportSize({ width: 1024, height: 768 });
	await app.pause();
	const region = app.reading.getByRole('region', { name: 'R and X against level', exact: true });
	const button = region.getByRole('button', { name: 'R and X against level' });
	await expect(app.bench.getByRole('button', { name: 'R and X against level' })).toHaveCount(0);
	await button.focus();
	await page.keyboard.press('Enter');
	const picture = region.getByRole('img', { name: /against level/ });
	await expect(picture).toBeVisible();
	const [level, r, x, gain, moved] = await presentValues(picture);
	await region.getByRole('button', { name: 'R and X as table' }).click();
	expect(await presentRow(region)).toEqual([level, r, x, moved, gain]);
});

test('a device that drive does not move has no such picture', async ({ page }) => {
	await opener(page).click();
	await app.choose(/^Mast preamp/);
	await app.bench.getByRole('combobox', { name: 'Name' }).selectOption({ label: '50 Ω load' });
	await expect(strip()).toHaveCount(0);
	await expect(opener(page)).toHaveCount(0);
});

test('the invitation ends when the preamp answers differently', async ({ page }) => {
	await expect(app.notebook.getByRole('heading', { name: /^Turn the level up until/ })).toBeVisible();
	await setLevel(page, -12);
	await expect(app.notebook.getByRole('heading', { name: /^Turn the level up until/ })).toBeVisible();
	await setLevel(page, -9);
	await expect(app.notebook.getByRole('heading', { name: 'It answers differently now' })).toBeVisible();
});
