import type { Page } from '@playwright/test';
import { expect, test } from './fixtures.ts';
import { Workbench } from './workbench.ts';

test.use({ viewport: { width: 1440, height: 900 } });

/**
 * 25 Ω in series, then 100 Ω to ground, as a two-port in 50 Ω. With A = 1 + 25/100, B = 25 Ω, C = 1/(100 Ω), D = 1
 * and N = A + B/50 + 50·C + D = 3.25: S11 = 0.25/3.25, S21 = S12 = 2/3.25, S22 = −0.25/3.25 (Pozar, Microwave
 * Engineering, 4th ed. 2012, table 4.2). Seen from its first port, by hand: 25 + 100‖50 = 58.33 Ω ended in 50 Ω,
 * 125 Ω with its output open, 25 Ω with it short.
 */
const row = [0.25 / 3.25, 0, 2 / 3.25, 0, 2 / 3.25, 0, -0.25 / 3.25, 0]
	.map((part) => part.toFixed(9))
	.join(' ');
const attenuator = `! 25 ohm in series, 100 ohm to ground\n# MHz S RI R 50\n160 ${row}\n170 ${row}\n180 ${row}\n`;
const HAND = { matched: 25 + 5000 / 150, open: 125, short: 25 };

/** Ω; the spread of what is read here is under 0.2 Ω at 95 %, so that a false alarm is one in a million. */
const TOLERANCE = 0.8;

let app: Workbench;
test.beforeEach(async ({ page }) => {
	app = new Workbench(page);
	await app.open();
});

/** Quiet readings: 10 Hz and 1024 averages, in the calibration at the adapter's end too. */
async function quieten(page: Page): Promise<void> {
	await app.choose(/reflectometer/);
	await app.bench.getByRole('combobox', { name: 'Bandwidth' }).selectOption('10 Hz');
	await app.bench.getByRole('textbox', { name: 'Averages' }).fill('1024');
	await page.keyboard.press('Enter');
	await page.getByRole('button', { name: 'Calibrate', exact: true }).click();
	const tray = app.bench.getByRole('region', { name: 'Calibrate' });
	await tray.getByRole('textbox', { name: 'Averages' }).fill('1024');
	await page.keyboard.press('Enter');
	await tray.getByRole('button', { name: 'Calibrate', exact: true }).click();
	await expect(tray.getByRole('combobox', { name: 'Calibration in use' })).toContainText('1024 averages');
}

async function expectResistance(expected: number): Promise<void> {
	await expect
		.poll(async () => (await app.rows()).every((r) => Math.abs(r.resistance - expected) < TOLERANCE))
		.toBe(true);
	for (const { reactance } of await app.rows()) expect(Math.abs(reactance)).toBeLessThan(TOLERANCE);
}

for (const way of ['chosen', 'dropped'] as const)
	test(`a .s2p file that is ${way} becomes the device and reads as worked out by hand`, async ({ page }) => {
		await quieten(page);
		if (way === 'dropped') await app.drop('own device.s2p', attenuator);
		else {
			await app.choose(/^Mast preamp/);
			await app.bench
				.getByLabel('Open a device file…')
				.setInputFiles({ name: 'own device.s2p', mimeType: 'text/plain', buffer: Buffer.from(attenuator) });
		}
		await expect(app.bench.getByRole('option', { name: /^own device\.s2p, two ports/ })).toBeVisible();
		await expect(page.getByRole('status').filter({ hasText: 'It is now the device' })).toBeVisible();
		await expectResistance(HAND.matched);
		await app.choose(/^Output/);
		await app.bench.getByRole('radio', { name: 'Open' }).check({ force: true });
		await expectResistance(HAND.open);
		await app.bench.getByRole('radio', { name: 'Short' }).check({ force: true });
		await expectResistance(HAND.short);
		await page.keyboard.press('Control+z');
		await page.keyboard.press('Control+z');
		await expectResistance(HAND.matched);
	});

test('the ceiling of a device of one’s own is stated in the tray', async ({ page }) => {
	await app.drop('own device.s2p', attenuator);
	const ceiling = app.bench.getByRole('textbox', { name: 'Ceiling' });
	await expect(ceiling).toHaveAttribute('placeholder', 'not stated');
	await expect(app.reading.getByText(/no ceiling is stated/)).toBeVisible();
	await ceiling.fill('-45 dBm');
	await page.keyboard.press('Enter');
	await expect(app.reading.getByText('Too loud: this reading is not valid.')).toBeVisible();
});

const malformed = [
	{ name: 'garbled.s2p', text: attenuator.replace('170 ', '170 twelve '), line: 4 },
	{ name: 'cut off.s2p', text: attenuator.slice(0, attenuator.lastIndexOf(' ')), line: 5 },
	{ name: 'infinite.s2p', text: attenuator.replace('\n180 ', '\n1e999 '), line: 5 }
];
for (const { name, text, line } of malformed)
	test(`of ${name} the line at fault is named, and the bench keeps what it had`, async () => {
		await app.pause();
		const before = await app.shown();
		await app.drop(name, text);
		const alert = app.bench.getByRole('alert');
		await expect(alert).toContainText(name);
		await expect(alert).toContainText(`line ${line}`);
		await expect(app.bench.getByRole('option', { name: /^Mast preamp/ })).toBeVisible();
		expect(await app.shown()).toBe(before);
		await alert.getByRole('button', { name: 'Dismiss' }).click();
		await expect(alert).toHaveCount(0);
	});
