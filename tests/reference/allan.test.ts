import { expect, test } from 'vitest';
import { allanDeviation, allanFreedom, allanVariance } from '#lib/numeric/allan.ts';
import type { AllanNoise } from '#lib/numeric/allan.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { fillNormals, streamOf } from '#lib/numeric/random.ts';
import { RandomWalk } from '#lib/numeric/random-walk.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { TermDrift } from '#lib/reflectometer/drift.ts';
import { chiSquaredInterval } from './chi-squared.ts';

// Riley, *Handbook of Frequency Stability Analysis*, NIST Special Publication 1065, 2008, section on test suites: nine
// readings first given in NBS Monograph 140, and a thousand made by a congruential generator (values from memory).
const NINE = Float64Array.of(892, 809, 823, 798, 671, 644, 883, 903, 677);

function thousand(): Reals {
	const out = new Float64Array(1000);
	let word = 1234567890n;
	for (let i = 0; i < out.length; i++) {
		out[i] = Number(word) / 2147483647;
		word = (16807n * word) % 2147483647n;
	}
	return out;
}

test.each([
	[1, 91.22945],
	[2, 85.95287]
])('published overlapping Allan deviation of nine readings, factor %d: %d', (factor, published) => {
	expect(Math.abs(allanDeviation(NINE, factor) - published)).toBeLessThan(5e-6);
});

test.each([
	[1, 2.922319e-1],
	[10, 9.159953e-2],
	[100, 3.241343e-2]
])('published overlapping Allan deviation of a thousand readings, factor %d: %d', (factor, published) => {
	expect(Math.abs(allanDeviation(thousand(), factor) / published - 1)).toBeLessThan(2e-7);
});

const RECORDS = 1000;
const LENGTH = 64;
const FACTORS = [1, 2, 4, 8, 16, 32];

/** White complex readings, each quadrature of variance 1, a record a sweep of the stream. */
function whiteRecords(): ComplexArray[] {
	return Array.from({ length: RECORDS }, (_, record) => {
		const rows = [0, 1, 2, 3].map(() => new Float64Array(LENGTH));
		fillNormals(rows[0], rows[1], rows[2], rows[3], 0, LENGTH, record, streamOf('white'), 31);
		return { re: rows[0], im: rows[1] };
	});
}

/** A walk sampled every 2 s, each quadrature with steps of variance 2, cut into records. */
function walkRecords(): ComplexArray[] {
	const walk = new RandomWalk(31, streamOf('sampled walk'));
	return Array.from({ length: RECORDS }, (_, record) => {
		const [re, im] = [new Float64Array(LENGTH), new Float64Array(LENGTH)];
		for (let i = 0; i < LENGTH; i++) {
			walk.moveTo(2 * (record * LENGTH + i));
			re[i] = walk.re;
			im[i] = walk.im;
		}
		return { re, im };
	});
}

const mean = (values: readonly number[]): number =>
	values.reduce((sum, value) => sum + value, 0) / values.length;

/**
 * The mean of the records' estimates over `expected`, within the interval of χ² that leaves a sound sample out with the
 * probability 1e-4. Every quadrature of every record has `allanFreedom` degrees; records are independent.
 */
function expectVariance(
	records: readonly ComplexArray[],
	factor: number,
	noise: AllanNoise,
	expected: number
) {
	const [low, high] = chiSquaredInterval(2 * RECORDS * allanFreedom(LENGTH, factor, noise));
	const ratio = mean(records.map((record) => allanVariance(record, factor))) / expected;
	expect(ratio).toBeGreaterThan(low);
	expect(ratio).toBeLessThan(high);
}

// σ²/m: slope −1/2. Sample: 1000 records of 64 complex readings, 2000 to 85 000 degrees of freedom; false alarms 1e-4 a
// factor.
const white = whiteRecords();
test.each(FACTORS)('white noise, factor %d: half the variance for twice the readings', (factor) => {
	expectVariance(white, factor, 'white', 2 / factor);
});

// Of means of m readings of a walk with steps of variance s² the change has weights 1, 2 … m … 2, 1 over m for the 2m − 1
// steps between, squares adding up to (2m² + 1)/(3m): Allan variance s²·(2m² + 1)/(6m). Sample and false alarms as above.
const walks = walkRecords();
test.each(FACTORS)('random walk, factor %d: (2m² + 1)/(6m) of the variance of a step', (factor) => {
	expectVariance(walks, factor, 'walk', (4 * (2 * factor ** 2 + 1)) / (6 * factor));
});

// σ²/m + s²·(2m² + 1)/(6m) is least near m = √3·σ/s, here 8. Sample: 1000 records; the law is a quarter higher at 4 and
// at 16, more than eight standard errors of the estimates.
test('white noise on a walk: averaging stops paying at √3·σ/s readings', () => {
	const size = (8 * Math.SQRT2) / Math.sqrt(3);
	const both = white.map((record, k) => ({
		re: record.re.map((value, i) => size * value + walks[k].re[i]),
		im: record.im.map((value, i) => size * value + walks[k].im[i])
	}));
	const variances = FACTORS.map((factor) => mean(both.map((record) => allanVariance(record, factor))));
	expect(FACTORS[variances.indexOf(Math.min(...variances))]).toBe(8);
});

