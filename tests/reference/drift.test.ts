import { expect, test } from 'vitest';
import { RandomWalk, randomWalk, WALK_STEP } from '#lib/numeric/random-walk.ts';
import { streamOf } from '#lib/numeric/random.ts';
import { driftAt, TermDrift, walkDeviation } from '#lib/reflectometer/drift.ts';
import { chiSquaredInterval } from './chi-squared.ts';

/**
 * The law of Brownian motion (Lévy, *Processus stochastiques et mouvement brownien*, 1948): increments over intervals that
 * do not overlap are independent and normal with the variance of their length. Seeds are fixed; every comparison has a
 * false-alarm probability of 1e-4.
 */
const SEED = 7;
/** Standard errors that a sound sample exceeds on one of the two sides with the probability 1e-4. */
const FAR_OFF = 3.8906;

/** How many standard errors the correlation of independent numbers, of mean 0 and known variances, lies from 0. */
function correlation(first: readonly number[], second: readonly number[], variance: number): number {
	const sum = first.reduce((total, value, i) => total + value * second[i], 0);
	return Math.abs(sum) / (variance * Math.sqrt(first.length));
}

/** Whether squares of `values` fit the variance. */
function expectVariance(values: readonly number[], variance: number): void {
	const [low, high] = chiSquaredInterval(values.length);
	const ratio = values.reduce((sum, value) => sum + value * value, 0) / values.length / variance;
	expect(ratio).toBeGreaterThan(low);
	expect(ratio).toBeLessThan(high);
}

interface Increments {
	readonly re: number[];
	readonly im: number[];
}

/** Increments of both walks from each time to the next. */
function incrementsOf(walk: RandomWalk, times: readonly number[]): Increments {
	const out: Increments = { re: [], im: [] };
	times.forEach((time, i) => {
		const [re, im] = [walk.re, walk.im];
		walk.moveTo(time);
		if (i === 0) return;
		out.re.push(walk.re - re);
		out.im.push(walk.im - im);
	});
	return out;
}

// Sample: 2000 increments of each of two walks at each scale, one after another from an odd time on; limits of a
// variance are 8.7 %.
test.each([WALK_STEP, 3 * WALK_STEP, 0.125, 1, 60, 3600.5, 86_400, 1e6])(
	'steps of %d s have that variance and are independent of the next, of later ones and of the other walk',
	(length) => {
		const begin = Math.floor((777 * length) / WALK_STEP) * WALK_STEP;
		const times = Array.from({ length: 2001 }, (_, i) => begin + i * length);
		const { re, im } = incrementsOf(new RandomWalk(SEED, streamOf(`steps of ${length}`)), times);
		expectVariance([...re, ...im], length);
		for (const lag of [1, 2, 3, 4, 8, 64]) {
			expect(correlation(re.slice(lag), re.slice(0, -lag), length)).toBeLessThan(FAR_OFF);
		}
		expect(correlation(re, im, length)).toBeLessThan(FAR_OFF);
		expect(correlation(re.slice(1), im.slice(0, -1), length)).toBeLessThan(FAR_OFF);
	}
);

// Each walk at times that lie seconds to decades apart, on both sides of where large intervals are halved. Sample: 2000
// walks; limits of a variance 8.7 % for each increment (4000 numbers), correlations of all 66 pairs of increments.
test('over many walks: increments of every length at once, across the places where intervals meet', () => {
	const halves = [2 ** 20, 2 ** 27, 2 ** 31];
	const around = halves.flatMap((half) => [half - 8, half - WALK_STEP, half + WALK_STEP, half + 60]);
	const times = [0, ...around];
	const all = Array.from({ length: 2000 }, (_, seed) => incrementsOf(walkFromZero(seed), times));
	const lengths = times.slice(1).map((time, i) => time - times[i]);
	const unit = lengths.map((length, k) =>
		all.map(({ re, im }) => ({ re: re[k] / Math.sqrt(length), im: im[k] / Math.sqrt(length) }))
	);
	unit.forEach((here, k) => {
		expectVariance(
			here.flatMap(({ re, im }) => [re, im]),
			1
		);
		for (const other of unit.slice(k + 1)) {
			const correlated = correlation(
				here.map(({ re }) => re),
				other.map(({ re }) => re),
				1
			);
			expect(correlated).toBeLessThan(FAR_OFF);
		}
	});
});

