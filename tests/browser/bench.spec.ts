import { expect, test } from './fixtures.ts';
import { numberIn, Workbench } from './workbench.ts';

test.use({ viewport: { width: 1440, height: 900 } });

let app: Workbench;
test.beforeEach(async ({ page }) => {
	app = new Workbench(page);
	await app.open();
});

test('the first visit shows a running bench, clear of both walls, and one invitation', async ({ page }) => {
	const { bench, notebook, reading } = app;
	for (const name of [/reflectometer/, /^Pad, 20/, /^Cable/, /^Adapter/, /^Mast preamp/, /^Output/])
		await expect(bench.getByRole('option', { name })).toBeVisible();
	const { over, toCeiling, toFloor } = await app.levels();
	expect(over).toBe(false);
	expect(toCeiling).toBeGreaterThan(3);
	expect(toFloor).toBeGreaterThan(20);
	await expect(page.getByText(/^Running, sweep/)).toBeVisible();
	await expect(reading.getByText('Clear of both walls.')).toBeVisible();
	await expect(notebook.getByRole('heading', { level: 2 })).toHaveText([
		'Turn the level up until the preamp answers differently',
		'Notes'
	]);
	await expect(notebook.getByRole('button', { name: 'First lesson' })).toBeVisible();
	await expect(notebook.getByLabel('Your own device…')).toBeAttached();
});

test('the level turned up crosses the ceiling, and words say what happens', async ({ page }) => {
	await app.notebook.getByRole('button', { name: 'Show the level' }).click();
	await app.tabTo(app.bench.getByRole('slider', { name: 'Source level' }));
	for (let presses = 0; presses < 30 && !(await app.levels()).over; presses++) {
		await page.keyboard.press('ArrowUp');
		await page.waitForTimeout(50);
	}
	const { over, source, device } = await app.levels();
	expect(over).toBe(true);
	expect(source).toBeGreaterThan(-16);
	expect(device).toBeGreaterThan(-35);
	await expect(app.corridor).toHaveAccessibleName(/dB over its ceiling/);
	await expect(app.reading.getByText(/^Over the ceiling: at this level/)).toBeVisible();
	await expect(app.bench.getByText('Outgoing level over the ceiling.', { exact: false })).toBeAttached();
});

test('the level in the corridor table is that of the source, less the losses', async ({ page }) => {
	await app.pause();
	await app.choose(/reflectometer/);
	// so faint that the preamp answers as at rest
	await app.bench.getByRole('textbox', { name: 'Source level' }).fill('-40');
	await page.keyboard.press('Enter');
	await expect.poll(async () => (await app.levels()).source).toBeCloseTo(-40, 1);
	await app.bench.getByRole('button', { name: 'Show as table' }).click();
	const table = app.bench.getByRole('table', { name: 'Levels at the planes, in dBm' });
	await expect(table.getByRole('row')).toHaveCount(5);
	const before = await table.getByRole('cell').allInnerTexts();
	await app.bench.getByRole('textbox', { name: 'Source level' }).fill('-50');
	await page.keyboard.press('Enter');
	await expect(table.getByRole('row').nth(1)).toContainText('−50.00');
	const after = await table.getByRole('cell').allInnerTexts();
	// linear circuit: outgoing and returning fall by the same 10 dB at every plane, the walls of one reading stay; the
	// averaged floor, the last column, is that of another number of sweeps
	const columns = 6;
	before.forEach((text, i) => {
		const fall = numberIn(text) - numberIn(after[i]);
		if (i % columns < 5) expect(fall).toBeCloseTo(i % columns < 2 ? 10 : 0, 1);
	});
});

