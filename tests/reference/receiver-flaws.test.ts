import { expect, test } from 'vitest';
import { at, complex, divide, magnitude, subtract } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { fillNormals, streamOf } from '#lib/numeric/random.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { riceMean, riceProbability } from '#lib/numeric/rice.ts';
import { solveThreeTerms } from '#lib/reflectometer/calibration.ts';
import { gammaFromRaw, rawFromGamma } from '#lib/reflectometer/correction.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { leakage, rawChangeError, withLeakage } from '#lib/reflectometer/leakage.ts';
import {
	largestQuantisationBias,
	quantisationVariance,
	quantise,
	quantiseWithDither
} from '#lib/reflectometer/quantisation.ts';
import { readingDeviation } from '#lib/reflectometer/reference-noise.ts';
import { smooth, smoothingCorrelation } from '#lib/reflectometer/smoothing.ts';
import { drawnRipples, rippleDb } from '#lib/reflectometer/source-level.ts';
import { standardGamma } from '#lib/reflectometer/standards.ts';
import { loadRows, means, sweepRows, takeSweep } from '#lib/reflectometer/sweep.ts';
import { chiSquaredInterval } from './chi-squared.ts';
import { FAR_OFF, meanOf } from './sample.ts';

/** Four rows of standard normals, of a stream of their own. */
function normals(name: string, count: number): readonly [Reals, Reals, Reals, Reals] {
	const rows = [0, 1, 2, 3].map(() => new Float64Array(count));
	fillNormals(rows[0], rows[1], rows[2], rows[3], 0, count, 0, streamOf(name), 2024);
	return [rows[0], rows[1], rows[2], rows[3]];
}

/** How many standard errors the mean of `values` lies from `expected`. */
function errorsFrom(values: ArrayLike<number>, expected: number): number {
	const mean = meanOf(values);
	const squares = meanOf(Array.from(values, (value) => (value - mean) ** 2));
	return Math.abs(mean - expected) / Math.sqrt(squares / values.length);
}

const everywhere = (points: number, value: Complex): ComplexArray => ({
	re: new Float64Array(points).fill(value.re),
	im: new Float64Array(points).fill(value.im)
});

// Schuchman, IEEE Trans. Communication Technology 12, 1964: with subtractive dither the error is uniform, Δ²/12, without
// bias and independent of the value, however quiet that is. Sample: 40 000 readings a case; false alarms 3e-4 a case
// (1e-4 for each of bias, variance and correlation with the noise).
test.each([
	[0, 0],
	[0.25, 0],
	[0.5, 0],
	[0.25, 0.1],
	[0.1, 0.5],
	[-0.3, 3],
	[0.4, 200]
])(
	'dither: a value of %d steps with noise of %d steps is kept without bias, plus Δ²/12',
	(value, deviation) => {
		const step = 2e-4;
		const [noise] = normals(`dither ${value} ${deviation}`, 40_000);
		const errors = Array.from(noise, (normal) => {
			const before = step * (value + deviation * normal);
			return quantiseWithDither(before, step, normal) - before;
		});
		expect(errorsFrom(errors, 0)).toBeLessThan(FAR_OFF);
		const squares = errors.map((error) => error * error);
		expect(errorsFrom(squares, quantisationVariance(step))).toBeLessThan(FAR_OFF);
		expect(quantisationVariance(step) / (2e-4 ** 2 / 12)).toBeCloseTo(1, 12);
		const products = errors.map((error, i) => error * noise[i]);
		expect(errorsFrom(products, 0)).toBeLessThan(FAR_OFF);
	}
);

// The two quadratures and neighbouring readings have dithers of their own. Sample: 40 000; false alarms 1e-4 each.
test('the dithers of real part, imaginary part and neighbours are independent', () => {
	const [first, second] = normals('two dithers', 40_000);
	const error = (normal: number): number => quantiseWithDither(0.25, 1, normal) - 0.25;
	const products = Array.from(first, (normal, i) => error(normal) * error(second[i]));
	const neighbours = Array.from(first.slice(1), (normal, i) => error(normal) * error(first[i]));
	expect(errorsFrom(products, 0)).toBeLessThan(FAR_OFF);
	expect(errorsFrom(neighbours, 0)).toBeLessThan(FAR_OFF);
});

