import { at, complexArray, divide, multiply, ONE, put, subtract, ZERO } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { chainOf, looking } from './two-port.ts';
import type { TwoPort } from './two-port.ts';

/**
 * The waves at one plane, in √W: |outgoing|² is the power on its way to the device, |returning|² that on its way back,
 * and `gamma` their ratio, the reflection seen from this plane.
 */
export interface PlaneWaves {
	readonly outgoing: ComplexArray;
	readonly returning: ComplexArray;
	readonly gamma: ComplexArray;
}

/** The end of the chain and its beginning, each over the same frequencies as the parts. */
export interface ChainEnds {
	/** Wave the source sends into a matched load, √W: its power there is the level setting. */
	readonly source: ComplexArray;
	/** Reflection of the source. */
	readonly sourceGamma: ComplexArray;
	/** Reflection of the device at the last plane. */
	readonly endGamma: ComplexArray;
}

/** numerator/denominator, and zero where the numerator is zero whatever the denominator. */
const quotient = (numerator: Complex, denominator: Complex): Complex =>
	numerator.re === 0 && numerator.im === 0 ? ZERO : divide(numerator, denominator);

/**
 * The waves at the planes 0 … N of a chain of N parts (plane 0 at the source, plane k behind part k), every
 * re-reflection included: a0 = bs/(1 − Γs·Γ0), then a(k) = S21·a(k−1)/(1 − S22·Γk) and b = Γ·a (Pozar, *Microwave
 * Engineering*, 4th ed., 2012, section 4.5 signal flow graphs).
 */
export function planeWaves(parts: readonly TwoPort[], ends: ChainEnds): PlaneWaves[] {
	const length = ends.endGamma.re.length;
	const gammas = [ends.endGamma];
	for (const part of [...parts].reverse()) gammas.unshift(looking(part, gammas[0]));
	const planes = gammas.map((gamma) => ({
		outgoing: complexArray(length),
		returning: complexArray(length),
		gamma
	}));
	for (let i = 0; i < length; i++) {
		let wave = quotient(
			at(ends.source, i),
			subtract(ONE, multiply(at(ends.sourceGamma, i), at(gammas[0], i)))
		);
		planes.forEach((plane, k) => {
			if (k > 0) {
				const { s21, s22 } = parts[k - 1];
				wave = quotient(multiply(at(s21, i), wave), subtract(ONE, multiply(at(s22, i), at(plane.gamma, i))));
			}
			put(plane.outgoing, i, wave);
			put(plane.returning, i, multiply(at(plane.gamma, i), wave));
		});
	}
	return planes;
}

/** |S21| of the parts from plane `from` to plane `to` ≥ from, an amplitude ratio a frequency: what gets to the device. */
export const transmissionOut = (parts: readonly TwoPort[], from: number, to: number, length: number): Reals =>
	magnitudes(chainOf(parts.slice(from, to), length).s21);

/** |S12| of the parts from plane `from` back to plane `to` ≤ from: what gets back to the receiver. */
export const transmissionBack = (
	parts: readonly TwoPort[],
	from: number,
	to: number,
	length: number
): Reals => magnitudes(chainOf(parts.slice(to, from), length).s12);

const magnitudes = (array: ComplexArray): Reals => array.re.map((re, i) => Math.hypot(re, array.im[i]));
