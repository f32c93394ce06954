import type { Reals } from '#lib/numeric/reals.ts';

/**
 * What every device law shares. A device is seen through its ports, most of them junctions, each from the first to the
 * second of two of its nodes; a law gives the current and the charge of every port as functions of all its port voltages, with their
 * derivatives. Laws work on blocks of samples and allocate nothing.
 */

/** k·T/q in V at 27 °C = 300.15 K. */
export const THERMAL_VOLTAGE = (1.38064852e-23 * 300.15) / 1.6021766208e-19;

/** S across every junction; far below anything that is measured, it keeps an unused junction from floating. */
export const LEAST_CONDUCTANCE = 1e-15;

/** S taken as reference by every junction port. */
const JUNCTION_REFERENCE = 1e-3;

/** A junction current above this, in A, carries on as a straight line: no device gets there, but a trial step may. */
const LARGEST_CURRENT = 1e3;

/** Current, charge and derivatives of a device with n ports at a block of samples; derivative of port p by port q at p·n + q. */
export interface Evaluation {
	readonly current: readonly Reals[];
	readonly charge: readonly Reals[];
	readonly conductance: readonly Reals[];
	readonly capacitance: readonly Reals[];
}

export interface Law {
	readonly ports: readonly PortLaw[];
	/** False if no port ever holds a charge. */
	readonly charged: boolean;
	/** Fills the first `count` samples of `out` from those of `voltage`, one array a port. */
	evaluate(count: number, voltage: readonly Reals[], out: Evaluation): void;
}

export interface PortLaw {
	/** What the port is, such as `base-emitter`. */
	readonly name: string;
	/**
	 * S put across the port in the linear network and taken off the device again: it keeps open ports regular. Any value is
	 * exact; one of the order of what the port itself conducts keeps most digits.
	 */
	readonly reference: number;
	/** Null for a port without an exponential. */
	readonly junction: JunctionShape | null;
}

/** How a port behaves as a junction, for those who must step over its exponential. */
export interface JunctionShape {
	readonly saturationCurrent: number;
	/** Emission coefficient times thermal voltage, V. */
	readonly slope: number;
	/** Voltage from which a logarithmic variable takes over, V. */
	readonly knee: number;
}

export function evaluation(ports: number, samples: number): Evaluation {
	const block = (length: number): Reals[] => Array.from({ length }, () => new Float64Array(samples));
	return {
		current: block(ports),
		charge: block(ports),
		conductance: block(ports * ports),
		capacitance: block(ports * ports)
	};
}

/** A port that is a junction, with its knee where the junction conducts `kneeConductance` S. */
export function junctionPort(
	name: string,
	saturationCurrent: number,
	emission: number,
	kneeConductance: number
): PortLaw & { readonly junction: JunctionShape } {
	const slope = emission * THERMAL_VOLTAGE;
	const knee = slope * Math.log((kneeConductance * slope) / saturationCurrent);
	return { name, reference: JUNCTION_REFERENCE, junction: { saturationCurrent, slope, knee } };
}

/** Exponent beyond which the current of a junction carries on as a straight line. */
export const exponentLimit = (saturationCurrent: number): number =>
	Math.log(LARGEST_CURRENT / saturationCurrent);
