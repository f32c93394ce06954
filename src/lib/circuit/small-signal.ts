import { at, complex, complexArray, put } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { solveComplex } from '#lib/numeric/dense.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { stampTransfer } from './equations.ts';
import type { Equations } from './equations.ts';
import { faults } from './faults.ts';
import { fill, matched, reflectionOf } from './fill.ts';
import { operatingPoint } from './operating-point.ts';
import type { OperatingPoint } from './operating-point.ts';

/** Scattering parameters in 50 Ω: `s[i][j]` over the frequencies, wave out of port i + 1 for a wave into port j + 1. */
export type Scattering = readonly (readonly ComplexArray[])[];

/** Adds g + jωc of every device at its operating point. */
export function stampDevices(
	{ devices, devicePorts }: Equations,
	point: Pick<OperatingPoint, 'devices'>,
	omega: number,
	re: Reals,
	im: Reals,
	width: number
): void {
	let first = 0;
	devices.forEach(({ law }, d) => {
		const { conductance, capacitance } = point.devices[d];
		const ports = law.ports.length;
		for (let p = 0; p < ports; p++)
			for (let q = 0; q < ports; q++) {
				const ends = devicePorts[first + p];
				const control = devicePorts[first + q];
				stampTransfer(re, width, ends, control, conductance[p * ports + q][0]);
				stampTransfer(im, width, ends, control, omega * capacitance[p * ports + q][0]);
			}
		first += ports;
	});
}

/** Solves the linearised circuit at one frequency for a source of 2 V at each port of `driven` in turn. */
function solveAt(
	equations: Equations,
	point: OperatingPoint,
	frequency: number,
	ends: readonly Complex[],
	driven: readonly number[],
	answer: ComplexArray
): void {
	const { size, ports } = equations;
	const width = size + driven.length;
	const { re, im } = answer;
	const omega = 2 * Math.PI * frequency;
	fill(equations, omega, ends, re, im, width);
	stampDevices(equations, point, omega, re, im, width);
	driven.forEach((port, j) => (re[ports[port].current * width + size + j] = 2));
	const stuck = solveComplex(re, im, size, width);
	if (stuck >= 0)
		throw faults['circuit-undetermined']({ place: equations.labels[stuck], when: ` at ${frequency} Hz` });
}

/**
 * Small-signal scattering parameters of a circuit at `frequencies` in Hz (0 allowed), every port in 50 Ω, at its operating
 * point. Throws `circuit-undetermined` where the circuit resonates without any loss, 50 Ω included.
 */
export function smallSignal(
	equations: Equations,
	frequencies: ArrayLike<number>,
	point: OperatingPoint = operatingPoint(equations)
): Scattering {
	const { size, ports } = equations;
	const all = ports.map((_, i) => i);
	const width = size + all.length;
	const answer = complexArray(size * width);
	const ends = matched(all.length);
	const s = all.map(() => all.map(() => complexArray(frequencies.length)));
	for (let k = 0; k < frequencies.length; k++) {
		solveAt(equations, point, frequencies[k], ends, all, answer);
		for (const i of all)
			for (const j of all) {
				const v = at(answer, ports[i].voltage * width + size + j);
				put(s[i][j], k, i === j ? complex(v.re - 1, v.im) : v);
			}
	}
	return s;
}

/**
 * Reflection of port 1 at `frequencies` with the other ports ended in reflection coefficients `ends` (that of port 1
 * is not used), at the operating point of the circuit with 50 Ω at every port unless another is given.
 */
export function reflectionEnded(
	equations: Equations,
	frequencies: ArrayLike<number>,
	ends: readonly Complex[],
	point: OperatingPoint = operatingPoint(equations)
): ComplexArray {
	const { size, ports } = equations;
	const width = size + 1;
	const answer = complexArray(size * width);
	const connected = ends.map((end, i) => (i === 0 ? complex(0) : end));
	const gamma = complexArray(frequencies.length);
	for (let k = 0; k < frequencies.length; k++) {
		solveAt(equations, point, frequencies[k], connected, [0], answer);
		const v = at(answer, ports[0].voltage * width + size);
		const i = at(answer, ports[0].current * width + size);
		put(gamma, k, reflectionOf(v, i));
	}
	return gamma;
}
