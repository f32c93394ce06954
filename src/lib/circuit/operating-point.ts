import type { Complex } from '#lib/numeric/complex.ts';
import { solveReal } from '#lib/numeric/dense.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { stampEnds, stampTransfer } from './equations.ts';
import type { Ends, Equations } from './equations.ts';
import { faults } from './faults.ts';
import { fill, matched } from './fill.ts';
import { evaluation } from './laws.ts';
import type { Evaluation, PortLaw } from './laws.ts';

/** The circuit at rest. */
export interface OperatingPoint {
	/** All unknowns of the equations: node voltages and branch currents. */
	readonly unknowns: Reals;
	/** Voltage of every device port. */
	readonly portVoltages: Reals;
	/** Every device there, one sample. */
	readonly devices: readonly Evaluation[];
}

const MOST_ITERATIONS = 100;
const MOST_STEPS = 60;

interface Trial {
	readonly equations: Equations;
	/** The matrix without devices, and the one being solved; one column of right-hand side. */
	readonly base: Reals;
	readonly matrix: Reals;
	readonly unknowns: Reals;
	/** Port voltages the devices are taken at. */
	readonly at: Reals;
	readonly voltages: readonly Reals[][];
	readonly devices: readonly Evaluation[];
	/** The port that moved most in the last iteration. */
	worst: number;
}

const across = (unknowns: Reals, { plus, minus }: Ends): number =>
	(plus < 0 ? 0 : unknowns[plus]) - (minus < 0 ? 0 : unknowns[minus]);

/** A step of a junction voltage, shortened where the exponential would run away (Nagel 1975, section 4). */
function shortened({ junction }: PortLaw, before: number, wish: number): number {
	if (junction === null) return wish;
	const { slope, saturationCurrent } = junction;
	const critical = slope * Math.log(slope / (Math.SQRT2 * saturationCurrent));
	if (wish <= critical || Math.abs(wish - before) <= 2 * slope) return wish;
	if (before <= 0) return slope * Math.log(Math.max(wish / slope, Math.E));
	const argument = 1 + (wish - before) / slope;
	return argument > 0 ? before + slope * Math.log(argument) : critical;
}

/** One Newton iteration; true once no port moves any more. */
function iterate(trial: Trial, supplyShare: number, extra: number): boolean {
	const { equations, base, matrix, unknowns, at, devices } = trial;
	const { size, supplies, devicePorts } = equations;
	const width = size + 1;
	matrix.set(base);
	for (let i = 0; i < size; i++) matrix[i * width + size] = supplies[i] * supplyShare;
	let first = 0;
	equations.devices.forEach(({ law }, d) => {
		const ports = law.ports.length;
		for (let p = 0; p < ports; p++) trial.voltages[d][p][0] = at[first + p];
		law.evaluate(1, trial.voltages[d], devices[d]);
		for (let p = 0; p < ports; p++) {
			const ends = devicePorts[first + p];
			let rest = devices[d].current[p][0];
			for (let q = 0; q < ports; q++) {
				const g = devices[d].conductance[p * ports + q][0];
				stampTransfer(matrix, width, ends, devicePorts[first + q], g);
				rest -= g * at[first + q];
			}
			stampEnds(matrix, width, ends, extra);
			if (ends.plus >= 0) matrix[ends.plus * width + size] -= rest;
			if (ends.minus >= 0) matrix[ends.minus * width + size] += rest;
		}
		first += ports;
	});
	const stuck = solveReal(matrix, size, width);
	if (stuck >= 0)
		throw faults['circuit-undetermined']({ place: equations.labels[stuck], when: ' for direct current' });
	for (let i = 0; i < size; i++) unknowns[i] = matrix[i * width + size];
	let settled = true;
	let most = 0;
	first = 0;
	for (const { law } of equations.devices)
		for (const port of law.ports) {
			const wish = across(unknowns, devicePorts[first]);
			const step = Math.abs(wish - at[first]);
			// so near the answer Newton squares the error: the next one would be below rounding
			if (!(step <= 1e-9 * Math.abs(wish) + 1e-12)) settled = false;
			if (!(step <= most)) {
				most = step;
				trial.worst = first;
			}
			at[first] = shortened(port, at[first], wish);
			first++;
		}
	return settled;
}

function settle(trial: Trial, supplyShare: number, extra: number): boolean {
	for (let k = 0; k < MOST_ITERATIONS; k++) if (iterate(trial, supplyShare, extra)) return true;
	return false;
}

/** A conductance across every junction, taken away step by step. */
function settleByConductance(trial: Trial): boolean {
	trial.at.fill(0);
	for (let extra = 1e-2; extra > 1e-14; extra /= 10) if (!settle(trial, 1, extra)) return false;
	return settle(trial, 1, 0);
}

/** Supplies raised from zero, in smaller steps where the circuit does not follow. */
function settleBySupply(trial: Trial): boolean {
	trial.at.fill(0);
	let share = 0;
	let step = 0.1;
	const kept = trial.at.slice();
	for (let k = 0; k < MOST_STEPS && share < 1; k++) {
		const next = Math.min(1, share + step);
		if (settle(trial, next, 0)) {
			share = next;
			step *= 1.5;
			kept.set(trial.at);
		} else {
			step /= 4;
			trial.at.set(kept);
		}
	}
	return share === 1;
}

/**
 * Direct voltages and currents of a circuit with nothing driving it, by Newton's method; where that does not settle, with a
 * conductance across every junction that is taken away step by step, then with the supplies raised from zero.
 * `ends`: what is connected to each port at direct current, as reflection coefficients in 50 Ω (default: 50 Ω).
 * Throws `circuit-undetermined` or `circuit-operating-point`, naming an element or node.
 */
export function operatingPoint(
	equations: Equations,
	ends: readonly Complex[] = matched(equations.ports.length)
): OperatingPoint {
	const { size, devices, devicePorts } = equations;
	const width = size + 1;
	const trial: Trial = {
		equations,
		base: new Float64Array(size * width),
		matrix: new Float64Array(size * width),
		unknowns: new Float64Array(size),
		at: new Float64Array(devicePorts.length),
		voltages: devices.map(({ law }) => law.ports.map(() => new Float64Array(1))),
		devices: devices.map(({ law }) => evaluation(law.ports.length, 1)),
		worst: 0
	};
	fill(equations, 0, ends, trial.base, new Float64Array(size * width), width);
	if (!settle(trial, 1, 0) && !settleByConductance(trial) && !settleBySupply(trial))
		throw faults['circuit-operating-point']({ place: deviceOf(equations, trial.worst) });
	iterate(trial, 1, 0);
	return { unknowns: trial.unknowns, portVoltages: trial.at, devices: trial.devices };
}

/** Name of the device a device port belongs to. */
export function deviceOf({ devices }: Equations, port: number): string {
	let first = 0;
	for (const { name, law } of devices) {
		first += law.ports.length;
		if (port < first) return name;
	}
	return '';
}
