import { add, at, complexArray, divide, multiply, ONE, polar, put, subtract } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { ratioFromDb } from '#lib/numeric/decibel.ts';
import type { ErrorTerms, PortError } from './error-terms.ts';

/**
 * Leakage: a part of the outgoing wave that reaches the test receiver without passing the port, so that every raw reading
 * is m + leak. It is coherent with the source: no averaging removes it. One that stays the same is part of the
 * directivity e00 as a calibration finds it and does no harm; what it has changed by since then stays as an error.
 */

/** Leakage at `frequencies` in Hz: 10^(size/20)·e^(−j2πf·delay); a size of −Infinity dB is none. */
export function leakage({ size, delay }: PortError, frequencies: ArrayLike<number>): ComplexArray {
	const out = complexArray(frequencies.length);
	const magnitude = ratioFromDb(size);
	for (let i = 0; i < frequencies.length; i++) {
		put(out, i, polar(magnitude, -2 * Math.PI * frequencies[i] * delay));
	}
	return out;
}

/** Raw readings with leakage, a frequency an element, written to `out`, which may be `raw`. */
export function withLeakage(
	raw: ComplexArray,
	leak: ComplexArray,
	out: ComplexArray = complexArray(raw.re.length)
): ComplexArray {
	for (let i = 0; i < raw.re.length; i++) put(out, i, add(at(raw, i), at(leak, i)));
	return out;
}

/**
 * How far a corrected reflection `gamma` is off when every raw reading has moved by `change` since the calibration:
 * δ·(1 − e11Γ)²/(e10e01 + e11·δ·(1 − e11Γ)), exactly (inserting m + δ in Γ = (m − e00)/(e10e01 + e11(m − e00))); for a
 * small δ it is δ·(1 − e11Γ)²/(e10e01). Written to `out`, which may be `change`.
 */
export function rawChangeError(
	terms: ErrorTerms,
	gamma: ComplexArray,
	change: ComplexArray,
	out: ComplexArray = complexArray(gamma.re.length)
): ComplexArray {
	for (let i = 0; i < gamma.re.length; i++) {
		const sourceMatch = at(terms.sourceMatch, i);
		const trips = subtract(ONE, multiply(sourceMatch, at(gamma, i)));
		const moved = multiply(at(change, i), trips);
		const sent = add(at(terms.tracking, i), multiply(sourceMatch, moved));
		put(out, i, divide(multiply(moved, trips), sent));
	}
	return out;
}
