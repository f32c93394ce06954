import { complexArray } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { adapterTwoPort } from '#lib/network/adapter.ts';
import { cableLine } from '#lib/network/cable.ts';
import { gammaFromImpedance } from '#lib/network/impedance.ts';
import { delayOf, lineTwoPort } from '#lib/network/line.ts';
import type { LineSection } from '#lib/network/line.ts';
import { padResistors, padTwoPort, withErrors } from '#lib/network/pad.ts';
import { chainOf } from '#lib/network/two-port.ts';
import type { TwoPort } from '#lib/network/two-port.ts';
import type { Termination } from './device-schema.ts';
import type { Adapter, Cable, Part } from './part-schema.ts';
import type { Sweep } from './setup.ts';

/** What a setup is made of, as circuits over frequency: the pieces that `Simulation` puts together. */

/** The frequencies of a sweep in Hz, evenly spaced, both ends included. */
export function sweepFrequencies({ start, stop, points }: Sweep): Reals {
	if (points === 1) return Float64Array.of(start);
	return Float64Array.from({ length: points }, (_, i) => start + ((stop - start) * i) / (points - 1));
}

/** The scattering parameters of one part of the line. */
export function partTwoPort(part: Part, frequencies: Reals): TwoPort {
	switch (part.kind) {
		case 'pad': {
			const exact = padResistors(part.attenuation, part.network);
			return padTwoPort(withErrors(exact, part.resistorErrors), frequencies);
		}
		case 'cable':
			return lineTwoPort(cableSection(part), frequencies);
		case 'adapter':
			return adapterTwoPort(part.sections.map(adapterSection), frequencies);
	}
}

/** The parts in a row, from the reflectometer on, as one two-port. */
export const partsTwoPort = (parts: readonly Part[], frequencies: Reals): TwoPort =>
	chainOf(
		parts.map((part) => partTwoPort(part, frequencies)),
		frequencies.length
	);

function cableSection({ impedance, length, velocityFactor, loss }: Cable): LineSection {
	const [low, high] = loss.map((l) => ({ frequency: l.frequency, lossDb: l.loss * 100 }));
	return cableLine({ characteristicImpedance: impedance, length, velocityFactor, loss: [low, high] });
}

const adapterSection = ({ impedance, length, velocityFactor }: Adapter['sections'][number]): LineSection => ({
	characteristicImpedance: impedance,
	length,
	velocityFactor,
	conductorLoss: 0,
	dielectricLoss: 0
});

/** The same reflection at every frequency. */
function constant(gamma: { re: number; im: number }, length: number): ComplexArray {
	const out = complexArray(length);
	out.re.fill(gamma.re);
	out.im.fill(gamma.im);
	return out;
}

/** Reflection of an ideal one-port. */
export function terminationGamma(end: Termination, length: number): ComplexArray {
	switch (end.kind) {
		case 'open':
			return constant({ re: 1, im: 0 }, length);
		case 'short':
			return constant({ re: -1, im: 0 }, length);
		case 'impedance':
			return constant(gammaFromImpedance({ re: end.resistance, im: end.reactance }), length);
	}
}

/** One-way delay from plane 0 to every plane, s: of the lines in the parts; a pad is taken to have no length. */
export function planeDelays(parts: readonly Part[]): number[] {
	const delays = [0];
	for (const part of parts) delays.push(delays[delays.length - 1] + partDelay(part));
	return delays;
}

function partDelay(part: Part): number {
	if (part.kind === 'pad') return 0;
	const sections = part.kind === 'cable' ? [cableSection(part)] : part.sections.map(adapterSection);
	return sections.reduce((sum, section) => sum + delayOf(section), 0);
}
