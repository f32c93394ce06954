import { complex, complexArray, divide, put } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { gammaFromImpedance } from '#lib/network/impedance.ts';

export type StandardName = 'open' | 'short' | 'load';

/** What the standards of a calibration are taken to be: F, H and Ω at the reference plane. */
export interface StandardDefinitions {
	/** A fringing capacitance to ground; 0 F is the ideal open. */
	readonly open: { readonly capacitance: number };
	readonly short: { readonly inductance: number };
	/** Resistance and inductance in series. */
	readonly load: { readonly resistance: number; readonly inductance: number };
}

/**
 * Reflection of a standard at `frequencies` in Hz (0 allowed) against 50 Ω, from its admittance jωC (open) or its
 * impedance jωL (short) or R + jωL (load). The ideal open is Γ = 1 at every frequency, the ideal short −1.
 */
export function standardGamma(
	name: StandardName,
	definitions: StandardDefinitions,
	frequencies: ArrayLike<number>
): ComplexArray {
	const out = complexArray(frequencies.length);
	for (let i = 0; i < frequencies.length; i++) {
		const omega = 2 * Math.PI * frequencies[i];
		if (name === 'open') {
			const susceptance = omega * definitions.open.capacitance * 50;
			put(out, i, divide(complex(1, -susceptance), complex(1, susceptance)));
		} else {
			const resistance = name === 'load' ? definitions.load.resistance : 0;
			put(out, i, gammaFromImpedance(complex(resistance, omega * definitions[name].inductance)));
		}
	}
	return out;
}
