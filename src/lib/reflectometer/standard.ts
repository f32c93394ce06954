import type { ComplexArray } from '#lib/numeric/complex.ts';
import type { MeasuredStandard } from './calibration.ts';
import { definitionGamma } from './standard-definition.ts';
import type { StandardDefinition } from './standard-definition.ts';

/**
 * A standard as its owner has it: what it is declared to be, and what it is by now, after tolerance and wear. Only the
 * simulator knows the second.
 */
export interface Standard {
	readonly declared: StandardDefinition;
	readonly actual: StandardDefinition;
}

/**
 * A standard as a calibration gets to see it: the reflection it is declared to have, with the raw reading of the one it
 * actually has. `read` is the instrument with everything in front of the standard, noise included; `frequencies` in Hz.
 *
 * Measuring the same standard again cannot show the difference: the terms that explain its reading by the declared
 * reflection do so again. With an ideal open and short, a load declared as Zd that is Za makes every impedance read
 * Z·Zd/Za: the only changes of Γ that keep 1 and −1 (∞ and 0 in impedance) are multiplications of the
 * impedance, so it is the load that sets the reference impedance.
 */
export const measuredStandard = (
	standard: Standard,
	frequencies: ArrayLike<number>,
	read: (gamma: ComplexArray) => ComplexArray
): MeasuredStandard => ({
	known: definitionGamma(standard.declared, frequencies),
	raw: read(definitionGamma(standard.actual, frequencies))
});