test.describe('by keyboard', () => {
	test.beforeEach(async () => app.pause());

	test('source level: 10 dB more is 10 dB at the device and a third of the spread', async ({ page }) => {
		await app.chooseByKeyboard(/reflectometer/);
		await app.tabTo(app.bench.getByRole('slider', { name: 'Source level' }));
		// so faint that the preamp answers as at rest
		for (let presses = 0; presses < 4; presses++) await page.keyboard.press('Shift+ArrowDown');
		await expect.poll(async () => (await app.levels()).source).toBeCloseTo(-40, 1);
		await app.settled();
		const [before, spread] = [await app.levels(), await app.spread()];
		await page.keyboard.press('Shift+ArrowUp');
		await page.keyboard.press('Shift+ArrowUp');
		await expect.poll(async () => (await app.levels()).source).toBeCloseTo(before.source + 10, 1);
		await app.settled();
		const after = await app.levels();
		expect(after.device - before.device).toBeCloseTo(10, 1);
		expect(after.returned - before.returned).toBeCloseTo(10, 1);
		// 64 readings know their spread to one part in eleven; 1/√10 = 0.316
		const ratio = (await app.spread()).single / spread.single;
		expect(ratio).toBeGreaterThan(0.2);
		expect(ratio).toBeLessThan(0.45);
	});

	test('pad: 10 dB more costs the returning level 20 dB', async ({ page }) => {
		const [before, rows] = [await app.levels(), await app.rows()];
		const cloud = await app.chart.screenshot();
		await app.chooseByKeyboard(/^Pad/);
		await app.tabTo(app.bench.getByRole('slider', { name: 'Attenuation', exact: true }));
		await page.keyboard.press('PageUp');
		await expect.poll(async () => (await app.levels()).device).toBeLessThan(before.device - 9);
		await app.settled();
		const after = await app.levels();
		expect(after.device - before.device).toBeCloseTo(-10, 0);
		expect(after.returned - before.returned).toBeCloseTo(-20, 0);
		expect(await app.rows()).not.toEqual(rows);
		expect((await app.chart.screenshot()).equals(cloud)).toBe(false);
	});

	test('pad: its tags are a handle', async ({ page }) => {
		await app.chooseByKeyboard(/^Pad/);
		const before = await app.levels();
		await app.tabTo(app.bench.getByRole('slider', { name: 'Attenuation of Pad' }));
		await page.keyboard.press('ArrowUp');
		await expect(app.bench.getByRole('option', { name: /^Pad, 21/ })).toBeAttached();
		await expect.poll(async () => (await app.levels()).device).toBeCloseTo(before.device - 1, 1);
	});

	test('averages: twice as many lower the floor by 3 dB', async ({ page }) => {
		await app.chooseByKeyboard(/reflectometer/);
		await app.tabTo(app.bench.getByRole('slider', { name: 'Averages' }));
		await page.keyboard.press('ArrowDown');
		await expect.poll(async () => (await app.spread()).of).toBe(32);
		const before = await app.levels();
		const spread = await app.spread();
		await page.keyboard.press('ArrowUp');
		await expect.poll(async () => (await app.spread()).of).toBe(64);
		expect((await app.levels()).floor - before.floor).toBeCloseTo(-3, 0);
		expect((await app.spread()).average).toBeLessThan(spread.average);
		await expect(page.getByText('64 of 64 averages')).toBeVisible();
	});

	test('bandwidth: a third lowers the floor by 4.8 dB', async ({ page }) => {
		const [before, spread] = [await app.levels(), await app.spread()];
		await app.chooseByKeyboard(/reflectometer/);
		await app.tabTo(app.bench.getByRole('combobox', { name: 'Bandwidth' }));
		await page.keyboard.press('ArrowUp');
		await expect(app.bench.getByRole('combobox', { name: 'Bandwidth' })).toHaveValue('100');
		await expect.poll(async () => (await app.spread()).single).toBeLessThan(spread.single * 0.8);
		// the run before had some more readings than 64: one decimal of difference is theirs
		expect(before.floor - (await app.levels()).floor).toBeGreaterThan(3.5);
	});

	test('plane offset: 10 ps turn the reading by 4πfτ at all three markers', async ({ page }) => {
		const [before, rows] = [await app.gamma(), await app.rows()];
		await app.tabTo(app.bench.getByRole('slider', { name: /^Reference plane, offset/ }));
		for (let steps = 0; steps < 5; steps++) await page.keyboard.press('Shift+ArrowRight');
		await expect(app.bench.getByRole('slider', { name: /^Reference plane, offset/ })).toHaveAttribute(
			'aria-valuetext',
			'+91\u00a0ps'
		);
		await app.settled();
		const after = await app.gamma();
		expect(after.size).toBeGreaterThan(0.8 * before.size);
		const turned = (after.angle - before.angle + 540) % 360;
		// 2 · 360° · 169.525 MHz · 50 ps = 6.1°; another run of sweeps adds its own noise, 0.005 of 0.07
		expect(Math.abs(turned - 180 - 6.1)).toBeLessThan(12);
		const moved = await app.rows();
		moved.forEach((row, k) => expect(row.reactance).not.toBe(rows[k].reactance));
	});
});

