import { expect, test } from './fixtures.ts';
import type { ChartRow } from './workbench.ts';
import { Workbench } from './workbench.ts';

test.use({ viewport: { width: 1440, height: 900 } });

const misses = (rows: readonly ChartRow[]): number[] =>
	rows.map(({ gamma, truth }) => Math.hypot(gamma.re - truth.re, gamma.im - truth.im));

/**
 * Calibrated at the device with one average, Γ misses the truth by as much as a single reading: its 95 % radius is
 * 0.037, that of 1024 averages 0.0012. That six or more of 21 independent misses should lie inside 0.0012 has a
 * probability below 1e-10. With 1024 averages in both, no miss passes 0.005 (seven standard deviations) by chance.
 */
test('the noise of a calibration stays in every reading, until it is made again with patience', async ({
	page
}) => {
	const app = new Workbench(page);
	await app.open();
	await app.reading.getByRole('checkbox', { name: 'truth' }).check();
	await app.showChartTable();
	await page.getByRole('button', { name: 'Calibrate', exact: true }).click();
	const tray = app.bench.getByRole('region', { name: 'Calibrate' });
	await tray.getByRole('combobox', { name: 'At plane' }).selectOption('3, the device');
	await tray.getByRole('textbox', { name: 'Averages' }).fill('1');
	await page.keyboard.press('Enter');
	await tray.getByRole('button', { name: 'Calibrate', exact: true }).click();
	await expect(tray.getByRole('combobox', { name: 'Calibration in use' })).toContainText(
		'Plane 3, 1 average'
	);
	await tray.getByRole('textbox', { name: 'Offset toward the device' }).fill('0');
	await page.keyboard.press('Enter');
	await app.choose(/reflectometer/);
	await app.bench.getByRole('textbox', { name: 'Averages' }).fill('1024');
	await page.keyboard.press('Enter');
	await expect.poll(async () => (await app.spread()).of).toBeGreaterThan(1000);
	await app.pause();

	const { average } = await app.spread();
	expect(average).toBeLessThan(0.002);
	const noisy = misses(await app.chartRows());
	expect(noisy).toHaveLength(21);
	expect(noisy.filter((miss) => miss > average).length).toBeGreaterThan(15);
	expect(Math.max(...noisy)).toBeGreaterThan(10 * average);
	await expect(
		app.reading.getByText('The readings agree with each other and are wrong all the same.')
	).toBeVisible();

	await page.getByRole('button', { name: 'Calibrate', exact: true }).click();
	await tray.getByRole('textbox', { name: 'Averages' }).fill('1024');
	await page.keyboard.press('Enter');
	await tray.getByRole('button', { name: 'Calibrate', exact: true }).click();
	const used = tray.getByRole('combobox', { name: 'Calibration in use' });
	await expect(used.locator('option:checked')).toHaveText('Plane 3, 1024 averages');
	await app.settled();
	expect(Math.max(...misses(await app.chartRows()))).toBeLessThan(0.005);

	// the old one is still there: the history of a bench is only ever added to
	await used.selectOption('Plane 3, 1 average');
	await app.settled();
	expect(Math.max(...misses(await app.chartRows()))).toBeGreaterThan(10 * average);
	await used.selectOption('None');
	await expect(app.reading.getByText('Not corrected: no calibration is in use.')).toBeVisible();
});
