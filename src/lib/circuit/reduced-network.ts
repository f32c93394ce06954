import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { complexArray } from '#lib/numeric/complex.ts';
import { solveComplex } from '#lib/numeric/dense.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { stampEnds } from './equations.ts';
import type { Ends, Equations } from './equations.ts';
import { faults } from './faults.ts';
import { fill, matched } from './fill.ts';

/** What is connected to the ports of a circuit while it is driven. */
export interface Surroundings {
	/**
	 * Reflection coefficient in 50 Ω of what ends each port, at a harmonic (0 is direct current, 1 the fundamental) of
	 * `frequency` Hz. That of port 1 is the source's own. A question of stability asks between harmonics too, so
	 * `harmonic` is any number from 0 up.
	 */
	ends(harmonic: number, frequency: number): readonly Complex[];
	/** Harmonics of the source as shares of its fundamental, waves into 50 Ω (from harmonic 2 on); none by default. */
	sourceHarmonic?(harmonic: number, frequency: number): Complex;
}

/** 50 Ω at every port, at every harmonic. */
export function matchedSurroundings(ports: number): Surroundings {
	const ends = matched(ports);
	return { ends: () => ends };
}

/**
 * The linear part of a circuit at one harmonic, seen from its P device ports (Kundert & Sangiovanni-Vincentelli, IEEE
 * Trans. CAD 5(4), 1986: piecewise harmonic balance). Port voltages are rest + drive·e − impedance·I with I the currents
 * into the devices, less `reference`·V of their laws, and e twice the source's voltage into 50 Ω, peak.
 */
export interface HarmonicNetwork {
	readonly harmonic: number;
	/** P × P, Ω. */
	readonly impedance: ComplexArray;
	/** P; share of e. */
	readonly drive: ComplexArray;
	/** P, V; what the supplies do, zero except for direct current. */
	readonly rest: ComplexArray;
	/**
	 * All unknowns of the circuit, row by row in columns 0 … P + 1: for e = 1, for the supplies, then for 1 A into
	 * each device port's first node and out of its second.
	 */
	readonly answer: ComplexArray;
	readonly width: number;
}

/**
 * Writes the equations of the linear part at `harmonic` times `frequency`, with 1 A through each device port in turn in
 * the columns from `first` on.
 */
function writeLinear(
	equations: Equations,
	harmonic: number,
	frequency: number,
	around: Surroundings,
	{ re, im }: ComplexArray,
	wide: number,
	first: number
): void {
	fill(equations, 2 * Math.PI * harmonic * frequency, around.ends(harmonic, frequency), re, im, wide);
	let port = 0;
	for (const { law } of equations.devices)
		for (const { reference } of law.ports) {
			const ends = equations.devicePorts[port];
			stampEnds(re, wide, ends, reference);
			if (ends.plus >= 0) re[ends.plus * wide + first + port] += 1;
			if (ends.minus >= 0) re[ends.minus * wide + first + port] -= 1;
			port++;
		}
}

function solveLinear(
	{ size, labels }: Equations,
	harmonic: number,
	frequency: number,
	{ re, im }: ComplexArray,
	wide: number
): void {
	const stuck = solveComplex(re, im, size, wide);
	if (stuck < 0) return;
	const when = harmonic === 0 ? ' for direct current' : ` at ${harmonic * frequency} Hz`;
	throw faults['circuit-undetermined']({ place: labels[stuck], when });
}

/** The voltage between two unknowns in a column of `x`. */
const across = (x: Reals, width: number, { plus, minus }: Ends, column: number): number =>
	(plus < 0 ? 0 : x[plus * width + column]) - (minus < 0 ? 0 : x[minus * width + column]);

/**
 * `impedance` of the network at any multiple of a frequency, without the rest of it: what a search for disturbances asks
 * for by the thousand.
 */
export function impedancesOf(
	equations: Equations,
	around: Surroundings
): (multiple: number, frequency: number) => ComplexArray {
	const { size, devicePorts } = equations;
	const count = devicePorts.length;
	const wide = size + count;
	const room = complexArray(size * wide);
	return (multiple, frequency) => {
		writeLinear(equations, multiple, frequency, around, room, wide, size);
		solveLinear(equations, multiple, frequency, room, wide);
		const impedance = complexArray(count * count);
		for (let p = 0; p < count; p++)
			for (let q = 0; q < count; q++) {
				impedance.re[p * count + q] = across(room.re, wide, devicePorts[p], size + q);
				impedance.im[p * count + q] = across(room.im, wide, devicePorts[p], size + q);
			}
		return impedance;
	};
}

/** The network at harmonic `harmonic` of `frequency`, from 0 up. */
function networkAt(
	equations: Equations,
	harmonic: number,
	frequency: number,
	around: Surroundings
): HarmonicNetwork {
	const { size, devicePorts, ports, supplies } = equations;
	const count = devicePorts.length;
	const wide = size + 2 + count;
	const room = complexArray(size * wide);
	const { re, im } = room;
	writeLinear(equations, harmonic, frequency, around, room, wide, size + 2);
	const share = sourceShare(harmonic, frequency, around);
	re[ports[0].current * wide + size] = share.re;
	im[ports[0].current * wide + size] = share.im;
	if (harmonic === 0) for (let i = 0; i < size; i++) re[i * wide + size + 1] = supplies[i];
	solveLinear(equations, harmonic, frequency, room, wide);
	const width = 2 + count;
	const answer = complexArray(size * width);
	for (let i = 0; i < size; i++)
		for (let j = 0; j < width; j++) {
			answer.re[i * width + j] = re[i * wide + size + j];
			answer.im[i * width + j] = im[i * wide + size + j];
		}
	const network: HarmonicNetwork = {
		harmonic,
		impedance: complexArray(count * count),
		drive: complexArray(count),
		rest: complexArray(count),
		answer,
		width
	};
	devicePorts.forEach((ends, p) => {
		network.drive.re[p] = across(answer.re, width, ends, 0);
		network.drive.im[p] = across(answer.im, width, ends, 0);
		network.rest.re[p] = across(answer.re, width, ends, 1);
		for (let q = 0; q < count; q++) {
			network.impedance.re[p * count + q] = across(answer.re, width, ends, 2 + q);
			network.impedance.im[p * count + q] = across(answer.im, width, ends, 2 + q);
		}
	});
	return network;
}

/** Share of the source at a harmonic: all of it at the fundamental, none of its own at direct current. */
function sourceShare(harmonic: number, frequency: number, around: Surroundings): Complex {
	if (harmonic === 1) return { re: 1, im: 0 };
	if (harmonic === 0 || !around.sourceHarmonic) return { re: 0, im: 0 };
	return around.sourceHarmonic(harmonic, frequency);
}

/** The linear part at one fundamental, harmonic by harmonic. It does not depend on the drive, so each is made once. */
export interface ReducedNetwork {
	readonly frequency: number;
	/** The networks of harmonics 0 … `harmonics`. */
	upTo(harmonics: number): readonly HarmonicNetwork[];
}

/** Throws `circuit-undetermined` (from `upTo`) where the linear part resonates without loss. */
export function reducedNetwork(
	equations: Equations,
	frequency: number,
	around: Surroundings
): ReducedNetwork {
	const networks: HarmonicNetwork[] = [];
	return {
		frequency,
		upTo(harmonics) {
			while (networks.length <= harmonics)
				networks.push(networkAt(equations, networks.length, frequency, around));
			return networks;
		}
	};
}