function walkFromZero(seed: number): RandomWalk {
	const walk = new RandomWalk(seed, streamOf('many walks'));
	walk.moveTo(0);
	return walk;
}

// Moments of the normal law: fourth 3, variance of the fourth power 96. Sample: 100 000 steps.
test('steps are normal: no skew, a fourth moment of 3', () => {
	const times = Array.from({ length: 50_001 }, (_, i) => i);
	const { re, im } = incrementsOf(new RandomWalk(SEED, streamOf('normal')), times);
	const steps = [...re, ...im];
	const moment = (power: number) => steps.reduce((sum, x) => sum + x ** power, 0) / steps.length;
	expect(Math.abs(moment(3)) / Math.sqrt(15 / steps.length)).toBeLessThan(FAR_OFF);
	expect(Math.abs(moment(4) - 3) / Math.sqrt(96 / steps.length)).toBeLessThan(FAR_OFF);
});

// Sample: 2000 steps of a minute of each stream and seed.
test('two streams are independent, two seeds too', () => {
	const steps = (seed: number, stream: number) => {
		const values = Array.from({ length: 2001 }, (_, i) => randomWalk(seed, stream, 60 * i));
		return values.slice(1).map((value, i) => value - values[i]);
	};
	const stream = streamOf('directivity');
	const first = steps(SEED, stream);
	for (const [seed, other] of [
		[SEED, streamOf('tracking')],
		[SEED, stream + 1],
		[SEED + 1, stream]
	]) {
		expect(correlation(first, steps(seed, other), 60)).toBeLessThan(FAR_OFF);
	}
});

// What a data sheet states: a deviation an hour, growing with the root of time. Sample: 1000 instruments, 2000 numbers;
// limits of a variance are 12.3 %.
test.each([
	[0, 3600, 1],
	[3600, 3 * 3600, Math.SQRT2],
	[1e6, 1e6 + 36, 0.1],
	[0, 100 * 3600, 10]
])(
	'between %d s and %d s the drift of a term changes by %d times its size of an hour',
	(from, to, factor) => {
		const size = { warmUp: 0, timeConstant: 1, walk: 2e-3 };
		const changes = Array.from({ length: 1000 }, (_, seed) => {
			const drift = new TermDrift(size, seed, 'directivity');
			drift.moveTo(from);
			const [re, im] = [drift.re, drift.im];
			drift.moveTo(to);
			return [drift.re - re, drift.im - im];
		}).flat();
		expectVariance(changes, (2e-3 * factor) ** 2);
		expect(walkDeviation(size, from, to)).toBeCloseTo(2e-3 * factor, 15);
	}
);

// Rayleigh's test of directions: 2·|Σ|²/n is χ² with two degrees of freedom, above 18.42 with the probability 1e-4; the
// doubled angles are tested as well. Sample: 2000 instruments.
test('warm-ups of many instruments point everywhere', () => {
	const size = { warmUp: 1, timeConstant: 1000, walk: 0 };
	const angles = Array.from({ length: 2000 }, (_, seed) => {
		const { re, im } = driftAt(size, seed, 'source match', 0);
		return Math.atan2(im, re);
	});
	for (const times of [1, 2]) {
		const cosines = angles.reduce((sum, angle) => sum + Math.cos(times * angle), 0);
		const sines = angles.reduce((sum, angle) => sum + Math.sin(times * angle), 0);
		expect((2 * (cosines ** 2 + sines ** 2)) / angles.length).toBeLessThan(18.42);
	}
});