/**
 * Widrow & Kollár, *Quantization Noise*, 2008: the mean error of a rounded normal of mean `mean`, all in steps,
 * (1/π)·Σ (−1)^k/k·sin(2πk·mean)·exp(−2π²k²σ²).
 */
function biasInSteps(mean: number, deviation: number): number {
	let sum = 0;
	for (let k = 1; k < 200; k++) {
		const left = Math.exp(-2 * (Math.PI * k * deviation) ** 2);
		sum += ((-1) ** k / k / Math.PI) * Math.sin(2 * Math.PI * k * mean) * left;
	}
	return sum;
}

// Sample: 40 000 readings a case; false alarms 1e-4 a case. The largest of the series' values over a step is compared
// with the stated one as well.
test.each([
	[0.1, 0.1],
	[0.25, 0.2],
	[0.25, 0.3],
	[-0.25, 0.3],
	[0.4, 0.3],
	[0.25, 0.5]
])('without dither: a value of %d steps with noise of %d steps is biased as stated', (value, deviation) => {
	const [noise] = normals(`bias ${value} ${deviation}`, 40_000);
	const errors = Array.from(noise, (normal) => quantise(value + deviation * normal, 1) - value);
	expect(errorsFrom(errors, biasInSteps(value, deviation))).toBeLessThan(FAR_OFF);
	if (deviation < 0.5) expect(errorsFrom(errors, 0)).toBeGreaterThan(2 * FAR_OFF);
	const biases = Array.from({ length: 500 }, (_, k) => Math.abs(biasInSteps(k / 1000, deviation)));
	const ratio = largestQuantisationBias(deviation, 1) / Math.max(...biases);
	expect(Math.abs(ratio - 1)).toBeLessThan(deviation < 0.2 ? 0.09 : 0.004);
});

// Same book: noise of half a step or more leaves a variance of σ² + Δ²/12; at half a step the worst value of the signal
// is off by a tenth of Δ²/12, 2.4 % of the whole. Sample: 40 000 readings a case; false alarms 1e-4 a case.
test.each([
	[0, 0.5, 0.025],
	[0.25, 0.5, 0.025],
	[0.5, 0.5, 0.025],
	[0.2, 1, 0],
	[0.5, 2, 0]
])(
	'without dither: at %d steps noise of %d steps gets a variance of Δ²/12 more',
	(value, deviation, allowed) => {
		const [noise] = normals(`variance ${value} ${deviation}`, 40_000);
		const readings = Array.from(noise, (normal) => quantise(value + deviation * normal, 1));
		const mean = meanOf(readings);
		const squares = readings.map((reading) => (reading - mean) ** 2);
		const expected = deviation ** 2 + quantisationVariance(1);
		const spread = Math.sqrt(meanOf(squares.map((square) => (square - expected) ** 2)) / squares.length);
		expect(Math.abs(meanOf(squares) - expected)).toBeLessThan(FAR_OFF * spread + allowed * expected);
		expect(meanOf(squares) - deviation ** 2).toBeGreaterThan(0);
	}
);

const F = [169.5e6];
const terms = portErrorTerms(
	{
		directivity: { size: -20, delay: 0.4e-9 },
		sourceMatch: { size: -14, delay: 0.7e-9 },
		tracking: { size: -6, delay: 1.1e-9 }
	},
	F
);
const definitions = {
	open: { capacitance: 50e-15 },
	short: { inductance: 0.1e-9 },
	load: { resistance: 50, inductance: 0.2e-9 }
};

