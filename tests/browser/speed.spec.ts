import type { Locator } from '@playwright/test';
import { expect, test } from './fixtures.ts';
import { Workbench } from './workbench.ts';

test.use({ viewport: { width: 1440, height: 900 }, trace: 'off' });

const SAMPLES = 40;
/** ms; issue 2 states both. */
const MEDIAN = 50;
const NEARLY_ALL = 100;
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

const controls: readonly {
	name: string;
	tray: RegExp | null;
	control: (app: Workbench) => Locator;
	keys: readonly [string, string];
	picture: 'corridor' | 'chart';
}[] = [
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

for (const { name, tray, control, keys, picture } of controls)
	test(`${name}: a change is painted within ${MEDIAN} ms, 201 points, 64 averages`, async ({ page }) => {
		const app = new Workbench(page);
		await app.open();
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
			`${name}: median ${median.toFixed(1)} ms, 95th percentile ${nearlyAll.toFixed(1)} ms, ` +
				`longest ${Math.max(...times).toFixed(1)} ms of ${times.length}; ` +
				`long tasks of the page: ${longTasks.map((t) => t.toFixed(0)).join(', ') || 'none'}`
		);
		expect(times).toHaveLength(SAMPLES);
		expect(median).toBeLessThan(MEDIAN);
		expect(nearlyAll).toBeLessThan(NEARLY_ALL);
		expect(longTasks.length).toBeLessThanOrEqual(MOST_LONG_TASKS);
	});