test.describe('by pointer', () => {
	test.beforeEach(async () => app.pause());

	test('source level, averages and bandwidth', async ({ page }) => {
		await app.choose(/reflectometer/);
		const before = await app.levels();
		const slider = app.bench.getByRole('slider', { name: 'Source level' });
		const box = (await slider.boundingBox())!;
		await page.mouse.click(box.x + box.width * 0.25, box.y + box.height / 2);
		await expect.poll(async () => (await app.levels()).source).toBeLessThan(before.source - 10);
		const averages = (await app.bench.getByRole('slider', { name: 'Averages' }).boundingBox())!;
		await page.mouse.click(averages.x + averages.width * 0.99, averages.y + averages.height / 2);
		await expect.poll(async () => (await app.spread()).of).toBe(1024);
		const floor = (await app.levels()).floor;
		await app.bench.getByRole('combobox', { name: 'Bandwidth' }).selectOption('30 kHz');
		await expect.poll(async () => (await app.levels()).floor).toBeCloseTo(floor + 20, 1);
	});

	test('the tags of the pad and the reference plane are dragged', async ({ page }) => {
		await app.choose(/^Pad/);
		const before = await app.levels();
		const tag = (await app.bench.getByRole('slider', { name: 'Attenuation of Pad' }).boundingBox())!;
		await page.mouse.move(tag.x + tag.width / 2, tag.y + tag.height / 2);
		await page.mouse.down();
		await page.mouse.move(tag.x + tag.width / 2, tag.y + tag.height / 2 + 20, { steps: 5 });
		await expect.poll(async () => (await app.levels()).device).toBeLessThan(before.device - 2);
		await page.mouse.up();
		const rows = await app.rows();
		const plane = app.bench.getByRole('slider', { name: /^Reference plane, offset/ });
		const handle = (await plane.boundingBox())!;
		await page.mouse.move(handle.x + handle.width / 2, handle.y + handle.height / 2);
		await page.mouse.down();
		await page.mouse.move(handle.x - 40, handle.y + handle.height / 2, { steps: 5 });
		await page.mouse.up();
		await expect(plane).not.toHaveAttribute('aria-valuetext', '+41\u00a0ps');
		await expect.poll(async () => app.rows()).not.toEqual(rows);
		const undo = page.getByRole('button', { name: 'Undo' });
		await undo.click();
		await expect(plane).toHaveAttribute('aria-valuetext', '+41\u00a0ps');
		await undo.click();
		await expect(app.bench.getByRole('option', { name: /^Pad, 20/ })).toBeAttached();
		await expect(undo).toBeDisabled();
	});
});

test('reveal shows the truth on the chart and in the table, and hides it again', async () => {
	const truth = app.reading.getByRole('checkbox', { name: 'truth' });
	const headings = app.reading.getByRole('columnheader', { name: /^True/ });
	await app.pause();
	await app.showChartTable();
	await expect(app.chart).not.toHaveAccessibleName(/The truth there/);
	await expect(headings).toHaveCount(0);
	const hidden = await app.chart.screenshot();
	await truth.check();
	await expect(app.chart).toHaveAccessibleName(/The truth there is Γ = 0\.\d+ at/);
	await expect(headings).toHaveCount(2);
	expect((await app.chart.screenshot()).equals(hidden)).toBe(false);
	await truth.uncheck();
	await expect(app.chart).not.toHaveAccessibleName(/The truth there/);
	await expect(headings).toHaveCount(0);
});

