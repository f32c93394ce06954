import { add, at, complexArray, divide, multiply, ONE, put, subtract } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import type { ErrorTerms } from './error-terms.ts';

/**
 * What the reflectometer reads of a reflection `gamma` at its port, without noise: m = e00 + e10e01·Γ/(1 − e11·Γ), a
 * frequency an element, written to `out`, which may be `gamma`. e11·Γ = 1, an oscillating port, gives NaN or Infinity.
 */
export function rawFromGamma(
	terms: ErrorTerms,
	gamma: ComplexArray,
	out: ComplexArray = complexArray(gamma.re.length)
): ComplexArray {
	for (let i = 0; i < gamma.re.length; i++) {
		const here = at(gamma, i);
		const trips = subtract(ONE, multiply(at(terms.sourceMatch, i), here));
		const returned = divide(multiply(at(terms.tracking, i), here), trips);
		put(out, i, add(at(terms.directivity, i), returned));
	}
	return out;
}

/**
 * The reflection behind a raw reading: Γ = (m − e00)/(e10e01 + e11·(m − e00)), the inverse of `rawFromGamma`, written to
 * `out`, which may be `raw`. A port that lets nothing through (e10e01 = 0) gives NaN or a meaningless 1/e11.
 */
export function gammaFromRaw(
	terms: ErrorTerms,
	raw: ComplexArray,
	out: ComplexArray = complexArray(raw.re.length)
): ComplexArray {
	for (let i = 0; i < raw.re.length; i++) {
		const returned = subtract(at(raw, i), at(terms.directivity, i));
		const sent = add(at(terms.tracking, i), multiply(at(terms.sourceMatch, i), returned));
		put(out, i, divide(returned, sent));
	}
	return out;
}
