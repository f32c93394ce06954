import type { Reals } from '#lib/numeric/reals.ts';
import { equationsOf } from './equations.ts';
import { newtonStep, residual } from './harmonic-equations.ts';
import { harmonicSystem } from './harmonic-system.ts';
import type { Problem } from './harmonic-system.ts';
import { THERMAL_VOLTAGE } from './laws.ts';
import type { Netlist } from './netlist.ts';
import { matchedSurroundings, reducedNetwork } from './reduced-network.ts';

/** A job of fixed size for measuring how fast driven circuits are solved. */
export interface DrivenJob {
	/** Points solved by one run. */
	readonly points: number;
	/** Solves every point anew from rest; row by row, the coefficients of both junctions' voltages. */
	run(): Reals;
}

const POINTS = 201;
const STEPS = 5;
const HARMONICS = 7;
const SAMPLES = 32;
/** Open-circuit voltage of the 50 Ω source, V. */
const DRIVE = 0.7;

const depletion = { capacitance: 0, potential: 1, grading: 0.5, bend: 0.5 };

/** Two junctions, one each way, at the two ends of a lossy coil. */
const netlist: Netlist = {
	elements: [
		{ kind: 'capacitor', name: 'input', from: 'in', to: 'ground', capacitance: 1e-12, seriesResistance: 0 },
		{ kind: 'coil', name: 'coil', from: 'in', to: 'out', inductance: 2e-9, seriesResistance: 5 },
		{ kind: 'capacitor', name: 'output', from: 'out', to: 'ground', capacitance: 2e-12, seriesResistance: 0 },
		{ kind: 'resistor', name: 'load', from: 'out', to: 'ground', resistance: 200 },
		{ kind: 'diode', name: 'forward', anode: 'in', cathode: 'ground', model: 'junction' },
		{ kind: 'diode', name: 'backward', anode: 'ground', cathode: 'out', model: 'junction' }
	],
	models: {
		junction: {
			kind: 'diode',
			saturationCurrent: 1e-9,
			emissionCoefficient: 0.0388 / THERMAL_VOLTAGE,
			depletion
		}
	},
	ports: ['in'],
	probes: []
};

/**
 * 201 frequencies from 50 MHz to 1 GHz, each 5 Newton steps from rest: two exponential ports, 7 harmonics, 32 samples,
 * 30 real unknowns. The linear part, which does not depend on the drive, is made beforehand, as the app keeps it.
 */
export function drivenJob(): DrivenJob {
	const equations = equationsOf(netlist);
	const around = matchedSurroundings(1);
	const system = harmonicSystem(
		equations.devices.map(({ law }) => law),
		HARMONICS,
		SAMPLES
	);
	const problems = Array.from({ length: POINTS }, (_, i): Problem => {
		const frequency = 50e6 + ((1e9 - 50e6) * i) / (POINTS - 1);
		return {
			frequency,
			networks: reducedNetwork(equations, frequency, around).upTo(HARMONICS),
			drive: DRIVE
		};
	});
	const { size } = system;
	const unknowns = new Float64Array(size);
	const step = new Float64Array(size);
	const answers = new Float64Array(POINTS * size);
	return {
		points: POINTS,
		run() {
			for (let i = 0; i < POINTS; i++) {
				unknowns.fill(0);
				for (let k = 0; k < STEPS; k++) {
					residual(system, problems[i], unknowns, false);
					newtonStep(system, problems[i], false, step);
					for (let c = 0; c < size; c++) unknowns[c] += step[c];
				}
				answers.set(unknowns, i * size);
			}
			return answers;
		}
	};
}