test.describe('undo', () => {
	test.beforeEach(async () => app.pause());
	const undo = () => app.page.getByRole('button', { name: 'Undo' });
	const redo = () => app.page.getByRole('button', { name: 'Redo' });
	const level = () => app.bench.getByRole('textbox', { name: 'Source level' });

	test('goes back and forth by keys and by buttons', async ({ page }) => {
		await app.choose(/reflectometer/);
		const slider = app.bench.getByRole('slider', { name: 'Source level' });
		await slider.focus();
		await page.keyboard.press('ArrowUp');
		await page.keyboard.press('ArrowUp');
		await expect(level()).toHaveValue('−19');
		await page.keyboard.press('Control+z');
		await expect(level()).toHaveValue('−19.5');
		await page.keyboard.press('Control+z');
		await expect(level()).toHaveValue('−20');
		await expect(undo()).toBeDisabled();
		await page.keyboard.press('Control+Shift+Z');
		await expect(level()).toHaveValue('−19.5');
		await redo().click();
		await expect(level()).toHaveValue('−19');
		await expect(redo()).toBeDisabled();
		await undo().click();
		await expect(level()).toHaveValue('−19.5');
		await expect.poll(async () => (await app.levels()).source).toBeCloseTo(-19.5, 2);
	});

	test('takes a drag of a slider as one step', async ({ page }) => {
		await app.choose(/reflectometer/);
		const box = (await app.bench.getByRole('slider', { name: 'Source level' }).boundingBox())!;
		const y = box.y + box.height / 2;
		await page.mouse.move(box.x + box.width * 0.57, y);
		await page.mouse.down();
		await page.mouse.move(box.x + box.width * 0.9, y, { steps: 12 });
		await page.mouse.up();
		await expect.poll(async () => (await app.levels()).source).toBeGreaterThan(-5);
		await page.keyboard.press('Control+z');
		await expect(level()).toHaveValue('−20');
		await expect(undo()).toBeDisabled();
	});

	test('Escape gives a drag up, and nothing of it stays', async ({ page }) => {
		await app.choose(/reflectometer/);
		const box = (await app.bench.getByRole('slider', { name: 'Source level' }).boundingBox())!;
		const y = box.y + box.height / 2;
		await page.mouse.move(box.x + box.width * 0.57, y);
		await page.mouse.down();
		await page.mouse.move(box.x + box.width * 0.9, y, { steps: 6 });
		await expect.poll(async () => (await app.levels()).source).toBeGreaterThan(-5);
		await page.keyboard.press('Escape');
		await expect(level()).toHaveValue('−20');
		await page.mouse.move(box.x + box.width * 0.3, y, { steps: 3 });
		await page.mouse.up();
		await expect(level()).toHaveValue('−20');
		await expect(undo()).toBeDisabled();
		await expect.poll(async () => (await app.levels()).source).toBeCloseTo(-20, 2);
	});
});

test('a part is added, swapped and removed by the keyboard', async ({ page }) => {
	const { bench } = app;
	await app.tabTo(bench.locator('[role=toolbar] [role=button][tabindex="0"]'));
	await page.keyboard.press('ArrowRight');
	await page.keyboard.press('Enter');
	await app.tabTo(bench.getByRole('searchbox', { name: 'Find a part' }));
	await page.keyboard.type('pad');
	await page.keyboard.press('Enter');
	await expect(bench.getByRole('option')).toHaveCount(7);
	await expect(bench.getByRole('option', { name: /^Pad, 20/ })).toHaveCount(2);
	await expect.poll(async () => (await app.levels()).device).toBeLessThan(-59);
	await app.tabTo(bench.locator('[role=option][tabindex="0"]'));
	await page.keyboard.press('Home');
	await page.keyboard.press('ArrowRight');
	await page.keyboard.press('ArrowRight');
	await page.keyboard.press('Enter');
	await page.keyboard.press('Home');
	await app.tabTo(bench.getByRole('button', { name: 'Swap' }));
	await page.keyboard.press('Enter');
	await app.tabTo(bench.getByRole('button', { name: /^Cable/ }));
	await page.keyboard.press('Enter');
	await expect(bench.getByRole('option', { name: /^Cable/ })).toHaveCount(2);
	await expect.poll(async () => (await app.levels()).device).toBeGreaterThan(-42);
	await app.tabTo(bench.getByRole('button', { name: 'Remove' }));
	await page.keyboard.press('Enter');
	await expect(bench.getByRole('option')).toHaveCount(6);
	await expect.poll(async () => (await app.levels()).device).toBeCloseTo(-40.2, 1);
});

test('a single frequency over time is read', async ({ page }) => {
	await app.choose(/reflectometer/);
	await app.bench.getByRole('button', { name: 'More' }).click();
	await app.bench.getByRole('textbox', { name: 'Points' }).fill('1');
	await page.keyboard.press('Enter');
	await expect(page.getByText('169.400 MHz, 1 point')).toBeVisible();
	await app.pause();
	const [low, centre, high] = await app.rows();
	expect(centre).toEqual(low);
	expect(high).toEqual(low);
	expect(low.resistance).toBeGreaterThan(20);
	await app.bench.getByRole('textbox', { name: 'Points' }).fill('0');
	await page.keyboard.press('Enter');
	await expect(app.bench.getByRole('alert')).toContainText('The setting is still 1');
	await app.bench.getByRole('textbox', { name: 'Points' }).fill('100001');
	await page.keyboard.press('Enter');
	await expect(app.bench.getByRole('alert')).toContainText('The setting is still 1');
});