// A calibration solves its own readings exactly, whatever is wrong with them, so re-measured standards are right and only a
// part that was not used shows the rounding. Nothing is left to chance.
test('without noise or dither the standards come back exactly and another load does not', () => {
	const step = 0.01;
	const rounded = (raw: ComplexArray): ComplexArray => ({
		re: raw.re.map((value) => quantise(value, step)),
		im: raw.im.map((value) => quantise(value, step))
	});
	const [open, short, load] = (['open', 'short', 'load'] as const).map((name) => {
		const known = standardGamma(name, definitions, F);
		return { known, raw: rounded(rawFromGamma(terms, known)) };
	});
	const solved = solveThreeTerms([open, short, load], F);
	for (const { known } of [open, short, load]) {
		const read = gammaFromRaw(solved, rounded(rawFromGamma(terms, known)));
		expect(magnitude(subtract(at(read, 0), at(known, 0)))).toBeLessThan(1e-12);
	}
	const other = { re: Float64Array.of(0.31), im: Float64Array.of(-0.42) };
	const read = gammaFromRaw(solved, rounded(rawFromGamma(terms, other)));
	const error = magnitude(subtract(at(read, 0), at(other, 0)));
	expect(error).toBeGreaterThan(0.002);
	// at most step/√2 in each of the four readings, each times at most 1.2²/0.5 and 1, 0.9, 1, 1 for the polynomials
	expect(error).toBeLessThan((4 * (step / Math.SQRT2) * 1.44) / 0.5);
});

// m = (b + n_t)/(a + n_r) simulated as it stands. Sample: 20 000 readings, 40 000 degrees of freedom; false alarms 1e-4 a
// case. What is left out is of second order, 1e-6 of the variance.
test.each([
	[0, 0],
	[0.3, 0],
	[-0.6, 0.8],
	[1.2, 1.6]
])('noise of both receivers spreads a raw reading of %d + %dj as stated', (re, im) => {
	const [test, reference] = [8e-4, 5e-4];
	const count = 20_000;
	const [n0, n1, n2, n3] = normals(`reference ${re} ${im}`, count);
	const truth = complex(re, im);
	let sum = 0;
	for (let i = 0; i < count; i++) {
		const b = complex(re + test * n0[i], im + test * n1[i]);
		const a = complex(1 + reference * n2[i], reference * n3[i]);
		sum += magnitude(subtract(divide(b, a), truth)) ** 2;
	}
	const [low, high] = chiSquaredInterval(2 * count);
	const ratio = sum / (2 * count) / readingDeviation(test, reference, re, im) ** 2;
	expect(ratio).toBeGreaterThan(low);
	expect(ratio).toBeLessThan(high);
});

// A change of the leakage stays, σ/√N of the noise does not. Sample: 2000 points, 4000 degrees of freedom; false alarms
// 1e-4 for each N. The corrected reading is nearly linear in the noise, to 1e-3.
test.each([1, 16, 256])('%d averages leave the error of a changed leakage where it is', (averages) => {
	const points = 2000;
	const all = {
		directivity: everywhere(points, at(terms.directivity, 0)),
		sourceMatch: everywhere(points, at(terms.sourceMatch, 0)),
		tracking: everywhere(points, at(terms.tracking, 0))
	};
	const gamma = everywhere(points, complex(0.5, -0.3));
	const change = everywhere(points, at(leakage({ size: -50, delay: 2e-9 }, F), 0));
	const rows = sweepRows(points);
	loadRows(rows, withLeakage(rawFromGamma(all, gamma), change), all, null);
	const noise = { seed: 8, stream: streamOf(`leak ${averages}`), amplitudeDeviation: 0, phaseDeviation: 0 };
	const floorDeviation = 1e-3;
	for (let sweep = 0; sweep < averages; sweep++)
		takeSweep(rows, { ...noise, floorDeviation, sweep, kept: 1 });
	const read = means(rows, { sum: averages, squares: averages });
	// δ·(1 − e11Γ)²/(e10e01), and the noise by the same slope
	const stated = at(rawChangeError(all, gamma, change), 0);
	const slope = magnitude(stated) / magnitude(at(change, 0));
	let about = 0;
	for (let i = 0; i < points; i++) {
		about += magnitude(subtract(subtract(at(read, i), at(gamma, i)), stated)) ** 2;
	}
	const [low, high] = chiSquaredInterval(2 * points);
	const ratio = about / (2 * points) / ((floorDeviation * slope) ** 2 / averages);
	expect(ratio).toBeGreaterThan(low);
	expect(ratio).toBeLessThan(high);
	// with 256 averages the noise is a fiftieth of the error that stays
	if (averages === 256) expect(Math.sqrt(about / points)).toBeLessThan(magnitude(stated) / 25);
});

