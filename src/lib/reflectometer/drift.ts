import { add, at, complex, complexArray, multiply, ONE, put, subtract } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { RandomWalk } from '#lib/numeric/random-walk.ts';
import { normalPair, streamOf } from '#lib/numeric/random.ts';
import { readingSensitivity } from './calibration-influence.ts';
import type { ErrorTerms } from './error-terms.ts';

/**
 * Drift of an error term: what it has moved by at a bench time, the same at all frequencies. It is a warm-up that dies
 * away from power-on, (size·direction)·e^(−t/τ), plus a random walk of real and imaginary part each: our choice of law.
 * Directivity and source match move by it in absolute terms, the tracking relative to itself.
 *
 * Drift is a pure function of (seed, name, bench time): it can be had alone at any time, and the time before costs nothing.
 */
export interface DriftSize {
	/** Magnitude of the warm-up at power-on, ≥ 0; its direction is drawn from seed and name. */
	readonly warmUp: number;
	/** Time constant of the warm-up, s, above 0. */
	readonly timeConstant: number;
	/** Standard deviation the walk gives to each of real and imaginary part in an hour, ≥ 0; it grows with the root of time. */
	readonly walk: number;
}

const HOUR = 3600;

/** What is left of the warm-up, 1 at power-on; before that the instrument is off and it is 1 as well. */
const warmUpLeft = ({ timeConstant }: DriftSize, time: number, poweredOn: number): number =>
	Math.exp(-Math.max(0, time - poweredOn) / timeConstant);

/**
 * Drift, `re` and `im`, of the term `name` at the bench time last moved to. Kept from sweep to sweep, it
 * reaches a time near the last at a fraction of the cost; its values are those of `driftAt`. Seeds are whole numbers from 0
 * to 2³² − 1; `poweredOn` is the bench time of power-on in s, negative for an instrument on since before.
 */
export class TermDrift {
	re = 0;
	im = 0;
	readonly #size: DriftSize;
	readonly #poweredOn: number;
	readonly #walk: RandomWalk;
	readonly #direction: Complex;

	constructor(size: DriftSize, seed: number, name: string, poweredOn = 0) {
		this.#size = size;
		this.#poweredOn = poweredOn;
		this.#walk = new RandomWalk(seed, streamOf(`${name} walk`));
		// a pair of normals points in every direction alike
		const [re, im] = normalPair(seed, streamOf(`${name} warm-up`), 0, 0);
		const length = Math.sqrt(re * re + im * im);
		this.#direction = complex(re / length, im / length);
	}

	/** Moves to the bench time in s, 0 … `WALK_RANGE` of `random-walk.ts`; a time outside gives NaN. */
	moveTo(time: number): void {
		this.#walk.moveTo(time);
		const walk = this.#size.walk / Math.sqrt(HOUR);
		const warmUp = this.#size.warmUp * warmUpLeft(this.#size, time, this.#poweredOn);
		this.re = warmUp * this.#direction.re + walk * this.#walk.re;
		this.im = warmUp * this.#direction.im + walk * this.#walk.im;
	}
}

/** Drift of the term `name` at one bench time in s; see `TermDrift`. */
export function driftAt(size: DriftSize, seed: number, name: string, time: number, poweredOn = 0): Complex {
	const drift = new TermDrift(size, seed, name, poweredOn);
	drift.moveTo(time);
	return complex(drift.re, drift.im);
}

/** Standard deviation of each of real and imaginary part of what the walk adds between two bench times in s. */
export const walkDeviation = ({ walk }: DriftSize, from: number, to: number): number =>
	walk * Math.sqrt(Math.abs(to - from) / HOUR);

/** Magnitude of what the warm-up takes away between two bench times in s. */
export const warmUpChange = (size: DriftSize, from: number, to: number, poweredOn = 0): number =>
	size.warmUp * Math.abs(warmUpLeft(size, from, poweredOn) - warmUpLeft(size, to, poweredOn));

/** A value for each error term. */
export interface PerTerm<T> {
	readonly directivity: T;
	readonly sourceMatch: T;
	readonly tracking: T;
}

/** The terms moved by their drifts: e00 + d, e11 + d, e10e01·(1 + d). Written to `out`, which may be `terms`. */
export function driftedTerms(
	terms: ErrorTerms,
	drift: PerTerm<Complex>,
	out: ErrorTerms = noTerms(terms.tracking.re.length)
): ErrorTerms {
	const relative = add(ONE, drift.tracking);
	for (let i = 0; i < terms.tracking.re.length; i++) {
		put(out.directivity, i, add(at(terms.directivity, i), drift.directivity));
		put(out.sourceMatch, i, add(at(terms.sourceMatch, i), drift.sourceMatch));
		put(out.tracking, i, multiply(at(terms.tracking, i), relative));
	}
	return out;
}

const noTerms = (length: number): ErrorTerms => ({
	directivity: complexArray(length),
	sourceMatch: complexArray(length),
	tracking: complexArray(length)
});

/**
 * How far a corrected reflection `gamma` moves per unit of each term's drift since the calibration, to first order, a
 * frequency an element: (1 − e11·Γ)²/(e10e01) for the directivity, Γ² for the source match, Γ·(1 − e11·Γ) for the relative
 * tracking: the derivatives of m = e00 + e10e01·Γ/(1 − e11·Γ) over dm/dΓ.
 */
export function driftSensitivity(terms: ErrorTerms, gamma: ComplexArray): PerTerm<ComplexArray> {
	const out = { ...noTerms(gamma.re.length), directivity: readingSensitivity(terms, gamma) };
	for (let i = 0; i < gamma.re.length; i++) {
		const here = at(gamma, i);
		const trips = subtract(ONE, multiply(at(terms.sourceMatch, i), here));
		put(out.sourceMatch, i, multiply(here, here));
		put(out.tracking, i, multiply(here, trips));
	}
	return out;
}
