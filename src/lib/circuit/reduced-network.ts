import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { complexArray } from '#lib/numeric/complex.ts';
import { solveComplex } from '#lib/numeric/dense.ts';
import { stampEnds } from './equations.ts';
import type { Ends, Equations } from './equations.ts';
import { faults } from './faults.ts';
import { fill, matched } from './fill.ts';

/** S put across every device port in the linear network and taken off the device again: it keeps open ports regular. */
export const PORT_CONDUCTANCE = 1e-3;

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
 * into the devices, less `PORT_CONDUCTANCE`·V, and e twice the source's voltage into 50 Ω, peak.
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

/** The network at `harmonic` times `frequency`, any number from 0 up. */
export function networkAt(
	equations: Equations,
	harmonic: number,
	frequency: number,
	around: Surroundings
): HarmonicNetwork {
	const { size, devicePorts, ports, supplies } = equations;
	const count = devicePorts.length;
	const wide = size + 2 + count;
	const { re, im } = complexArray(size * wide);
	fill(equations, 2 * Math.PI * harmonic * frequency, around.ends(harmonic, frequency), re, im, wide);
	for (const ends of devicePorts) stampEnds(re, wide, ends, PORT_CONDUCTANCE);
	const share = sourceShare(harmonic, frequency, around);
	re[ports[0].current * wide + size] = share.re;
	im[ports[0].current * wide + size] = share.im;
	if (harmonic === 0) for (let i = 0; i < size; i++) re[i * wide + size + 1] = supplies[i];
	devicePorts.forEach(({ plus, minus }, p) => {
		if (plus >= 0) re[plus * wide + size + 2 + p] += 1;
		if (minus >= 0) re[minus * wide + size + 2 + p] -= 1;
	});
	const stuck = solveComplex(re, im, size, wide);
	if (stuck >= 0) {
		const when = harmonic === 0 ? ' for direct current' : ` at ${harmonic * frequency} Hz`;
		throw faults['circuit-undetermined']({ place: equations.labels[stuck], when });
	}
	const width = 2 + count;
	const answer = complexArray(size * width);
	for (let i = 0; i < size; i++)
		for (let j = 0; j < width; j++) {
			answer.re[i * width + j] = re[i * wide + size + j];
			answer.im[i * width + j] = im[i * wide + size + j];
		}
	const across = (x: Float64Array, { plus, minus }: Ends, column: number): number =>
		(plus < 0 ? 0 : x[plus * width + column]) - (minus < 0 ? 0 : x[minus * width + column]);
	const network: HarmonicNetwork = {
		harmonic,
		impedance: complexArray(count * count),
		drive: complexArray(count),
		rest: complexArray(count),
		answer,
		width
	};
	devicePorts.forEach((ends, p) => {
		network.drive.re[p] = across(answer.re, ends, 0);
		network.drive.im[p] = across(answer.im, ends, 0);
		network.rest.re[p] = across(answer.re, ends, 1);
		for (let q = 0; q < count; q++) {
			network.impedance.re[p * count + q] = across(answer.re, ends, 2 + q);
			network.impedance.im[p * count + q] = across(answer.im, ends, 2 + q);
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
