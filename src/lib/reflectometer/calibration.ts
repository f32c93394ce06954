import {
	add,
	at,
	complexArray,
	divide,
	magnitude,
	multiply,
	negate,
	ONE,
	put,
	subtract
} from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import type { ErrorTerms } from './error-terms.ts';
import { faults } from './faults.ts';

/** A standard as a calibration sees it: the reflection it is known to have, and the raw reading of it. */
export interface MeasuredStandard {
	readonly known: ComplexArray;
	readonly raw: ComplexArray;
}

type Three<T> = readonly [T, T, T];

/** Reflections closer than this are the same standard; even 1 fF on an open at 10 MHz moves it farther. */
const ALIKE = 1e-6;
const ORDINALS = ['first', 'second', 'third'];
const PAIRS = [
	[0, 1],
	[0, 2],
	[1, 2]
];

/**
 * The error terms that explain the readings of three standards exactly, a frequency an element; `frequencies` in Hz
 * are for the messages. The model is linear in e00, a = e10e01 − e00·e11 and e11: m = e00 + a·Γ + e11·Γ·m (the
 * linear form of Kruppa & Sodomsky, IEEE Trans. MTT-19, 1971); two differences of the three equations are solved by
 * Cramer's rule.
 * Throws `calibration-standards-alike`, `calibration-readings-alike` or `calibration-unsolvable` (a reading or the
 * answer is not finite, or nothing passes the port).
 */
export function solveThreeTerms(
	standards: Three<MeasuredStandard>,
	frequencies: ArrayLike<number>
): ErrorTerms {
	const length = frequencies.length;
	const terms = {
		directivity: complexArray(length),
		sourceMatch: complexArray(length),
		tracking: complexArray(length)
	};
	for (let i = 0; i < length; i++) {
		const known = standards.map((standard) => at(standard.known, i));
		const raw = standards.map((standard) => at(standard.raw, i));
		for (const [p, q] of PAIRS) {
			const blanks = { frequency: frequencies[i], first: ORDINALS[p], second: ORDINALS[q] };
			if (magnitude(subtract(known[p], known[q])) < ALIKE)
				throw faults['calibration-standards-alike'](blanks);
			if (raw[p].re === raw[q].re && raw[p].im === raw[q].im)
				throw faults['calibration-readings-alike'](blanks);
		}
		const products = known.map((gamma, k) => multiply(gamma, raw[k]));
		const [g1, g2] = differences(known);
		const [m1, m2] = differences(raw);
		const [p1, p2] = differences(products);
		const determinant = cross(g1, p2, g2, p1);
		const a = divide(cross(m1, p2, m2, p1), determinant);
		const sourceMatch = divide(cross(g1, m2, g2, m1), determinant);
		const explained = add(multiply(a, known[0]), multiply(sourceMatch, products[0]));
		const directivity = subtract(raw[0], explained);
		const tracking = add(a, multiply(directivity, sourceMatch));
		const size = magnitude(tracking);
		if (!(size > 0 && size < Infinity && magnitude(sourceMatch) < Infinity)) {
			throw faults['calibration-unsolvable']({ frequency: frequencies[i] });
		}
		put(terms.directivity, i, directivity);
		put(terms.sourceMatch, i, sourceMatch);
		put(terms.tracking, i, tracking);
	}
	return terms;
}

/** The second and the third number less the first. */
const differences = ([first, second, third]: readonly Complex[]): readonly [Complex, Complex] => [
	subtract(second, first),
	subtract(third, first)
];

/** a·b − c·d. */
const cross = (a: Complex, b: Complex, c: Complex, d: Complex): Complex =>
	subtract(multiply(a, b), multiply(c, d));

/**
 * How far a corrected reflection `gamma` moves per unit of error in the raw reading of standard k (0, 1 or 2), to first
 * order: dΓ/dm_k = −(1 − e11·Γ_k)²/(e10e01)·L_k(Γ), a frequency an element, where L_k is the quadratic through 1 at
 * standard k and 0 at the two others. It holds because a small change of the terms is a Möbius map close to
 * unity, which moves Γ by a quadratic polynomial. For an ideal open, short and load L is Γ(Γ + 1)/2, Γ(Γ − 1)/2 and
 * 1 − Γ². The error stays in every later reading, however much that one is averaged.
 */
export function calibrationSensitivity(
	terms: ErrorTerms,
	known: Three<ComplexArray>,
	k: 0 | 1 | 2,
	gamma: ComplexArray
): ComplexArray {
	const out = complexArray(gamma.re.length);
	const [p, q] = [0, 1, 2].filter((other) => other !== k);
	for (let i = 0; i < gamma.re.length; i++) {
		const standard = at(known[k], i);
		const other = at(known[p], i);
		const another = at(known[q], i);
		const here = at(gamma, i);
		const trips = subtract(ONE, multiply(at(terms.sourceMatch, i), standard));
		const atStandard = negate(divide(multiply(trips, trips), at(terms.tracking, i)));
		const lagrange = divide(
			multiply(subtract(here, other), subtract(here, another)),
			multiply(subtract(standard, other), subtract(standard, another))
		);
		put(out, i, multiply(atStandard, lagrange));
	}
	return out;
}
