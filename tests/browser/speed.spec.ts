import type { Locator } from '@playwright/test';
import { execute } from '../../src/lib/bench/command.ts';
import type { BenchDocument } from '../../src/lib/bench/command.ts';
import { commands } from '../../src/lib/bench/commands.ts';
import { defaultBench } from '../../src/lib/bench/default-bench.ts';
import { writeLink } from '../../src/lib/files/share-link.ts';
import { expect, test } from './fixtures.ts';
import { Workbench } from './workbench.ts';

test.use({ viewport: { width: 1440, height: 900 }, trace: 'off' });

const SAMPLES = 40;
/** Median and 95th percentile, ms. */
interface Budget {
	readonly median: number;
	readonly nearlyAll: number;
}
/** Issue 2, for a device that drive does not move. */
const AT_ONCE: Budget = { median: 50, nearlyAll: 100 };
/** Issue 3: a level change solves the front end again at every frequency. */
const DRIVEN: Budget = { median: 100, nearlyAll: 100 };
/** Another pad is another source for the front end: its linear part and its drive curves are made again too. Our own choice. */
const NEW_LINE: Budget = { median: 200, nearlyAll: 300 };
/**
 * A simulation on the page itself would hold up its frames at every change. One task over 50 ms (what the browser
 * reports as long) among forty changes is let pass: another program on the machine makes one now and then.
 */
const MOST_LONG_TASKS = 1;

declare global {
	interface Window {
		/** ms from the key to the picture that shows its change, painted; filled while a test watches. */
		times: number[];
		longTasks: number[];
	}
}

/** A quantile of the sample by the nearest rank. */
const quantile = (values: readonly number[], share: number): number =>
	[...values].sort((a, b) => a - b)[Math.ceil(share * values.length) - 1];

/**
 * From the moment the browser stamps the key press to the first frame after the picture's words have changed: the
 * corridor's sentence and, for the plane offset, which moves no level, the chart's. A task sent off in an animation
 * frame runs when that frame has been painted.
 */
async function watch(app: Workbench, picture: Locator): Promise<void> {
	await picture.evaluate((element) => {
		window.times = [];
		window.longTasks = [];
		let pressed: number | null = null;
		document.addEventListener('keydown', (event) => (pressed = event.timeStamp), true);
		new MutationObserver(() => {
			if (pressed === null) return;
			const start = pressed;
			pressed = null;
			requestAnimationFrame(() => {
				const { port1, port2 } = new MessageChannel();
				port1.onmessage = () => window.times.push(performance.now() - start);
				port2.postMessage(null);
			});
		}).observe(element, { attributes: true, attributeFilter: ['aria-label'] });
		new PerformanceObserver((list) => {
			for (const { duration } of list.getEntries()) window.longTasks.push(duration);
		}).observe({ type: 'longtask' });
	});
	await app.settled();
}

interface Control {
	name: string;
	tray: RegExp | null;
	control: (app: Workbench) => Locator;
	keys: readonly [string, string];
	picture: 'corridor' | 'chart';
}

const controls: readonly Control[] = [
	{
		name: 'source level',
		tray: /reflectometer/,
		control: (app) => app.bench.getByRole('slider', { name: 'Source level' }),
		keys: ['ArrowUp', 'ArrowDown'],
		picture: 'corridor'
	},
	{
		name: 'pad',
		tray: /^Pad/,
		control: (app) => app.bench.getByRole('slider', { name: 'Attenuation', exact: true }),
		keys: ['ArrowUp', 'ArrowDown'],
		picture: 'corridor'
	},
	{
		name: 'averages',
		tray: /reflectometer/,
		control: (app) => app.bench.getByRole('textbox', { name: 'Averages' }),
		keys: ['PageUp', 'PageDown'],
		picture: 'corridor'
	},
	{
		name: 'bandwidth',
		tray: /reflectometer/,
		control: (app) => app.bench.getByRole('combobox', { name: 'Bandwidth' }),
		keys: ['ArrowUp', 'ArrowDown'],
		picture: 'corridor'
	},
	{
		name: 'plane offset',
		tray: null,
		control: (app) => app.bench.getByRole('slider', { name: /^Reference plane, offset/ }),
		keys: ['Shift+ArrowRight', 'Shift+ArrowLeft'],
		picture: 'chart'
	}
];

const blackBox: BenchDocument = execute(
	defaultBench,
	{ name: 'choose device', arguments: { device: 'preamp by data sheet' } },
	commands
).document;

const [level, pad, ...others] = controls;
const cases: readonly [string, BenchDocument, Control, Budget][] = [
	...controls.map((control): [string, BenchDocument, Control, Budget] => [
		'a black box',
		blackBox,
		control,
		AT_ONCE
	]),
	['a front end', defaultBench, level, DRIVEN],
	['a front end', defaultBench, pad, NEW_LINE],
	...others.map((control): [string, BenchDocument, Control, Budget] => [
		'a front end',
		defaultBench,
		control,
		AT_ONCE
	])
];

for (const [device, document, { name, tray, control, keys, picture }, budget] of cases)
	test(`${name}, ${device}: a change is painted within ${budget.nearlyAll} ms, 201 points`, async ({
		page
	}) => {
		const app = new Workbench(page);
		await app.open(`./#${await writeLink(document)}`);
		await expect(page.getByText(/201 points/)).toBeVisible();
		await expect(page.getByText('64 of 64 averages')).toBeVisible();
		await app.pause();
		if (tray) await app.choose(tray);
		await control(app).focus();
		await watch(app, app[picture]);
		for (let sample = 0; sample < SAMPLES; sample++) {
			await page.keyboard.press(keys[sample % 2]);
			await page.waitForFunction((taken) => window.times.length > taken, sample);
		}
		const { times, longTasks } = await page.evaluate(() => ({
			times: window.times,
			longTasks: window.longTasks
		}));
		const [median, nearlyAll] = [quantile(times, 0.5), quantile(times, 0.95)];
		console.log(
			`${name}, ${device}: median ${median.toFixed(1)} ms, 95th percentile ${nearlyAll.toFixed(1)} ms, ` +
				`longest ${Math.max(...times).toFixed(1)} ms of ${times.length}; ` +
				`long tasks of the page: ${longTasks.map((t) => t.toFixed(0)).join(', ') || 'none'}`
		);
		expect(times).toHaveLength(SAMPLES);
		expect(median).toBeLessThan(budget.median);
		expect(nearlyAll).toBeLessThan(budget.nearlyAll);
		expect(longTasks.length).toBeLessThanOrEqual(MOST_LONG_TASKS);
	});
