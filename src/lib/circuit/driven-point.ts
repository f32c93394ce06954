import { complex, magnitude, scale } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { dbmFromWatts } from '#lib/numeric/decibel.ts';
import { impedanceFromGamma } from '#lib/network/impedance.ts';
import type { Equations } from './equations.ts';
import { REFERENCE, reflectionOf } from './fill.ts';
import type { HarmonicSystem, Problem } from './harmonic-system.ts';

/** One drive level at one frequency. A point that did not converge has no results at all. */
export type DrivenPoint = ConvergedPoint | LostPoint;

interface Point {
	/** Hz. */
	readonly frequency: number;
	/** Level of the source into 50 Ω. */
	readonly dbm: number;
	readonly harmonics: number;
	/** Newton steps taken for this point, those of intermediate levels included. */
	readonly iterations: number;
}

export interface LostPoint extends Point {
	readonly converged: false;
	/** No solution was found, or one in which a small disturbance grows: the circuit does not stay there. */
	readonly reason: 'not found' | 'unstable';
}

export interface ConvergedPoint extends Point {
	readonly converged: true;
	/** Largest of the last two harmonics of a device port's voltage, as a share of the largest fundamental. */
	readonly tail: number;
	/**
	 * What the harmonics left out may change Γ by: the tail itself, which bounds the change against 32 harmonics in every
	 * reference circuit up to +10 dBm (at most 0.6 of it there).
	 */
	readonly gammaError: number;
	/** Reflection coefficient of port 1 at the fundamental, and the impedance there. */
	readonly gamma: Complex;
	readonly impedance: Complex;
	/** Incident power |a|² at port 1 at the fundamental, dBm. */
	readonly incidentDbm: number;
	/** Ports 2, 3, …: twice the fundamental voltage over that of the source behind 50 Ω (S21 where everything is 50 Ω). */
	readonly transmission: readonly Complex[];
	/** Power into what ends ports 2, 3, … at the fundamental, dBm. */
	readonly outputDbm: readonly number[];
	/** Direct part of every probe. */
	readonly probes: Readonly<Record<string, number>>;
	readonly junctions: readonly Junction[];
	readonly dissipation: readonly { readonly device: string; readonly watts: number }[];
}

/** What a junction bears over a period: lowest and highest voltage, largest conduction current either way. */
export interface Junction {
	readonly device: string;
	readonly port: string;
	readonly lowest: number;
	readonly highest: number;
	readonly peakCurrent: number;
}

/** Any unknown of the circuit at a harmonic, a peak phasor, from the currents into the device ports. */
export function unknownAt(
	system: HarmonicSystem,
	problem: Problem,
	harmonic: number,
	unknown: number
): Complex {
	if (unknown < 0) return complex(0);
	const { answer, width } = problem.networks[harmonic];
	const count = system.tables.coefficients;
	const row = unknown * width;
	let re = answer.re[row] * problem.drive + answer.re[row + 1];
	let im = answer.im[row] * problem.drive + answer.im[row + 1];
	for (let p = 0; p < system.ports.length; p++) {
		const a = system.load[p * count + (harmonic === 0 ? 0 : 2 * harmonic - 1)];
		const b = harmonic === 0 ? 0 : system.load[p * count + 2 * harmonic];
		const r = answer.re[row + 2 + p];
		const x = answer.im[row + 2 + p];
		re -= r * a + x * b;
		im -= x * a - r * b;
	}
	return complex(re, im);
}

/** Harmonics below this share of the direct voltages and fundamentals, or this many V, are rounding. */
const ROUNDING = 1e-12;
const LEAST = 1e-14;

/** See `ConvergedPoint.tail`; 0 for a circuit without devices and where the drive does not reach them. */
export function tailOf({ tables, ports, coefficients }: HarmonicSystem): number {
	const { harmonics, coefficients: count } = tables;
	let fundamental = 0;
	let last = 0;
	let direct = 0;
	for (let p = 0; p < ports.length; p++) {
		const size = (k: number): number =>
			Math.hypot(coefficients[p * count + 2 * k - 1], coefficients[p * count + 2 * k]);
		fundamental = Math.max(fundamental, size(1));
		direct = Math.max(direct, Math.abs(coefficients[p * count]));
		last = Math.max(last, size(harmonics), size(harmonics - 1));
	}
	return last <= ROUNDING * (direct + fundamental) + LEAST ? 0 : last / fundamental;
}

function junctionsOf(system: HarmonicSystem, equations: Equations): readonly Junction[] {
	let first = 0;
	return equations.devices.flatMap(({ name, law }, d) => {
		const found = law.ports.map((port, p): Junction => {
			const voltage = system.voltage[first + p];
			const current = system.evaluations[d].current[p];
			let lowest = Infinity;
			let highest = -Infinity;
			let peakCurrent = 0;
			for (let m = 0; m < system.tables.samples; m++) {
				lowest = Math.min(lowest, voltage[m]);
				highest = Math.max(highest, voltage[m]);
				peakCurrent = Math.max(peakCurrent, Math.abs(current[m]));
			}
			return { device: name, port: port.name, lowest, highest, peakCurrent };
		});
		first += law.ports.length;
		return found;
	});
}

/** Mean of v·i over the samples; what charges take they give back. */
function dissipationOf(system: HarmonicSystem, equations: Equations): ConvergedPoint['dissipation'] {
	let first = 0;
	return equations.devices.map(({ name, law }, d) => {
		let sum = 0;
		for (let p = 0; p < law.ports.length; p++) {
			const voltage = system.voltage[first + p];
			const current = system.evaluations[d].current[p];
			for (let m = 0; m < system.tables.samples; m++) sum += voltage[m] * current[m];
		}
		first += law.ports.length;
		return { device: name, watts: sum / system.tables.samples };
	});
}

/** Everything read from a system that stands evaluated at its solution. */
export function convergedPoint(
	equations: Equations,
	system: HarmonicSystem,
	problem: Problem,
	dbm: number,
	iterations: number
): ConvergedPoint {
	const { ports, probes } = equations;
	const voltage = unknownAt(system, problem, 1, ports[0].voltage);
	const current = unknownAt(system, problem, 1, ports[0].current);
	const gamma = reflectionOf(voltage, current);
	const incident = scale(
		complex(voltage.re + REFERENCE * current.re, voltage.im + REFERENCE * current.im),
		0.5
	);
	const others = ports.slice(1).map((port) => ({
		voltage: unknownAt(system, problem, 1, port.voltage),
		current: unknownAt(system, problem, 1, port.current)
	}));
	const tail = tailOf(system);
	return {
		converged: true,
		frequency: problem.frequency,
		dbm,
		harmonics: system.tables.harmonics,
		iterations,
		tail,
		gammaError: tail,
		gamma,
		impedance: impedanceFromGamma(gamma),
		incidentDbm: dbmFromWatts(magnitude(incident) ** 2 / (2 * REFERENCE)),
		transmission: others.map((other) => scale(other.voltage, 2 / problem.drive)),
		// a shorted port takes nothing, but for rounding
		outputDbm: others.map((other) =>
			dbmFromWatts(
				Math.max(0, -0.5 * (other.voltage.re * other.current.re + other.voltage.im * other.current.im))
			)
		),
		probes: Object.fromEntries(
			probes.map(({ name, unknown }) => [name, unknownAt(system, problem, 0, unknown).re])
		),
		junctions: junctionsOf(system, equations),
		dissipation: dissipationOf(system, equations)
	};
}
