import { complexArray, polar, put } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { ratioFromDb } from '#lib/numeric/decibel.ts';
import { interpolateTable } from '#lib/numeric/interpolation.ts';
import type { Reals } from '#lib/numeric/reals.ts';

/**
 * The three error terms of a reflectometer over frequency: raw reading m = e00 + e10e01·Γ/(1 − e11·Γ)
 * (Pozar, *Microwave Engineering*, 4th ed., 2012, section 4.5 signal flow graphs).
 */
export interface ErrorTerms {
	/** e00: what is read when nothing comes back. */
	readonly directivity: ComplexArray;
	/** e11: reflection of the port itself, seen from the device. */
	readonly sourceMatch: ComplexArray;
	/** e10·e01: out to the port and back to the receiver. */
	readonly tracking: ComplexArray;
}

/** One imperfection of a port: its size in dB (amplitude, 0 dB is 1) and the delay in s that turns it with frequency. */
export interface PortError {
	readonly size: number;
	readonly delay: number;
}

export interface PortErrors {
	readonly directivity: PortError;
	readonly sourceMatch: PortError;
	readonly tracking: PortError;
}

/** The error terms of a port at `frequencies` in Hz: each is 10^(size/20)·e^(−j2πf·delay). */
export function portErrorTerms(port: PortErrors, frequencies: ArrayLike<number>): ErrorTerms {
	const term = ({ size, delay }: PortError): ComplexArray => {
		const out = complexArray(frequencies.length);
		const magnitude = ratioFromDb(size);
		for (let i = 0; i < frequencies.length; i++) {
			put(out, i, polar(magnitude, -2 * Math.PI * frequencies[i] * delay));
		}
		return out;
	};
	return {
		directivity: term(port.directivity),
		sourceMatch: term(port.sourceMatch),
		tracking: term(port.tracking)
	};
}

/** How error terms came to the frequencies where they are used. */
export type TermsFit = 'same' | 'interpolated' | 'outside';

/**
 * Error terms known at the strictly rising frequencies `from` (at least one), brought to `to`. The same frequencies
 * give the same object back. Otherwise real and imaginary parts are interpolated; beyond the ends of `from` the end is
 * held, and the fit says `outside`.
 */
export function interpolateTerms(
	terms: ErrorTerms,
	from: Reals,
	to: Reals
): { terms: ErrorTerms; fit: TermsFit } {
	if (from.length === to.length && from.every((f, i) => f === to[i])) return { terms, fit: 'same' };
	const { directivity, sourceMatch, tracking } = terms;
	const columns = [directivity, sourceMatch, tracking].flatMap(({ re, im }) => [re, im]);
	const rows = new Float64Array(6 * from.length);
	columns.forEach((column, c) => column.forEach((value, i) => (rows[6 * i + c] = value)));
	const out = [0, 1, 2].map(() => complexArray(to.length));
	const outside = interpolateTable(
		from,
		rows,
		6,
		to,
		out.flatMap(({ re, im }) => [re, im])
	);
	return {
		terms: { directivity: out[0], sourceMatch: out[1], tracking: out[2] },
		fit: outside ? 'outside' : 'interpolated'
	};
}
