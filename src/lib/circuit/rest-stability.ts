import type { Complex } from '#lib/numeric/complex.ts';
import type { Equations } from './equations.ts';
import { growingZeros, stepsUpTo, turningFrequency } from './nyquist.ts';
import { operatingPoint } from './operating-point.ts';
import type { OperatingPoint } from './operating-point.ts';
import { isPassive, linearCircuit, placesOf, restingCircuit } from './rest-circuit.ts';
import type { Places } from './rest-circuit.ts';

/** Reflection coefficients in 50 Ω of what ends each port, at any frequency from 0 Hz up; none above 1 in magnitude. */
export type EndsAt = (frequency: number) => readonly Complex[];

export interface RestOptions {
	/** What ends every port, port 1 included; asked once for every frequency looked at. */
	readonly ends: EndsAt;
	/** The devices as they are at rest, those of an `OperatingPoint`; found with these ends if left out. */
	readonly devices?: OperatingPoint['devices'];
	/** Hz up to which is looked in any case; further if the circuit still turns there. 20 GHz if left out. */
	readonly highest?: number;
}

/** Natural modes that grow by themselves. */
export interface Growth {
	/** Hz about which the circuit begins to swing; near 0 if it moves away without swinging. */
	readonly frequency: number;
	/** A mode that swings counts as two, one that only moves away as one. */
	readonly modes: number;
}

/** `grows at about 181 MHz`, for messages. */
export function growthWords({ frequency, modes }: Growth): string {
	if (modes === 1) return 'grows without swinging';
	const [factor, unit] = UNITS.find(([least]) => frequency >= least) ?? [1, 'Hz'];
	return `grows at about ${Number((frequency / factor).toPrecision(3))} ${unit}`;
}

const UNITS = [
	[1e9, 'GHz'],
	[1e6, 'MHz'],
	[1e3, 'kHz']
] as const;

/** Hz; here what has gain in a receiver has lost it. */
const HIGHEST = 20e9;

function growthOf(places: Places, highest: number): Growth | null {
	const all = stepsUpTo(places, highest);
	const modes = growingZeros(all);
	return modes === 0 ? null : { frequency: turningFrequency(places, all), modes };
}

/**
 * The natural modes of a circuit that grow out of its operating point, with what ends its ports; null if it stays at rest.
 * The modes are the zeros of the determinant of its equations with every device as g + jωc (Bode, *Network Analysis and
 * Feedback Amplifier Design*, 1945, chapter 8). The same circuit without controlled sources, and with positive conductances
 * for devices that can give power, is passive and has none that grows; so Nyquist's criterion counts them from the angle
 * of the ratio of the two determinants along s = jω. Both are followed singly, each mode of either being a turn of its
 * own, so that one is found however narrow it is; a mode that grows by less than some 1e-12 of its frequency counts as
 * staying. Two modes within a twentieth of a decade that are both far narrower than that can be taken for none.
 *
 * Throws `circuit-undetermined` or `circuit-operating-point` where no operating point is given and none is found.
 */
export function growingModes(
	equations: Equations,
	{ ends, devices = operatingPoint(equations, ends(0)).devices, highest = HIGHEST }: RestOptions
): Growth | null {
	if (isPassive(equations, devices)) return null;
	return growthOf(placesOf(restingCircuit(equations, devices), ends), highest);
}

/**
 * The same for the linear part of a circuit alone: every device port is its reference conductance, with the capacitance
 * (F, not negative) given for it.
 */
export function growingLinearModes(
	equations: Equations,
	capacitances: readonly number[],
	ends: EndsAt
): Growth | null {
	const linear = linearCircuit(equations, capacitances);
	return linear && growthOf(placesOf(linear, ends), HIGHEST);
}
