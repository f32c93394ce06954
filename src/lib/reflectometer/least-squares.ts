import { at, complexArray, magnitude, put, subtract } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import type { MeasuredStandard } from './calibration.ts';
import type { ErrorTerms } from './error-terms.ts';
import { faults } from './faults.ts';
import { fitReadings } from './reading-fit.ts';
import type { Reading } from './reading-fit.ts';
import type { Scatter } from './scatter.ts';

/** A measured standard with the scatter predicted for its reading. */
export interface NoisyStandard extends MeasuredStandard {
	readonly scatter: Scatter;
}

/** What the readings of three or more standards say, a frequency an element. */
export interface FittedTerms {
	readonly terms: ErrorTerms;
	/** For each standard, its reading less what the terms make of its known reflection. */
	readonly residuals: readonly ComplexArray[];
	/**
	 * 2·Σ|residual|²/variance: if the predicted variances hold and the definitions are right, χ² with 2(n − 3) degrees of
	 * freedom for n standards and circular noise. Zero but for rounding with three, which are always explained.
	 */
	readonly chiSquared: Reals;
	/** How far errors may be magnified, 3 at best; see `conditionOf`. It grows as the standards become alike. */
	readonly condition: Reals;
}

/** Reflections closer than this count as the same standard, as in `solveThreeTerms`. */
const ALIKE = 1e-6;

/**
 * The error terms that explain the readings of three or more standards best: the sum of |residual|²/variance over the
 * standards is smallest, each reading counting by its own predicted variance. `frequencies` in Hz are for the messages.
 *
 * The answer of three standards is that of `solveThreeTerms`, whatever the variances. Standards of the same reflection
 * are welcome as long as three different ones remain. How it is found: `fitReadings`.
 *
 * Throws `calibration-standards-few`, `calibration-readings-few`, `calibration-variance` or `calibration-no-fit`.
 */
export function fitTerms(standards: readonly NoisyStandard[], frequencies: ArrayLike<number>): FittedTerms {
	const length = frequencies.length;
	const terms = {
		directivity: complexArray(length),
		sourceMatch: complexArray(length),
		tracking: complexArray(length)
	};
	const residuals = standards.map(() => complexArray(length));
	const chiSquared = new Float64Array(length);
	const condition = new Float64Array(length);
	for (let i = 0; i < length; i++) {
		const readings = standards.map(({ known, raw, scatter }) => ({
			known: at(known, i),
			raw: at(raw, i),
			variance: scatter.variance[i]
		}));
		check(readings, frequencies[i]);
		const fit = fitReadings(readings);
		const size = magnitude(fit.tracking);
		if (!(size > 0 && size < Infinity && magnitude(fit.sourceMatch) < Infinity)) {
			throw faults['calibration-no-fit']({ frequency: frequencies[i], count: standards.length });
		}
		put(terms.directivity, i, fit.directivity);
		put(terms.sourceMatch, i, fit.sourceMatch);
		put(terms.tracking, i, fit.tracking);
		condition[i] = fit.condition;
		readings.forEach(({ variance }, k) => {
			const { re, im } = fit.residuals[k];
			put(residuals[k], i, fit.residuals[k]);
			chiSquared[i] += (2 * (re * re + im * im)) / variance;
		});
	}
	return { terms, residuals, chiSquared, condition };
}

/** How many of the numbers are farther from one another than `distance`. */
function different(numbers: readonly Complex[], distance: number): number {
	const found: Complex[] = [];
	for (const number of numbers) {
		if (found.every((other) => !(magnitude(subtract(number, other)) <= distance))) found.push(number);
	}
	return found.length;
}

function check(readings: readonly Reading[], frequency: number): void {
	const count = readings.length;
	const known = different(
		readings.map((reading) => reading.known),
		ALIKE
	);
	if (known < 3) throw faults['calibration-standards-few']({ frequency, count, different: known });
	const raw = different(
		readings.map((reading) => reading.raw),
		0
	);
	if (raw < 3) throw faults['calibration-readings-few']({ frequency, count, different: raw });
	readings.forEach(({ variance }, k) => {
		if (!(variance > 0 && variance < Infinity))
			throw faults['calibration-variance']({ frequency, number: k + 1, variance });
	});
}
