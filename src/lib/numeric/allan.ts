import type { ComplexArray } from './complex.ts';
import type { Reals } from './reals.ts';

/**
 * How much the mean over a time τ changes from one τ to the next: the Allan deviation, the root of half the mean square
 * of that change (IEEE Std 1139). Where it stops falling with τ, averaging stops paying. Readings are evenly spaced
 * and real or complex, the latter with both quadratures together. The factor m, from 1 up, is the whole number of readings
 * in a mean, and τ is m times their spacing. What is constant in the readings does not count.
 */

/**
 * Allan variance for the factor m, by all the pairs of neighbouring means there are in the readings (the overlapping
 * estimator of IEEE Std 1139): Σ(mean of readings j + m … j + 2m − 1 less mean of j … j + m − 1)²/2 over
 * M = N − 2m + 1 pairs. NaN without a single pair, which takes 2m readings.
 *
 * Of white noise of variance σ² (complex: the total) it is σ²/m; of a walk sampled once a reading, with steps of
 * variance s², it is s²·(2m² + 1)/(6m); of readings that rise by r a reading it is (r·m)²/2.
 */
export function allanVariance(readings: Reals | ComplexArray, factor: number): number {
	const parts = 're' in readings ? [readings.re, readings.im] : [readings];
	return parts.reduce((sum, part) => sum + realVariance(part, factor), 0);
}

/** Root of `allanVariance`, in the unit of the readings. */
export const allanDeviation = (readings: Reals | ComplexArray, factor: number): number =>
	Math.sqrt(allanVariance(readings, factor));

function realVariance(readings: Reals, m: number): number {
	const pairs = readings.length - 2 * m + 1;
	if (pairs < 1) return NaN;
	// Sum of the second m readings less sum of the first m, moved on by a reading at a time. It is made of differences of
	// readings, so that rounding goes by what they differ and not by how large they are.
	let difference = 0;
	for (let i = 0; i < m; i++) difference += readings[m + i] - readings[i];
	let squares = difference * difference;
	for (let j = 0; j < pairs - 1; j++) {
		const middle = readings[j + m];
		difference += readings[j + 2 * m] - middle - (middle - readings[j]);
		squares += difference * difference;
	}
	return squares / pairs / (2 * m * m);
}

/** Kinds of noise whose Allan variance is estimated with a known certainty: white noise, and a random walk of readings. */
export type AllanNoise = 'white' | 'walk';

/**
 * Equivalent degrees of freedom of `allanVariance` of `count` real readings of normal noise: 2·mean²/variance of the
 * estimate, which is distributed nearly as χ² with as many degrees. The M changes have the correlation ρ_k at a lag of k
 * readings, and a mean of their squares has M/(1 + 2Σ(1 − k/M)·ρ_k²) degrees (Isserlis, Biometrika 12, 1918: the fourth
 * moments of normal numbers). Circular complex readings have twice as many. NaN without a pair.
 */
export function allanFreedom(count: number, factor: number, noise: AllanNoise = 'white'): number {
	const pairs = count - 2 * factor + 1;
	if (pairs < 1) return NaN;
	const covariance = noise === 'white' ? whiteCovariance : walkCovariance;
	const variance = covariance(0, factor);
	let sum = 1;
	for (let k = 1; k < Math.min(2 * factor, pairs); k++) {
		const correlation = covariance(k, factor) / variance;
		sum += 2 * (1 - k / pairs) * correlation * correlation;
	}
	return pairs / sum;
}

/** Σw_i·w_(i+k) of the weights w that a change gives to the readings: m times −1, then m times +1. */
const whiteCovariance = (k: number, m: number): number => (k < m ? 2 * m - 3 * k : k - 2 * m);

/** The same of the weights it gives to the steps of a walk, 1, 2 … m … 2, 1: four sums of m terms, one after another. */
const walkCovariance = (k: number, m: number): number => threeOf(2 * m + 1 - k) - 4 * threeOf(m + 1 - k);

/** Ways to choose three of n; 0 below three. */
const threeOf = (n: number): number => (n < 3 ? 0 : (n * (n - 1) * (n - 2)) / 6);

/** A point of the curve: averaging time in s, Allan deviation, and one standard deviation of chance in it. */
export interface AllanPoint {
	readonly time: number;
	readonly deviation: number;
	readonly uncertainty: number;
}

/**
 * Allan deviation of readings `spacing` seconds apart, for the factors 1, 2, 4 … as far as half the readings go. The
 * uncertainty is deviation/√(2·freedom), to first order; it takes the freedom of white noise, and of
 * complex readings twice that. At the long end, where a walk is seen, a walk has six tenths of that freedom, and the last
 * point or two say little of either.
 */
export function allanCurve(readings: Reals | ComplexArray, spacing: number): AllanPoint[] {
	const [count, parts] = 're' in readings ? [readings.re.length, 2] : [readings.length, 1];
	const curve: AllanPoint[] = [];
	for (let factor = 1; 2 * factor <= count; factor *= 2) {
		const deviation = allanDeviation(readings, factor);
		const freedom = parts * allanFreedom(count, factor);
		curve.push({ time: factor * spacing, deviation, uncertainty: deviation / Math.sqrt(2 * freedom) });
	}
	return curve;
}
