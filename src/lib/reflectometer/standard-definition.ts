import {
	add,
	complex,
	complexArray,
	divide,
	multiply,
	ONE,
	put,
	scale,
	subtract
} from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { gammaFromImpedance } from '#lib/network/impedance.ts';
import { looking } from '#lib/network/two-port.ts';
import { offsetTwoPort } from './offset-line.ts';
import type { OffsetLine } from './offset-line.ts';

/** c0 + c1·f + c2·f² + c3·f³ with f in Hz. */
export type Polynomial = readonly [number, number, number, number];

interface BehindLine {
	/** Between the reference plane and the standard; left out: none. */
	readonly offset?: OffsetLine;
}

export interface OpenDefinition extends BehindLine {
	readonly kind: 'open';
	/** Fringing capacitance to ground in F, F/Hz, F/Hz², F/Hz³; a fitted coefficient may be below 0. */
	readonly capacitance: Polynomial;
}

export interface ShortDefinition extends BehindLine {
	readonly kind: 'short';
	/** Residual inductance in H, H/Hz, H/Hz², H/Hz³. */
	readonly inductance: Polynomial;
}

export interface LoadDefinition extends BehindLine {
	readonly kind: 'load';
	/** Ω. */
	readonly resistance: number;
	/** In series with the resistance, H. */
	readonly inductance: number;
	/** Across both, F; left out: none. */
	readonly capacitance?: number;
}

/** Any known impedance, the same at every frequency, in Ω. */
export interface ArbitraryDefinition extends BehindLine {
	readonly kind: 'arbitrary';
	readonly resistance: number;
	readonly reactance: number;
}

/** What a standard is made of, seen from the reference plane. */
export type StandardDefinition = OpenDefinition | ShortDefinition | LoadDefinition | ArbitraryDefinition;

/**
 * Reflection of a standard at `frequencies` in Hz (0 allowed) against 50 Ω, its offset line included. Of lumped elements
 * this is plain circuit theory: Γ = (1 − jωC·50)/(1 + jωC·50) for an open, the Γ of jωL for a short and of R + jωL
 * with C across it for a load (an infinite impedance is Γ = 1); of the line, `offsetTwoPort` looking at that end.
 */
export function definitionGamma(
	definition: StandardDefinition,
	frequencies: ArrayLike<number>
): ComplexArray {
	const end = complexArray(frequencies.length);
	for (let i = 0; i < frequencies.length; i++) put(end, i, endGamma(definition, frequencies[i]));
	if (definition.offset === undefined) return end;
	return looking(offsetTwoPort(definition.offset, frequencies), end, end);
}

const valueAt = ([c0, c1, c2, c3]: Polynomial, f: number): number => c0 + f * (c1 + f * (c2 + f * c3));

/** Reflection at the far end of the offset line. */
function endGamma(definition: StandardDefinition, frequency: number): Complex {
	const omega = 2 * Math.PI * frequency;
	switch (definition.kind) {
		case 'open': {
			const susceptance = omega * valueAt(definition.capacitance, frequency) * 50;
			return divide(complex(1, -susceptance), complex(1, susceptance));
		}
		case 'short':
			return gammaFromImpedance(complex(0, omega * valueAt(definition.inductance, frequency)));
		case 'load': {
			const { resistance, inductance, capacitance = 0 } = definition;
			const series = complex(resistance, omega * inductance);
			if (capacitance === 0) return gammaFromImpedance(series);
			// Z = series/(1 + jωC·series), put so that neither a short nor a resonance divides by zero
			const across = add(ONE, multiply(complex(0, omega * capacitance), series));
			const reference = scale(across, 50);
			return divide(subtract(series, reference), add(series, reference));
		}
		case 'arbitrary':
			return gammaFromImpedance(complex(definition.resistance, definition.reactance));
	}
}
