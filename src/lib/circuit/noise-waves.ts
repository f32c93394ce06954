import { complexArray } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { BOLTZMANN, STANDARD_TEMPERATURE } from '#lib/numeric/decibel.ts';
import { solveComplex } from '#lib/numeric/dense.ts';
import type { Equations } from './equations.ts';
import { faults } from './faults.ts';
import { fill, matched, REFERENCE } from './fill.ts';
import { noiseSources } from './noise-sources.ts';
import type { NoiseSource } from './noise-sources.ts';
import { operatingPoint } from './operating-point.ts';
import type { OperatingPoint } from './operating-point.ts';
import { stampDevices } from './small-signal.ts';

/** Correlation of the noise waves that leave the ports: `c[i][j]` over the frequencies, W/Hz, of ports i + 1 and j + 1. */
export type NoiseCorrelation = readonly (readonly ComplexArray[])[];

export interface NoiseOptions {
	/** Of the whole circuit, K, not negative; 290 K if left out. */
	readonly temperature?: number;
	/** Where the devices are linearised; the circuit with 50 Ω at every port if left out. */
	readonly point?: OperatingPoint;
}

/**
 * Noise waves of the passive part of a circuit at `frequencies` in Hz (0 allowed): what the thermal noise of resistors,
 * and of the losses of coils, capacitors, lines and crystals, sends out of the ports; they end in 50 Ω that give no noise
 * themselves. Diodes, transistors, controlled sources and supplies pass that noise on, with their gain, and add none of
 * their own; so with devices in it a circuit makes more noise than this.
 *
 * What every source of noise does at a port comes from one solution of the transposed equations, whatever the number of
 * sources (Rohrer, Nagel, Meyer & Weber, IEEE Journal of Solid-State Circuits 6(4), 1971). A passive circuit gives
 * kT(I − S·S†) (Bosma 1967). Throws the faults of `smallSignal`.
 */
export function noiseWaves(
	equations: Equations,
	frequencies: ArrayLike<number>,
	{ temperature = STANDARD_TEMPERATURE, point = operatingPoint(equations) }: NoiseOptions = {}
): NoiseCorrelation {
	const { size, ports } = equations;
	const matrix = complexArray(size * size);
	const response = complexArray(size * (size + ports.length));
	const ends = matched(ports.length);
	const reach = complexArray(2 * ports.length);
	const c = ports.map(() => ports.map(() => complexArray(frequencies.length)));
	// a wave v/√50 leaves a port whose noise voltage is v
	const share = (4 * BOLTZMANN * temperature) / REFERENCE;
	for (let k = 0; k < frequencies.length; k++) {
		const omega = 2 * Math.PI * frequencies[k];
		fill(equations, omega, ends, matrix.re, matrix.im, size);
		stampDevices(equations, point, omega, matrix.re, matrix.im, size);
		solveTransposed(equations, matrix, response, frequencies[k]);
		for (const source of noiseSources(equations, omega)) {
			reachOf(equations, response, source, reach);
			addSource(c, k, source, reach, share);
		}
	}
	return c;
}

/** Column `size` + j of `response`: the voltage of port j for a unit in every equation in turn. */
function solveTransposed(
	{ size, ports, labels }: Equations,
	matrix: ComplexArray,
	{ re, im }: ComplexArray,
	frequency: number
): void {
	const width = size + ports.length;
	for (let i = 0; i < size; i++) {
		for (let j = 0; j < size; j++) {
			re[i * width + j] = matrix.re[j * size + i];
			im[i * width + j] = matrix.im[j * size + i];
		}
		re.fill(0, i * width + size, (i + 1) * width);
		im.fill(0, i * width + size, (i + 1) * width);
	}
	ports.forEach(({ voltage }, j) => (re[voltage * width + size + j] = 1));
	const stuck = solveComplex(re, im, size, width);
	if (stuck >= 0) throw faults['circuit-undetermined']({ place: labels[stuck], when: ` at ${frequency} Hz` });
}

/** The voltage at every port for a unit of each term of a source: port j of term t at t·ports + j. */
function reachOf(
	{ size, ports }: Equations,
	response: ComplexArray,
	source: NoiseSource,
	reach: ComplexArray
): void {
	const width = size + ports.length;
	source.at.forEach(({ plus, minus }, t) =>
		ports.forEach((_, j) => {
			const column = size + j;
			for (const part of ['re', 'im'] as const)
				reach[part][t * ports.length + j] =
					(minus < 0 ? 0 : response[part][minus * width + column]) -
					(plus < 0 ? 0 : response[part][plus * width + column]);
		})
	);
}

/** Adds the waves of one source to the correlation at frequency k. */
function addSource(
	c: NoiseCorrelation,
	k: number,
	{ at, own, mutual }: NoiseSource,
	{ re, im }: ComplexArray,
	share: number
): void {
	const count = c.length;
	for (let i = 0; i < count; i++)
		for (let j = 0; j < count; j++)
			at.forEach((_, t) =>
				at.forEach((_, u) => {
					const weight = share * (t === u ? own : mutual);
					const [p, q] = [t * count + i, u * count + j];
					c[i][j].re[k] += weight * (re[p] * re[q] + im[p] * im[q]);
					c[i][j].im[k] += weight * (im[p] * re[q] - re[p] * im[q]);
				})
			);
}