// White noise: σ/√M, correlation of neighbours 1 − lag/M (the shared part of two windows of independent terms). Sample:
// 4000 windows that do not overlap, 8000 degrees of freedom; false alarms 1e-4 for each figure. Correlation by Fisher's
// transformation (Biometrika 10, 1915), whose standard error is 1/√(n − 3).
test.each([2, 5, 20])('smoothing over %d points on either side quietens white noise by √M', (half) => {
	const window = 2 * half + 1;
	const lag = 1 + Math.floor(half / 2);
	const windows = 4000;
	const stride = window + lag;
	const points = windows * stride + window;
	const [re, im] = normals(`smoothing ${half}`, points);
	const out = smooth({ re, im }, half);
	const [here, there] = [0, lag].map((offset) =>
		[out.re, out.im].flatMap((part) =>
			Array.from({ length: windows }, (_, k) => part[half + k * stride + offset])
		)
	);
	const power = meanOf(here.map((value) => value * value));
	const [low, high] = chiSquaredInterval(2 * windows);
	expect(power * window).toBeGreaterThan(low);
	expect(power * window).toBeLessThan(high);

	const powerThere = meanOf(there.map((value) => value * value));
	const correlation = meanOf(here.map((value, k) => value * there[k])) / Math.sqrt(power * powerThere);
	const stated = smoothingCorrelation(half + 500, half + 500 + lag, points, half);
	expect(stated).toBeCloseTo(1 - lag / window, 12);
	const off = Math.abs(Math.atanh(correlation) - Math.atanh(stated));
	expect(off).toBeLessThan(FAR_OFF / Math.sqrt(2 * windows - 3));
});

// Rice 1945: mean and distribution of |Γ| as it is read, and E|Γ̂|² = |Γ|² + σ² with σ² the total of both quadratures.
// Sample: 40 000 readings a case; false alarms 4e-4 a case (1e-4 for each figure).
test.each([0, 0.5, 1, 2, 5])('noisy magnitudes about a centre of %d deviations follow Rice', (centre) => {
	const deviation = 0.02;
	const [n0, n1] = normals(`rice ${centre}`, 40_000);
	const sizes = Array.from(n0, (normal, i) => deviation * Math.hypot(centre + normal, n1[i]));
	expect(errorsFrom(sizes, riceMean(centre * deviation, deviation))).toBeLessThan(FAR_OFF);
	const total = 2 * deviation ** 2;
	const squares = sizes.map((size) => size * size);
	expect(errorsFrom(squares, (centre * deviation) ** 2 + total)).toBeLessThan(FAR_OFF);
	for (const limit of [centre + 0.5, centre + 1.5]) {
		const below = sizes.map((size) => (size <= limit * deviation ? 1 : 0));
		const probability = riceProbability(limit * deviation, centre * deviation, deviation);
		expect(errorsFrom(below, probability)).toBeLessThan(FAR_OFF);
	}
});

// The stated deviation of a drawn ripple, as the mean square over band and sources. Sample: 3000 sources of 5 coefficients;
// each coefficient over its own size is a standard normal, 15 000 degrees of freedom; false alarms 1e-4.
test('drawn ripples have the deviation they are drawn for', () => {
	const [sources, count, deviation] = [3000, 5, 0.4];
	const harmonic = [1, 1 / 4, 1 / 9, 1 / 16, 1 / 25].reduce((sum, part) => sum + part);
	let sum = 0;
	for (let seed = 0; seed < sources; seed++) {
		drawnRipples(seed, 'flatness', deviation, count).forEach((ripple, k) => {
			sum += (ripple * (k + 1)) ** 2 / ((deviation ** 2 * 2) / harmonic);
		});
	}
	const [low, high] = chiSquaredInterval(sources * count);
	expect(sum / (sources * count)).toBeGreaterThan(low);
	expect(sum / (sources * count)).toBeLessThan(high);
	// the mean square over the band is half the sum of the squares
	const ripplesDb = drawnRipples(7, 'flatness', deviation, count);
	const flatness = { lowest: 1e6, highest: 1e10, ripplesDb };
	const squares = Array.from(
		{ length: 4000 },
		(_, i) => rippleDb(flatness, 10 ** (6 + (i + 0.5) / 1000)) ** 2
	);
	const halved = ripplesDb.reduce((total, ripple) => total + ripple ** 2 / 2, 0);
	expect(meanOf(squares) / halved).toBeCloseTo(1, 9);
});
