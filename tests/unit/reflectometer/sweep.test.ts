import { expect, test } from 'vitest';
import {
	add,
	at,
	complex,
	complexArray,
	divide,
	multiply,
	ONE,
	polar,
	put,
	scale,
	subtract
} from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { fillNormals } from '#lib/numeric/random.ts';
import { keptFraction, nextWeight, NO_WEIGHT } from '#lib/reflectometer/averaging.ts';
import { gammaFromRaw, rawFromGamma } from '#lib/reflectometer/correction.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { extensionFactor } from '#lib/reflectometer/plane.ts';
import {
	averagedRaw,
	averagedRawSlices,
	loadRows,
	means,
	restart,
	scatterAt,
	sweepRows,
	takeSweep
} from '#lib/reflectometer/sweep.ts';
import type { SweepRows } from '#lib/reflectometer/sweep.ts';

const POINTS = 601;
const frequencies = Float64Array.from({ length: POINTS }, (_, i) => 1e8 + 1e6 * i);
const terms = portErrorTerms(
	{
		directivity: { size: -20, delay: 0.4e-9 },
		sourceMatch: { size: -14, delay: 0.7e-9 },
		tracking: { size: -3, delay: 1.1e-9 }
	},
	frequencies
);
const extension = extensionFactor(50e-12, 0.2, frequencies);
const gamma = complexArray(POINTS);
for (let i = 0; i < POINTS; i++) put(gamma, i, polar(0.8, i / 50));
const raw = rawFromGamma(terms, gamma);
const noise = { seed: 77, stream: 5, floorDeviation: 1e-3, amplitudeDeviation: 5e-4, phaseDeviation: 8e-4 };

const loaded = (): SweepRows => {
	const rows = sweepRows(POINTS);
	loadRows(rows, raw, terms, extension);
	return rows;
};
const expectSame = (a: SweepRows, b: SweepRows): void => {
	for (const name of ['sumRe', 'sumIm', 'sumReRe', 'sumImIm', 'sumReIm', 'latestRe', 'latestIm'] as const) {
		expect(a[name]).toEqual(b[name]);
	}
};

/** The corrected, extended reading of every point of one sweep, a complex operation at a time. */
function plainSweep(sweep: number): ComplexArray {
	const n = [0, 1, 2, 3].map(() => new Float64Array(POINTS));
	fillNormals(n[0], n[1], n[2], n[3], 0, POINTS, sweep, noise.stream, noise.seed);
	const readings = complexArray(POINTS);
	for (let i = 0; i < POINTS; i++) {
		const trace = add(ONE, complex(noise.amplitudeDeviation * n[2][i], noise.phaseDeviation * n[3][i]));
		const floor = scale(complex(n[0][i], n[1][i]), noise.floorDeviation);
		put(readings, i, add(multiply(at(raw, i), trace), floor));
	}
	gammaFromRaw(terms, readings, readings);
	for (let i = 0; i < POINTS; i++) put(readings, i, multiply(at(readings, i), at(extension, i)));
	return readings;
}

test('means and scatter are those of readings worked out plainly', () => {
	const rows = loaded();
	const sweeps = 12;
	let weight = NO_WEIGHT;
	for (let sweep = 0; sweep < sweeps; sweep++) {
		takeSweep(rows, { ...noise, sweep, kept: 1 });
		weight = nextWeight(weight, sweeps);
	}
	const readings = Array.from({ length: sweeps }, (_, sweep) => plainSweep(sweep));
	const mean = means(rows, weight);
	for (let i = 0; i < POINTS; i++) {
		const all = readings.map((reading) => at(reading, i));
		const plain = scale(all.reduce(add), 1 / sweeps);
		expect(mean.re[i]).toBeCloseTo(plain.re, 13);
		expect(mean.im[i]).toBeCloseTo(plain.im, 13);
		const off = all.map((reading) => subtract(reading, plain));
		const scatter = scatterAt(rows, i, weight);
		const [rr, ii, ri] = [
			off.reduce((sum, d) => sum + d.re * d.re, 0),
			off.reduce((sum, d) => sum + d.im * d.im, 0),
			off.reduce((sum, d) => sum + d.re * d.im, 0)
		].map((sum) => sum / (sweeps - 1));
		expect(Math.abs(scatter.rr - rr)).toBeLessThan(1e-9 * rr);
		expect(Math.abs(scatter.ii - ii)).toBeLessThan(1e-9 * ii);
		expect(Math.abs(scatter.ri - ri)).toBeLessThan(1e-9 * (rr + ii));
		const latest = add(at(gamma, i), divide(complex(rows.latestRe[i], rows.latestIm[i]), at(extension, i)));
		const plainLatest = divide(all[sweeps - 1], at(extension, i));
		expect(latest.re).toBeCloseTo(plainLatest.re, 13);
		expect(latest.im).toBeCloseTo(plainLatest.im, 13);
	}
});

