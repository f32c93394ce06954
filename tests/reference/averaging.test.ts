import { expect, test } from 'vitest';
import { complexArray } from '#lib/numeric/complex.ts';
import { streamOf } from '#lib/numeric/random.ts';
import { effectiveAverages, keptFraction, nextWeight, NO_WEIGHT } from '#lib/reflectometer/averaging.ts';
import type { AverageWeight } from '#lib/reflectometer/averaging.ts';
import { loadRows, scatterAt, sweepRows, takeSweep } from '#lib/reflectometer/sweep.ts';
import type { SweepRows } from '#lib/reflectometer/sweep.ts';
import { chiSquaredInterval } from './chi-squared.ts';

const POINTS = 2000;
const DEVIATION = 1e-3;

/** Sweeps of a matched port with white floor noise, one point a trial. */
function average(averages: number, taken: number): { rows: SweepRows; weight: AverageWeight } {
	const rows = sweepRows(POINTS);
	loadRows(rows, complexArray(POINTS), null, null);
	let weight = NO_WEIGHT;
	for (let sweep = 0; sweep < taken; sweep++) {
		takeSweep(rows, {
			...{ seed: 20, stream: streamOf(`averages ${averages}`), sweep, kept: keptFraction(sweep, averages) },
			...{ floorDeviation: DEVIATION, amplitudeDeviation: 0, phaseDeviation: 0 }
		});
		weight = nextWeight(weight, averages);
	}
	return { rows, weight };
}

/** Variance of the mean over the variance of a single reading, both quadratures of every point together. */
function varianceRatio({ rows, weight }: { rows: SweepRows; weight: AverageWeight }): number {
	let sum = 0;
	for (let i = 0; i < POINTS; i++) sum += rows.sumRe[i] ** 2 + rows.sumIm[i] ** 2;
	return sum / weight.sum ** 2 / (2 * POINTS) / DEVIATION ** 2;
}

// σ/√N for white noise. Sample: 2000 points, 4000 degrees of freedom; false alarms 1e-4 for each N (variances within 9 %).
test.each([1, 4, 16, 64, 256])('the mean of %d sweeps scatters by σ/√N', (n) => {
	const [low, high] = chiSquaredInterval(2 * POINTS);
	const ratio = varianceRatio(average(n, n)) * n;
	expect(ratio).toBeGreaterThan(low);
	expect(ratio).toBeLessThan(high);
});

// First-order recursive averaging: an effective number of 2N − 1 (any text on it). Sample and false alarms as above.
test.each([2, 4, 8, 16])('an exponential average over %d settles at 2N − 1 readings', (n) => {
	const taken = 30 * n;
	expect(effectiveAverages(taken, n)).toBeCloseTo(2 * n - 1, 9);
	const [low, high] = chiSquaredInterval(2 * POINTS);
	const ratio = varianceRatio(average(n, taken)) * (2 * n - 1);
	expect(ratio).toBeGreaterThan(low);
	expect(ratio).toBeLessThan(high);
});

// On its way from N to 2N − 1. Sample and false alarms as above.
test.each([9, 12, 20])(
	'an exponential average over 8 is as quiet as its effective number after %d sweeps',
	(taken) => {
		const [low, high] = chiSquaredInterval(2 * POINTS);
		const ratio = varianceRatio(average(8, taken)) * effectiveAverages(taken, 8);
		expect(ratio).toBeGreaterThan(low);
		expect(ratio).toBeLessThan(high);
	}
);

// Sample: the mean over 2000 points of an estimate each, compared with its own standard error; false alarms 6e-5 each.
test.each([
	[10, 10],
	[4, 100]
])('over N = %d the scatter after %d sweeps is that of single readings', (n, taken) => {
	const { rows, weight } = average(n, taken);
	const scatters = Array.from({ length: POINTS }, (_, i) => scatterAt(rows, i, weight));
	for (const [part, expected] of [
		['rr', 1],
		['ii', 1],
		['ri', 0]
	] as const) {
		const values = scatters.map((scatter) => scatter[part] / DEVIATION ** 2);
		const mean = values.reduce((sum, value) => sum + value, 0) / POINTS;
		const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (POINTS - 1);
		expect(Math.abs(mean - expected)).toBeLessThan(4 * Math.sqrt(variance / POINTS));
	}
});
