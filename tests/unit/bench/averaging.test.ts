import { expect, test } from 'vitest';
import { chiSquaredInterval } from '../../reference/chi-squared.ts';
import { Simulation } from '#lib/bench/simulation.ts';
import { after, benchWith, command, requestFor } from './examples.ts';

const POINTS = 2000;

/** A matched load read without correction, so that nothing but the receiver's floor is in the reading. */
const matched = after(
	benchWith({
		port: {
			directivity: { size: -120, delay: 0 },
			sourceMatch: { size: -120, delay: 0 },
			tracking: { size: 0, delay: 0 },
			absoluteMaximum: 17
		}
	}),
	command('choose device', { device: '50 ohm load' }),
	command('use calibration', { calibration: null }),
	command('set sweep', { points: POINTS })
);

// σ²/N for white noise, N the averages; by hand −120 dBm/Hz in 300 Hz under −20 dBm is a σ² (both quadratures) of
// 10^(−75.229/10) for one reading. Beyond N = 64 the exponential average of 64 settles at 2N − 1 = 127 readings (any
// text on first-order recursive averages). Sample: 2000 points, 4000 degrees of freedom, false alarms 1e-4 a case.
test.each([
	[1, 256, 1],
	[4, 256, 4],
	[16, 256, 16],
	[64, 256, 64],
	[256, 256, 256],
	[1000, 64, 127]
])('%d sweeps through the whole bench, averaging %d, are worth %d readings', (sweeps, averages, worth) => {
	const document = after(matched, command('set averages', { averages }));
	const picture = new Simulation().picture(requestFor(document, { firstSweep: 5000, sweeps }));
	expect(picture.effectiveAverages).toBeCloseTo(worth, 4);
	const { displayed, expected } = picture;
	const squares = displayed.re.reduce(
		(sum, re, i) => sum + (re - expected.re[i]) ** 2 + (displayed.im[i] - expected.im[i]) ** 2,
		0
	);
	const single = 10 ** ((-120 + 10 * Math.log10(300) + 20) / 10);
	const [low, high] = chiSquaredInterval(2 * POINTS);
	const ratio = squares / POINTS / (single / worth);
	expect(ratio).toBeGreaterThan(low);
	expect(ratio).toBeLessThan(high);
});

// The 95 % region covers the expected reading in 95 of 100 runs: 400 runs of 5 sweeps at three markers. A binomial count
// of 1200 at 0.95 lies within 1140 ± 30 (4 standard deviations of 7.5) but for 6e-5.
test('the 95 % region holds the noiseless reading as often as it says', { timeout: 30_000 }, () => {
	const document = after(
		matched,
		command('set averages', { averages: 5 }),
		command('set sweep', { points: 3 })
	);
	let held = 0;
	for (let run = 0; run < 400; run++) {
		const picture = new Simulation().picture(requestFor(document, { firstSweep: 10 * run, sweeps: 5 }));
		for (const { reading } of picture.markers) {
			const { region, gamma, expected } = reading;
			if (region === null) continue;
			const [x, y] = [expected.re - gamma.re, expected.im - gamma.im];
			const along = x * Math.cos(region.angle) + y * Math.sin(region.angle);
			const across = y * Math.cos(region.angle) - x * Math.sin(region.angle);
			if ((along / region.semiMajor) ** 2 + (across / region.semiMinor) ** 2 <= 1) held += 1;
		}
	}
	expect(Math.abs(held - 1140)).toBeLessThanOrEqual(30);
});