// Slope of the law, d log(deviation)/d log(m): 2m²/(2m² + 1) − 1/2. Sample: 1000 records, at least 2000 degrees of freedom,
// so that log2 of two deviations has a standard error of at most 0.033; false alarms 1e-4 a factor.
test('a walk has slope +1/2 from about eight readings on', () => {
	const slope = (m: number) => (2 * m * m) / (2 * m * m + 1) - 0.5;
	expect(slope(1)).toBeCloseTo(1 / 6, 12);
	expect(slope(8)).toBeGreaterThan(0.49);
	const deviation = (factor: number) => Math.sqrt(mean(walks.map((record) => allanVariance(record, factor))));
	for (const factor of [8, 16]) {
		const found = Math.log2(deviation(2 * factor) / deviation(factor));
		expect(Math.abs(found - (slope(factor) + slope(2 * factor)) / 2)).toBeLessThan(0.128);
	}
});

test.each(FACTORS)('linear drift, factor %d: rate·τ/√2, slope +1', (factor) => {
	// the definition: neighbouring means differ by rate·τ
	const spacing = 0.2;
	const rate = 3e-4;
	const readings = Float64Array.from({ length: LENGTH }, (_, i) => 0.8 + rate * spacing * i);
	expect(allanDeviation(readings, factor) / ((rate * factor * spacing) / Math.SQRT2)).toBeCloseTo(1, 10);
});

// A geometric series: the means of neighbouring m readings of q^i differ by q^j·(1 − q^m)²/(m·(1 − q)).
test.each(FACTORS)(
	'warm-up, factor %d: the sum of its geometric series; slope +1 while it is young',
	(factor) => {
		const [spacing, timeConstant] = [10, 900];
		const drift = new TermDrift({ warmUp: 0.01, timeConstant, walk: 0 }, 5, 'tracking');
		const [re, im] = [new Float64Array(LENGTH), new Float64Array(LENGTH)];
		for (let i = 0; i < LENGTH; i++) {
			drift.moveTo(i * spacing);
			re[i] = drift.re;
			im[i] = drift.im;
		}
		const q = Math.exp(-spacing / timeConstant);
		const pairs = LENGTH - 2 * factor + 1;
		const squares = (1 - q ** (2 * pairs)) / (1 - q * q) / pairs;
		const expected = 0.01 * ((1 - q ** factor) ** 2 / (factor * (1 - q))) * Math.sqrt(squares / 2);
		expect(allanDeviation({ re, im }, factor) / expected).toBeCloseTo(1, 9);
		// the first 2m readings rise by nearly 0.01/timeConstant a second
		const young = allanDeviation({ re: re.slice(0, 2 * factor), im: im.slice(0, 2 * factor) }, factor);
		const straight = (0.01 / timeConstant) * factor * spacing * Math.SQRT1_2;
		const slower = young / straight;
		expect(slower).toBeLessThan(1);
		expect(slower).toBeGreaterThan(1 - (factor * spacing) / timeConstant);
	}
);

/** Howe, Allan & Barnes, Proc. 35th Annual Frequency Control Symposium, 1981 (memory): n phases are n − 1 readings. */
const published: Record<AllanNoise, (n: number, m: number) => number> = {
	white: (n, m) => (((3 * (n - 1)) / (2 * m) - (2 * (n - 2)) / n) * 4 * m * m) / (4 * m * m + 5),
	walk: (n, m) => (((n - 2) / m) * ((n - 1) ** 2 - 3 * m * (n - 1) + 4 * m * m)) / (n - 3) ** 2
};

// Their formulas are fits: of white noise good to 2 %, of a walk to 13 %.
test.each([
	['white', 0.02],
	['walk', 0.13]
] as const)('degrees of freedom of %s noise are the published ones within %d', (noise, allowed) => {
	for (const factor of [1, 2, 4, 16, 64, 256]) {
		const ratio = allanFreedom(1024, factor, noise) / published[noise](1025, factor);
		expect(Math.abs(ratio - 1)).toBeLessThan(allowed);
	}
});

// Variance of the estimates: 2·mean²/freedom. Sample: 2000 quadratures; the standard error is taken from the sample, and
// the limit is 4.5 of them because squares are skewed: false alarms below 1e-4 each.
test.each([
	['white', 1],
	['white', 2],
	['white', 4],
	['walk', 1],
	['walk', 2],
	['walk', 4]
] as const)('estimates of %s noise, factor %d, scatter by their degrees of freedom', (noise, factor) => {
	const records = noise === 'white' ? white : walks;
	const expected = noise === 'white' ? 1 / factor : (2 * (2 * factor ** 2 + 1)) / (6 * factor);
	const squares = records
		.flatMap(({ re, im }) => [re, im])
		.map((readings) => (allanVariance(readings, factor) / expected - 1) ** 2);
	const average = mean(squares);
	const error = Math.sqrt(mean(squares.map((square) => (square - average) ** 2)) / squares.length);
	expect(Math.abs(average - 2 / allanFreedom(LENGTH, factor, noise)) / error).toBeLessThan(4.5);
});
