import { at, complexArray, put, subtract } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { CHI_SQUARED_95, ellipse } from '#lib/numeric/statistics.ts';
import type { Covariance } from '#lib/numeric/statistics.ts';
import { frozenScatter, readingSensitivity } from './calibration-influence.ts';
import type { PlannedStandard } from './calibration-influence.ts';
import type { ErrorTerms } from './error-terms.ts';
import { addScatter, covarianceOf } from './scatter.ts';
import type { Scatter } from './scatter.ts';

/** What measuring a known part again has shown, a frequency an element. */
export interface Verification {
	/** Found less expected. */
	readonly difference: ComplexArray;
	/** Predicted: the difference stays within it 95 times in 100 (of an elongated region, its longer half axis). */
	readonly radius: Reals;
	/** Whether the difference lies within the predicted 95 % region. */
	readonly within: readonly boolean[];
	/**
	 * How likely the prediction makes a difference as large as this or larger, over all the frequencies together. One
	 * frequency in twenty lies outside its own region by chance alone.
	 */
	readonly chance: number;
	/** Whether that chance is at least 5 %. */
	readonly agrees: boolean;
}

/** Differences that rounding alone may leave in a corrected reflection. */
const ROUNDING = 1e-12;

/**
 * Compares what was found of a known part with what was expected, `scatter` being that predicted for the difference,
 * independent from frequency to frequency (see `differenceScatter`).
 *
 * What it tests depends on the part. One that the calibration did not use tests everything: definitions, drift,
 * connections. A standard that the calibration did use, measured again under the same conditions, tests only whether
 * readings repeat: a wrong definition of it never shows, and with more than three standards only in part (`ownShare`).
 */
export function verify(expected: ComplexArray, found: ComplexArray, scatter: Scatter): Verification {
	const length = expected.re.length;
	const difference = complexArray(length);
	const radius = new Float64Array(length);
	const within: boolean[] = [];
	let sum = 0;
	for (let i = 0; i < length; i++) {
		put(difference, i, subtract(at(found, i), at(expected, i)));
		const covariance = covarianceOf(scatter, i);
		radius[i] = ellipse(covariance, CHI_SQUARED_95).semiMajor;
		const distance = squaredDistance(difference.re[i], difference.im[i], covariance);
		within.push(distance <= CHI_SQUARED_95);
		sum += distance;
	}
	const chance = chanceOf(sum, length);
	return { difference, radius, within, chance, agrees: chance >= 0.05 };
}

/** xᵀ·C⁻¹·x, also for a C that has no width in one direction or in any. */
function squaredDistance(re: number, im: number, covariance: Covariance): number {
	const { semiMajor, semiMinor, angle } = ellipse(covariance, 1);
	const along = re * Math.cos(angle) + im * Math.sin(angle);
	const across = im * Math.cos(angle) - re * Math.sin(angle);
	return (along / Math.max(semiMajor, ROUNDING)) ** 2 + (across / Math.max(semiMinor, ROUNDING)) ** 2;
}

/**
 * The probability that χ² with 2·`pairs` degrees of freedom exceeds `sum`. For an even number it is the Poisson sum
 * e^(−x)·Σ x^j/j! over j below `pairs`, x = sum/2 (Abramowitz & Stegun, 1964, eq. 26.4.21).
 */
function chanceOf(sum: number, pairs: number): number {
	const x = sum / 2;
	if (x === 0 || x === Infinity) return x === 0 ? 1 : 0;
	let logarithm = -x;
	let chance = 0;
	for (let j = 0; j < pairs; j++) {
		if (j > 0) logarithm += Math.log(x / j);
		chance += Math.exp(logarithm);
	}
	return Math.min(1, chance);
}

/**
 * The scatter predicted for found less expected of a part of reflection `gamma`: that of its raw reading, `reading`, as
 * the correction passes it on, and that of the calibration readings frozen into the terms.
 */
export function differenceScatter(
	terms: ErrorTerms,
	standards: readonly PlannedStandard[],
	gamma: ComplexArray,
	reading: Scatter
): Scatter {
	const sum = frozenScatter(terms, standards, gamma);
	addScatter(sum, reading, readingSensitivity(terms, gamma));
	return sum;
}
