import { at, divide, add, multiply, ONE, subtract } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { wattsFromDbm } from '#lib/numeric/decibel.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { returnLossDb } from '#lib/network/impedance.ts';
import type { ErrorTerms } from './error-terms.ts';

/**
 * A scalar return-loss bridge: a diode detector (`diode-detector.ts`) behind a bridge. It sees how much comes back, so the
 * size of Γ and with it return loss, standing-wave ratio and mismatch loss. It cannot see phase: not the impedance, not
 * whether a reflection is an open or a short, and it can correct no error term. What leaks past the bridge (the
 * directivity) adds to the reflection at an angle nobody knows. It sees harmonics of the source as if they were the tone,
 * and nothing below its noise.
 *
 * A reading goes: power at the detector (`addReturned`, once a tone), voltage (`detect`), noise (`addNoise`), level shown
 * (`metered`); then the return loss against that of an open and a short.
 */

/**
 * Adds to `watts` what reaches the detector of one tone, a frequency an element: |e00 + e10e01·Γ/(1 − e11·Γ)|² of the actual
 * level of the source, `levelsDbm`. For a harmonic, hand in terms, reflections and levels at the frequencies of the
 * harmonic.
 */
export function addReturned(
	terms: ErrorTerms,
	gamma: ComplexArray,
	levelsDbm: ArrayLike<number>,
	watts: Reals
): void {
	for (let i = 0; i < watts.length; i++) {
		const here = at(gamma, i);
		const trips = subtract(ONE, multiply(at(terms.sourceMatch, i), here));
		const returned = divide(multiply(at(terms.tracking, i), here), trips);
		const { re, im } = add(at(terms.directivity, i), returned);
		watts[i] += wattsFromDbm(levelsDbm[i]) * (re * re + im * im);
	}
}

/**
 * The level that counts as 0 dB: half way between those shown of an open and of a short. Directivity and source match move
 * the two in opposite directions, so that the mean is free of both to first order. All in dBm, a frequency an element.
 */
export const openShortReference = (openDbm: Reals, shortDbm: Reals): Reals =>
	openDbm.map((open, i) => (open + shortDbm[i]) / 2);

/** Return loss shown, dB: reference less level of the load. Infinity where noise has left no level to show. */
export const shownReturnLoss = (referenceDbm: Reals, loadDbm: Reals): Reals =>
	referenceDbm.map((reference, i) => (loadDbm[i] === -Infinity ? Infinity : reference - loadDbm[i]));

/** Sizes, 0 or more, of the terms of a bridge against its tracking. */
export interface BridgeErrors {
	/** |e00/(e10e01)|. */
	readonly directivity: number;
	/** |e11|; below 1/|Γ|. */
	readonly sourceMatch: number;
}

/** Lowest and highest of a range, both included. */
export interface Range {
	readonly least: number;
	readonly most: number;
}

/**
 * Between which return losses, in dB, a reflection of size `gamma` is shown, if the reference is right:
 * −20·log10(|Γ|/(1 − e11·|Γ|) + D) and −20·log10 of |Γ|/(1 + e11·|Γ|) − D, which noise-free may be 0: Infinity dB. Without
 * source match they are −20·log10(|Γ| ± D). A triangle of phasors; common in books of microwave measurement.
 */
export function returnLossLimits(gamma: number, { directivity, sourceMatch }: BridgeErrors): Range {
	const largest = gamma / (1 - sourceMatch * gamma);
	const smallest = gamma / (1 + sourceMatch * gamma);
	// any size between the two may meet a directivity equally large
	const apart = Math.max(0, smallest - directivity, directivity - largest);
	return { least: returnLossDb(largest + directivity), most: returnLossDb(apart) };
}

/**
 * The other way round: between which sizes of Γ lies what is shown as `lossDb`? The limits of ρ = 10^(−lossDb/20) ± D are
 * undone for the source match: x/(1 + e11·x) and x/(1 − e11·x). `most` is Infinity where e11·x reaches 1.
 */
export function gammaLimits(lossDb: number, { directivity, sourceMatch }: BridgeErrors): Range {
	const shown = 10 ** (-lossDb / 20);
	const smallest = Math.max(0, shown - directivity);
	const largest = shown + directivity;
	return {
		least: smallest / (1 + sourceMatch * smallest),
		most: sourceMatch * largest < 1 ? largest / (1 - sourceMatch * largest) : Infinity
	};
}
