import { defaultBench } from '../../src/lib/bench/default-bench.ts';
import { simulatedBench } from '../../src/lib/bench/session.ts';
import { Simulation } from '../../src/lib/bench/simulation.ts';
import type { Picture } from '../../src/lib/bench/picture.ts';
import { expect, test } from './fixtures.ts';
import { Workbench } from './workbench.ts';

type Marker = Picture['markers'][number];
interface Numbers {
	readonly displayed: number[];
	readonly expected: number[];
	readonly truth: number[];
	readonly levels: number[];
	readonly regions: number[];
	readonly cloud: number[];
	/** Cloud minus what would be read without noise: the draws, as the correction carries them. */
	readonly deviations: number[];
}

/**
 * The app's own worker in the browser against the same simulation in Node, on the default bench with its calibration:
 * readings, truth, levels and 95 % regions agree within 1e-9, and the single readings of the clouds, less what is read
 * without noise, within 1e-15 of Γ. (The draws themselves are proven bit for bit by the published vectors of the unit
 * tests; here they have passed the correction, whose sines and exponentials are the engine's own.)
 */
test('the browser’s worker reads what Node reads', async ({ page }) => {
	const app = new Workbench(page);
	await app.open();
	const address = page.workers()[0].url();
	const request = {
		revision: 7,
		...simulatedBench(defaultBench),
		firstSweep: defaultBench.history.nextSweep,
		sweeps: 100
	};
	const node = numbers(new Simulation().picture(request));
	const { setup, calibration, damage, ...rest } = request;
	const work = { ...rest, bench: { setup, calibration, damage } };
	const picture = await page.evaluate(
		async ([url, job]) => {
			const worker = new Worker(url, { type: 'module' });
			try {
				return await new Promise((resolve, reject) => {
					worker.onerror = (event) => reject(new Error(event.message));
					worker.onmessage = ({ data }) => {
						if (data.type === 'failed') reject(new Error(data.fault.finding));
						if (data.type === 'finished') resolve(data.picture);
					};
					worker.postMessage({ type: 'job', id: 1, work: job, deadline: 20_000 });
				});
			} finally {
				worker.terminate();
			}
		},
		[address, work] as const
	);
	const browser = numbers(picture as Picture);
	expect(browser.displayed).toHaveLength(402);
	for (const part of ['displayed', 'expected', 'truth', 'levels', 'regions', 'cloud'] as const)
		expect(largestDifference(browser[part], node[part]), part).toBeLessThan(1e-9);
	expect(largestDifference(browser.deviations, node.deviations)).toBeLessThan(1e-15);
	const equal = browser.deviations.filter((value, i) => Object.is(value, node.deviations[i])).length;
	console.log(`cloud readings equal to the last bit: ${equal} of ${node.deviations.length}`);
});

const both = ({ re, im }: { re: ArrayLike<number>; im: ArrayLike<number> }): number[] => [
	...Array.from(re),
	...Array.from(im)
];

function numbers(picture: Picture): Numbers {
	const each = (get: (marker: Marker) => number[]): number[] => picture.markers.flatMap(get);
	return {
		displayed: both(picture.displayed),
		expected: both(picture.expected),
		truth: both(picture.truth),
		levels: each(({ levels }) => [...levels.outgoing, ...levels.returning, ...levels.floor]),
		regions: each(({ reading: { region } }) =>
			region ? [region.semiMajor, region.semiMinor, region.angle] : [NaN]
		),
		cloud: each(({ reading }) => both(reading.cloud)),
		deviations: each(({ reading: { cloud, expected } }) => [
			...Array.from(cloud.re, (re) => re - expected.re),
			...Array.from(cloud.im, (im) => im - expected.im)
		])
	};
}

function largestDifference(a: readonly number[], b: readonly number[]): number {
	expect(a).toHaveLength(b.length);
	// NaN must not pass as the smallest of all
	return Math.max(...a.map((value, i) => Math.abs(value - b[i])));
}
