import { solveReal } from '#lib/numeric/dense.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { addConductance } from './harmonic-jacobian.ts';
import type { HarmonicSystem, Problem } from './harmonic-system.ts';
import { analyse, highest, synthesise } from './harmonic-tables.ts';
import { toLogarithm, toVoltage } from './logarithmic.ts';

/** Evaluates every device at the unknowns and writes the residual; returns its Euclidean norm (NaN if it overflows). */
export function residual(
	system: HarmonicSystem,
	problem: Problem,
	unknowns: Reals,
	logarithmic: boolean
): number {
	const { tables, laws, ports, size, load, voltage, evaluations, room, coefficients } = system;
	const count = tables.coefficients;
	for (let p = 0; p < ports.length; p++) {
		synthesise(tables, unknowns, p * count, voltage[p]);
		if (logarithmic) {
			toVoltage(ports[p], tables.samples, voltage[p], system.slope[p]);
			analyse(tables, voltage[p], coefficients, p * count);
		}
	}
	if (!logarithmic) coefficients.set(unknowns);
	const omega = 2 * Math.PI * problem.frequency;
	let first = 0;
	for (let d = 0; d < laws.length; d++) {
		const law = laws[d];
		const own = evaluations[d];
		const n = law.ports.length;
		law.evaluate(tables.samples, n === 1 ? [voltage[first]] : voltage.slice(first, first + n), own);
		for (let p = 0; p < n; p++) {
			const start = (first + p) * count;
			analyse(tables, own.current[p], load, start);
			const { reference } = law.ports[p];
			for (let c = 0; c < count; c++) load[start + c] -= reference * coefficients[start + c];
			if (!law.charged) continue;
			analyse(tables, own.charge[p], room.charge, 0);
			for (let k = 1; k <= tables.harmonics; k++) {
				load[start + 2 * k - 1] += k * omega * room.charge[2 * k];
				load[start + 2 * k] -= k * omega * room.charge[2 * k - 1];
			}
		}
		first += n;
	}
	balance(system, problem);
	let sum = 0;
	for (let i = 0; i < size; i++) sum += system.residual[i] * system.residual[i];
	return Math.sqrt(sum);
}

/** F from the port voltages and the currents into the devices. */
function balance(
	{ tables, ports, load, residual: out, coefficients }: HarmonicSystem,
	problem: Problem
): void {
	const count = tables.coefficients;
	const n = ports.length;
	for (let k = 0; k <= tables.harmonics; k++) {
		const { impedance, drive, rest } = problem.networks[k];
		for (let p = 0; p < n; p++) {
			let a = rest.re[p] + drive.re[p] * problem.drive;
			let b = -(rest.im[p] + drive.im[p] * problem.drive);
			for (let q = 0; q < n; q++) {
				const r = impedance.re[p * n + q];
				const x = impedance.im[p * n + q];
				const ia = load[q * count + (k === 0 ? 0 : 2 * k - 1)];
				const ib = k === 0 ? 0 : load[q * count + 2 * k];
				a -= r * ia + x * ib;
				b -= r * ib - x * ia;
			}
			const place = p * count + 2 * k;
			if (k === 0) out[place] = coefficients[place] - a;
			else {
				out[place - 1] = coefficients[place - 1] - a;
				out[place] = coefficients[place] - b;
			}
		}
	}
}

/**
 * Solves for the Newton step from where the residual was taken last and writes it to `step`; false if the Jacobian is
 * singular. The Jacobian is exact: identity (or dv/dx) + Z·(conductance + d/dt capacitance − g).
 */
export function newtonStep(
	system: HarmonicSystem,
	problem: Problem,
	logarithmic: boolean,
	step: Reals
): boolean {
	const { size, matrix, residual: right } = system;
	const width = size + 1;
	matrix.fill(0);
	addConductance(system, problem, logarithmic);
	for (let i = 0; i < size; i++) {
		if (!logarithmic) matrix[i * width + i] += 1;
		matrix[i * width + size] = -right[i];
	}
	if (solveReal(matrix, size, width) >= 0) return false;
	for (let i = 0; i < size; i++) step[i] = matrix[i * width + size];
	return true;
}

/**
 * Highest harmonics the samples hold of any device current, as a share of the largest coefficient of the device currents;
 * see `highest`.
 */
export function strayShare(system: HarmonicSystem, problem: Problem): number {
	const { tables, laws, load, evaluations } = system;
	const rate = Math.PI * problem.frequency * tables.samples;
	let largest = 0;
	let stray = 0;
	for (let i = 0; i < load.length; i++) largest = Math.max(largest, Math.abs(load[i]));
	for (let d = 0; d < laws.length; d++)
		for (let p = 0; p < laws[d].ports.length; p++) {
			stray = Math.max(stray, highest(tables, evaluations[d].current[p]));
			if (laws[d].charged) stray = Math.max(stray, rate * highest(tables, evaluations[d].charge[p]));
		}
	return largest === 0 ? 0 : stray / largest;
}

/** Turns port voltages (coefficients) into those of the logarithmic variable, in place. */
export function enterLogarithm(system: HarmonicSystem, unknowns: Reals): void {
	const { tables, ports, voltage } = system;
	ports.forEach((port, p) => {
		synthesise(tables, unknowns, p * tables.coefficients, voltage[p]);
		toLogarithm(port, tables.samples, voltage[p]);
		analyse(tables, voltage[p], unknowns, p * tables.coefficients);
	});
}
