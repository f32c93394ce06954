import {
	at,
	complexArray,
	divide,
	multiply,
	negate,
	ONE,
	put,
	subtract,
	scale,
	add,
	conjugate,
	ZERO
} from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { orthogonalFactors } from '#lib/numeric/orthogonal.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import type { ErrorTerms } from './error-terms.ts';
import type { NoisyStandard } from './least-squares.ts';
import { addScatter, noScatter } from './scatter.ts';
import type { Scatter } from './scatter.ts';

/** What is needed of a standard to foretell its influence: no reading. */
export type PlannedStandard = Omit<NoisyStandard, 'raw'>;

/** 1 − e11·Γ at frequency i, squared. */
function tripsSquared(terms: ErrorTerms, i: number, gamma: Complex): Complex {
	const trips = subtract(ONE, multiply(at(terms.sourceMatch, i), gamma));
	return multiply(trips, trips);
}

/**
 * How much of an error of each standard reaches a corrected reflection `gamma`, to first order: with a standard
 * declared δ away from what it is, a corrected Γ is wrong by influence·δ. An array for each standard, a frequency an
 * element; `standards` are those given to `fitTerms`, three or more.
 *
 * A small change of the terms is a Möbius map close to unity and moves Γ by a quadratic polynomial in Γ. The fit of
 * `fitTerms` chooses the polynomial that passes the errors of the standards with the least weighted sum of squares,
 * weights |1 − e11·Γ_k|⁻⁴/variance_k; what it makes of a unit error at standard k is the influence of k. For three
 * standards it is the Lagrange polynomial of k, whatever the variances: ideal open, short and load Γ(Γ + 1)/2,
 * Γ(Γ − 1)/2 and 1 − Γ². For more, twice the same standard shares its influence.
 */
export function influences(
	terms: ErrorTerms,
	standards: readonly PlannedStandard[],
	gamma: ComplexArray
): ComplexArray[] {
	const out = standards.map(() => complexArray(gamma.re.length));
	for (let i = 0; i < gamma.re.length; i++) {
		const known = standards.map((standard) => at(standard.known, i));
		const squares = known.map((here) => tripsSquared(terms, i, here));
		const roots = standards.map(
			({ scatter }, k) => 1 / (Math.sqrt(scatter.variance[i]) * Math.hypot(squares[k].re, squares[k].im))
		);
		const largest = Math.max(...roots);
		const ones = roots.map((root) => scale(ONE, root / largest));
		const lines = ones.map((value, k) => multiply(value, known[k]));
		const parabolas = lines.map((value, k) => multiply(value, known[k]));
		const { q, inverse } = orthogonalFactors([ones, lines, parabolas]);
		const here = at(gamma, i);
		const powers = [ONE, here, multiply(here, here)];
		// (1, Γ, Γ²)·R⁻¹
		const shares = q.map((_, j) =>
			powers.reduce((sum, power, row) => add(sum, multiply(power, inverse[row][j])), ZERO)
		);
		standards.forEach((_, k) => {
			const share = shares.reduce((sum, s, j) => add(sum, multiply(s, conjugate(q[j][k]))), ZERO);
			put(out[k], i, scale(share, ones[k].re));
		});
	}
	return out;
}

/**
 * How far a corrected reflection `gamma` moves per unit of error in the raw reading of each standard, to first order:
 * −(1 − e11·Γ_k)²/(e10e01)·influence_k(Γ). `calibrationSensitivity` says the same of three standards.
 */
export function sensitivities(
	terms: ErrorTerms,
	standards: readonly PlannedStandard[],
	gamma: ComplexArray
): ComplexArray[] {
	const out = influences(terms, standards, gamma);
	out.forEach((influence, k) => {
		for (let i = 0; i < gamma.re.length; i++) {
			const square = tripsSquared(terms, i, at(standards[k].known, i));
			const atStandard = negate(divide(square, at(terms.tracking, i)));
			put(influence, i, multiply(atStandard, at(influence, i)));
		}
	});
	return out;
}

/**
 * The scatter predicted for a corrected reflection `gamma` from the noise of the calibration readings alone, over many
 * calibrations. Within one calibration it is an error that stays, however much later readings are averaged.
 */
export function frozenScatter(
	terms: ErrorTerms,
	standards: readonly PlannedStandard[],
	gamma: ComplexArray
): Scatter {
	const sum = noScatter(gamma.re.length);
	const factors = sensitivities(terms, standards, gamma);
	standards.forEach(({ scatter }, k) => addScatter(sum, scatter, factors[k]));
	return sum;
}

/** dΓ/dm of a corrected reading near the reflection `gamma`: (1 − e11·Γ)²/(e10e01), a frequency an element. */
export function readingSensitivity(terms: ErrorTerms, gamma: ComplexArray): ComplexArray {
	const out = complexArray(gamma.re.length);
	for (let i = 0; i < gamma.re.length; i++) {
		put(out, i, divide(tripsSquared(terms, i, at(gamma, i)), at(terms.tracking, i)));
	}
	return out;
}

/**
 * The share, 0 to 1, that the reading of standard k (counted from 0) has in what the calibration makes of that standard:
 * its influence at its own reflection. With three standards it is 1: such a standard, measured again, shows what was
 * read of it before and nothing else. All the shares add up to 3.
 */
export const ownShare = (terms: ErrorTerms, standards: readonly PlannedStandard[], k: number): Reals =>
	influences(terms, standards, standards[k].known)[k].re;
