import type { Page } from '@playwright/test';
import { expect, test } from './fixtures.ts';
import { Workbench } from './workbench.ts';

test.use({ viewport: { width: 1440, height: 900 } });

let app: Workbench;
test.beforeEach(async ({ page }) => {
	app = new Workbench(page);
	await app.open();
});

const field = async (name: string, written: string, page: Page) => {
	await app.bench.getByRole('textbox', { name, exact: true }).fill(written);
	await page.keyboard.press('Enter');
};

/** The part on the line; a list in the tray may hold an option of the same name. */
const onLine = (name: RegExp) =>
	app.bench.getByRole('listbox', { name: /^The line/ }).getByRole('option', { name });

test('the supply is switched off by the keyboard, and the device then answers otherwise', async ({
	page
}) => {
	await app.pause();
	const [, before] = await app.rows();
	await app.chooseByKeyboard(/^Mast preamp, supply on, receive/);
	await app.tabTo(app.bench.getByRole('radio', { name: 'on' }));
	await page.keyboard.press('ArrowRight');
	await expect(onLine(/^Mast preamp, supply off, receive/)).toBeVisible();
	await app.settled();
	const [, off] = await app.rows();
	expect(Math.hypot(off.resistance - before.resistance, off.reactance - before.reactance)).toBeGreaterThan(5);
	await app.reading.getByRole('button', { name: 'Copy to notebook' }).click();
	await expect(app.notebook.getByText(/supply off, receive/)).toBeVisible();
	await page.keyboard.press('Control+z');
	await expect(onLine(/^Mast preamp, supply on, receive/)).toBeVisible();
});

test('a level beyond its limit breaks the device; Undo does not mend it, another one does', async ({
	page
}) => {
	const plates = app.bench.getByRole('list', { name: 'Damaged parts' });
	await app.choose(/^Pad/);
	await field('Attenuation', '0 dB', page);
	await app.choose(/reflectometer/i);
	await expect(plates).toHaveCount(0);
	await field('Source level', '10 dBm', page);
	await expect(plates).toContainText(
		/Mast preamp is damaged\. Q1: \d+\.\d\sdBm at its connector, \d+\sdBm at most\./
	);
	await expect(plates).toContainText('Undo does not mend it');
	await expect(onLine(/^Mast preamp, .*Damaged\. Q1: /)).toBeVisible();
	await expect(app.reading.getByText('Mast preamp is damaged.')).toBeVisible();
	await app.choose(/^Pad/);
	await field('Attenuation', '40 dB', page);
	await page.keyboard.press('Escape');
	for (let steps = 0; steps < 3; steps++) await page.keyboard.press('Control+z');
	await expect(app.bench.getByRole('option', { name: /^Pad, 20\sdB/ })).toBeVisible();
	await expect(plates).toContainText('Mast preamp is damaged.');
	await plates.getByRole('button', { name: 'Replace part: Mast preamp' }).click();
	await expect(plates).toHaveCount(0);
	await expect(onLine(/^Mast preamp, supply on, receive$/)).toBeVisible();
	await expect(app.reading.getByText(/Mast preamp is damaged/)).toHaveCount(0);
});

test('a transmitter is keyed only when it was asked for twice, and then it burns', async ({ page }) => {
	const caution = page.getByText(/^Caution\./);
	const plates = app.bench.getByRole('list', { name: 'Damaged parts' });
	await expect(caution).toHaveCount(0);
	await app.choose(/^Mast preamp/);
	const path = app.bench.getByRole('combobox', { name: 'Path' });
	await path.selectOption('transmit');
	await expect(page.getByRole('alert').filter({ hasText: 'Transmit path armed' })).toBeVisible();
	await expect(page.getByRole('status').filter({ hasText: 'Transmit path armed' })).toBeVisible();
	await expect(onLine(/^Mast preamp, .*Transmit path armed/)).toBeVisible();

	// asked for once, and left
	await path.focus();
	await path.selectOption('transmitting');
	const question = app.bench.getByRole('group', { name: 'Key the transmitter?' });
	await expect(question).toContainText('Not keyed yet.');
	await expect(question).toContainText('never key it into an instrument');
	await question.getByRole('button', { name: 'Leave it unkeyed' }).click();
	await expect(question).toHaveCount(0);
	await expect(path).toHaveValue('transmit');
	await expect(path).toBeFocused();
	await expect(plates).toHaveCount(0);

	// asked for once more, by the keyboard
	await page.keyboard.press('ArrowDown');
	await expect(question).toBeVisible();
	await app.tabTo(question.getByRole('button', { name: 'Key the transmitter' }));
	await page.keyboard.press('Enter');
	await expect(caution).toContainText('Transmitter keyed.');
	const burnt = plates.getByRole('listitem');
	await expect(burnt).toHaveText([
		/^Pad is damaged\. 9\.\d+\sW/,
		/^Reflectometer is damaged\. \d\d\.\d\sdBm/
	]);
	await expect(app.reading.getByText('No reading: the transmitter is keyed.')).toBeVisible();
	await expect(app.reading.getByText('– no reading: the transmitter is keyed')).toHaveCount(3);

	await page.getByRole('button', { name: /^Unkey/ }).click();
	await expect(caution).toHaveCount(0);
	await expect(path).toHaveValue('receive');
	await expect(burnt).toHaveCount(2);
	await burnt.first().getByRole('button', { name: 'Replace part: Pad' }).click();
	await expect(burnt).toHaveText([/^Reflectometer/]);
	await burnt.getByRole('button', { name: 'Replace part: Reflectometer' }).click();
	await expect(plates).toHaveCount(0);
});

test('a device that is measured elsewhere comes with its sweep', async ({ page }) => {
	await app.choose(/^Mast preamp/);
	await app.bench.getByRole('combobox', { name: 'Name' }).selectOption('Level detector');
	const offer = page.getByRole('status').filter({ hasText: 'It is meant to be measured from' });
	await expect(offer).toContainText('90.000');
	await offer.getByRole('button', { name: 'Sweep its band' }).click();
	await expect(offer).toHaveCount(0);
	await expect(page.getByText('90.000 to 110.000 MHz, 201 points')).toBeVisible();
	await app.bench.getByRole('combobox', { name: 'Name' }).selectOption('50 Ω load');
	await expect(offer).toHaveCount(0);
});
