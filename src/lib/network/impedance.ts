import { add, complex, divide, ONE, scale, subtract } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { dbFromPower, dbFromRatio } from '#lib/numeric/decibel.ts';

/**
 * Γ = (Z − Z0)/(Z + Z0) for a real reference `z0` in Ω (Pozar, *Microwave Engineering*, 4th ed., 2012, eq. 2.35).
 * An infinite part of Z is an open, Γ = 1. Z = −Z0 gives NaN.
 */
export function gammaFromImpedance(impedance: Complex, z0 = 50): Complex {
	if (Math.abs(impedance.re) === Infinity || Math.abs(impedance.im) === Infinity) return ONE;
	return divide(subtract(impedance, complex(z0)), add(impedance, complex(z0)));
}

/** Z = Z0(1 + Γ)/(1 − Γ) in Ω; Γ = 1 is an open, Infinity + 0j. */
export function impedanceFromGamma(gamma: Complex, z0 = 50): Complex {
	if (gamma.re === 1 && gamma.im === 0) return complex(Infinity);
	return scale(divide(add(ONE, gamma), subtract(ONE, gamma)), z0);
}

/** Standing-wave ratio from |Γ|: (1 + |Γ|)/(1 − |Γ|); Infinity from |Γ| = 1 on, where it means nothing more. */
export const swr = (gammaMagnitude: number): number =>
	gammaMagnitude >= 1 ? Infinity : (1 + gammaMagnitude) / (1 - gammaMagnitude);

/** Return loss in dB from |Γ|, positive for a passive device (IEEE Std 145/211 usage); Infinity for a perfect match. */
export const returnLossDb = (gammaMagnitude: number): number => -dbFromRatio(gammaMagnitude);

/** Power lost by reflection, −10·log10(1 − |Γ|²) in dB, from |Γ|; Infinity from |Γ| = 1 on. */
export const mismatchLossDb = (gammaMagnitude: number): number =>
	gammaMagnitude >= 1 ? Infinity : -dbFromPower(1 - gammaMagnitude * gammaMagnitude);