test('an exponential mean is the weighted mean of the readings', () => {
	const rows = loaded();
	let weight = NO_WEIGHT;
	const plain = complexArray(POINTS);
	for (let sweep = 0; sweep < 9; sweep++) {
		takeSweep(rows, { ...noise, sweep, kept: keptFraction(sweep, 3) });
		weight = nextWeight(weight, 3);
		const share = 1 / Math.min(sweep + 1, 3);
		const reading = plainSweep(sweep);
		for (let i = 0; i < POINTS; i++) {
			put(plain, i, add(scale(at(plain, i), 1 - share), scale(at(reading, i), share)));
		}
	}
	const mean = means(rows, weight);
	for (let i = 0; i < POINTS; i++) {
		expect(mean.re[i]).toBeCloseTo(plain.re[i], 13);
		expect(mean.im[i]).toBeCloseTo(plain.im[i], 13);
	}
});

test('sweeps in pieces, points in reverse and whole sweeps agree to the last bit', () => {
	const whole = loaded();
	const pieces = loaded();
	const reverse = loaded();
	for (let sweep = 0; sweep < 3; sweep++) {
		const options = { ...noise, sweep, kept: keptFraction(sweep, 2) };
		takeSweep(whole, options);
		takeSweep(pieces, options, 300);
		takeSweep(pieces, options, 0, 7);
		takeSweep(pieces, options, 7, 293);
		for (let i = POINTS - 1; i >= 0; i--) takeSweep(reverse, options, i, 1);
	}
	expectSame(pieces, whole);
	expectSame(reverse, whole);
});

test('without noise the readings are the truth, corrected, raw or extended', () => {
	const quiet = { ...noise, floorDeviation: 0, amplitudeDeviation: 0, phaseDeviation: 0, sweep: 0, kept: 1 };
	const weight = nextWeight(NO_WEIGHT, 1);
	const rows = loaded();
	takeSweep(rows, quiet);
	for (let i = 0; i < POINTS; i++) {
		const truth = multiply(at(gamma, i), at(extension, i));
		expect(means(rows, weight).re[i]).toBeCloseTo(truth.re, 13);
		if (i % 100) continue;
		expect(scatterAt(rows, i, { sum: 2, squares: 2 }).rr).toBeLessThan(1e-30);
	}
	loadRows(rows, raw, null, null);
	takeSweep(rows, quiet);
	expect(means(rows, weight).im[17]).toBeCloseTo(raw.im[17], 15);
	loadRows(rows, raw, null, extension);
	takeSweep(rows, quiet);
	expect(means(rows, weight).im[17]).toBeCloseTo(multiply(at(raw, 17), at(extension, 17)).im, 15);
});

test('a restart forgets every sweep before it', () => {
	const rows = loaded();
	takeSweep(rows, { ...noise, sweep: 0, kept: 1 });
	restart(rows);
	expectSame(rows, loaded());
	takeSweep(rows, { ...noise, sweep: 1, kept: 1 });
	const fresh = loaded();
	takeSweep(fresh, { ...noise, sweep: 1, kept: 1 });
	expectSame(rows, fresh);
});

test('a single sweep has no scatter to show', () => {
	const rows = loaded();
	takeSweep(rows, { ...noise, sweep: 0, kept: 1 });
	expect(scatterAt(rows, 0, nextWeight(NO_WEIGHT, 8))).toEqual({ rr: NaN, ii: NaN, ri: NaN });
});

test.each([1, 201, 488, 512, 1601, 4096])(
	'rows of %d points lie in one buffer, never 4096 bytes apart',
	(points) => {
		const { data, stride, points: length, ...named } = sweepRows(points);
		const rows = Object.values(named);
		expect(length).toBe(points);
		expect(data).toHaveLength(stride * rows.length);
		rows.forEach((row, k) => expect(row.byteOffset).toBe(8 * k * stride));
		expect(new Set(rows.map((row) => row.buffer)).size).toBe(1);
		const starts = rows.map((row) => row.byteOffset % 4096);
		expect(new Set(starts).size).toBe(rows.length);
		for (const row of rows) expect(row).toHaveLength(points);
	}
);

test('an averaged raw reading is the mean of its sweeps, in slices or at once', () => {
	const points = 40_000;
	const flat = { re: new Float64Array(points).fill(0.3), im: new Float64Array(points).fill(-0.1) };
	const whole = averagedRaw(flat, noise, { first: 4, count: 6 });
	const slices = averagedRawSlices(flat, noise, { first: 4, count: 6 });
	const pauses: number[] = [];
	let step = slices.next();
	for (; !step.done; step = slices.next()) pauses.push(step.value);
	expect(step.value).toEqual(whole);
	expect(pauses).toEqual([100_000, 200_000]);

	const rows = sweepRows(points);
	loadRows(rows, flat, null, null);
	for (let sweep = 9; sweep >= 4; sweep--) takeSweep(rows, { ...noise, sweep, kept: 1 });
	const mean = means(rows, { sum: 6, squares: 6 });
	let worst = 0;
	for (let i = 0; i < points; i++) worst = Math.max(worst, Math.abs(mean.re[i] - whole.re[i]));
	expect(worst).toBeLessThan(1e-15);
	expect(Math.abs(whole.re[0] - 0.3)).toBeGreaterThan(1e-6);
});
