import { complex, subtract } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { unknownAt } from './driven-point.ts';
import type { Equations } from './equations.ts';
import { residual } from './harmonic-equations.ts';
import { harmonicSystem } from './harmonic-system.ts';
import type { HarmonicSystem, Problem } from './harmonic-system.ts';
import { synthesise } from './harmonic-tables.ts';
import type { Element } from './netlist.ts';

/** Where the power of a driven circuit comes from and goes to, W, means over a period. */
export interface PowerBalance {
	/** Into port 1 at the fundamental. */
	readonly input: number;
	/** From the supplies. */
	readonly supply: number;
	/** In resistors and in the losses of coils, capacitors and lines, at direct current and every harmonic. */
	readonly losses: number;
	/** Taken by controlled sources; they usually give, which counts negative. */
	readonly controlled: number;
	/** Mean of voltage times current of every device port, charges included. */
	readonly devices: number;
	/** Out of every port, at direct current and every harmonic, but for `input`. */
	readonly output: number;
}

/** Devices are sampled this many times finer than where the circuit was solved. */
const FINER = 8;

/** Mean power of a voltage and current, peak phasors, or direct ones at harmonic 0. */
const mean = (v: Complex, i: Complex, harmonic: number): number =>
	(v.re * i.re + v.im * i.im) * (harmonic === 0 ? 1 : 0.5);

/** Power an element takes at one harmonic, W; ideal elements and devices take none here. */
function taken(
	element: Element,
	harmonic: number,
	omega: number,
	voltage: (from: string, to: string) => Complex,
	current: (branch: number) => Complex,
	branches: readonly number[]
): number {
	switch (element.kind) {
		case 'resistor': {
			const v = voltage(element.from, element.to);
			return mean(v, v, harmonic) / element.resistance;
		}
		case 'coil': {
			const i = current(branches[0]);
			return mean(i, i, harmonic) * element.seriesResistance;
		}
		case 'capacitor': {
			const v = voltage(element.from, element.to);
			const x = omega * element.capacitance;
			const t = x * element.seriesResistance;
			return (mean(v, v, harmonic) * x * t) / (1 + t * t);
		}
		case 'ideal line':
		case 'uniform line':
			return (
				mean(voltage(...element.near), current(branches[0]), harmonic) +
				mean(voltage(...element.far), current(branches[1]), harmonic)
			);
		case 'controlled source': {
			const v = voltage(...element.control);
			const i = complex(v.re * element.transconductance, v.im * element.transconductance);
			return mean(voltage(element.from, element.to), i, harmonic);
		}
		case 'supply':
		case 'ammeter':
			return mean(voltage(element.from, element.to), current(branches[0]), harmonic);
		default:
			return 0;
	}
}

/** Mean power of the devices with the solved voltages, currents and charges taken at finer samples. */
function devicePower(system: HarmonicSystem, problem: Problem): number {
	const { laws, tables } = system;
	const fine = harmonicSystem(laws, tables.harmonics, tables.samples * FINER);
	residual(fine, problem, system.coefficients, false);
	const count = tables.coefficients;
	const omega = 2 * Math.PI * problem.frequency;
	const rates = fine.voltage.map((voltage, p) => {
		const slope = new Float64Array(count);
		for (let k = 1; k <= tables.harmonics; k++) {
			slope[2 * k - 1] = k * omega * system.coefficients[p * count + 2 * k];
			slope[2 * k] = -k * omega * system.coefficients[p * count + 2 * k - 1];
		}
		const rate = new Float64Array(voltage.length);
		synthesise(fine.tables, slope, 0, rate);
		return rate;
	});
	let sum = 0;
	let first = 0;
	laws.forEach(({ ports }, d) => {
		const { current, capacitance } = fine.evaluations[d];
		for (let p = 0; p < ports.length; p++)
			for (let m = 0; m < fine.tables.samples; m++) {
				let i = current[p][m];
				for (let q = 0; q < ports.length; q++)
					i += capacitance[p * ports.length + q][m] * rates[first + q][m];
				sum += fine.voltage[first + p][m] * i;
			}
		first += ports.length;
	});
	return sum / fine.tables.samples;
}

/**
 * Adds up the power of a system that stands evaluated at its solution (Tellegen's theorem): input + supply equals losses +
 * controlled + devices + output. It uses what the solver does not, the devices at finer samples, so that it also finds
 * an error of the samples.
 */
export function powerBalance(equations: Equations, system: HarmonicSystem, problem: Problem): PowerBalance {
	const { netlist, branches, ports } = equations;
	const sums = { input: 0, supply: 0, losses: 0, controlled: 0, output: 0 };
	for (let k = 0; k <= system.tables.harmonics; k++) {
		const omega = 2 * Math.PI * k * problem.frequency;
		const value = (unknown: number): Complex => unknownAt(system, problem, k, unknown);
		const voltage = (from: string, to: string): Complex =>
			subtract(value(equations.node(from)), value(equations.node(to)));
		for (const element of netlist.elements) {
			const power = taken(element, k, omega, voltage, value, branches.get(element.name) ?? []);
			if (element.kind === 'supply') sums.supply -= power;
			else if (element.kind === 'controlled source') sums.controlled += power;
			else sums.losses += power;
		}
		ports.forEach((port, i) => {
			const power = mean(value(port.voltage), value(port.current), k);
			if (i === 0 && k === 1) sums.input += power;
			else sums.output -= power;
		});
	}
	return { ...sums, devices: devicePower(system, problem) };
}
