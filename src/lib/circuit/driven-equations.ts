import type { ComplexArray } from '#lib/numeric/complex.ts';
import { wattsFromDbm } from '#lib/numeric/decibel.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import type { Equations } from './equations.ts';
import { REFERENCE } from './fill.ts';
import { harmonicSystem } from './harmonic-system.ts';
import type { HarmonicSystem, Problem } from './harmonic-system.ts';
import { operatingPoint } from './operating-point.ts';
import type { OperatingPoint } from './operating-point.ts';
import { Recent } from './recent.ts';
import { impedancesOf, reducedNetwork } from './reduced-network.ts';
import type { ReducedNetwork, Surroundings } from './reduced-network.ts';
import { growingLinearModes, growingModes } from './rest-stability.ts';
import type { EndsAt } from './rest-stability.ts';
import { highestSeen } from './stability.ts';

/** e of the equations, twice the peak voltage into 50 Ω: the open-circuit voltage of a 50 Ω source of that level. */
export const driveFromDbm = (dbm: number): number => Math.sqrt(8 * REFERENCE * wattsFromDbm(dbm));

const FINER = 8;

/**
 * Frequencies whose linear part and last solution are kept: more than any sweep has, and with eight harmonics of a circuit
 * of twenty unknowns some 30 MB, so that a long session of changing spans does not fill the memory.
 */
export const MOST_FREQUENCIES = 2000;

/**
 * What solving a driven circuit needs and what does not depend on the drive: operating points, the linear part of every
 * frequency asked for, and room to work in for every number of harmonics. Each is made once and kept.
 */
export class DrivenEquations {
	readonly equations: Equations;
	readonly #around: Surroundings;
	readonly #systems = new Map<number, HarmonicSystem>();
	readonly #fine = new Map<number, HarmonicSystem>();
	readonly #networks = new Recent<number, ReducedNetwork>(MOST_FREQUENCIES);
	readonly #impedance: (multiple: number, frequency: number) => ComplexArray;
	#between: { readonly frequency: number; readonly impedances: Map<number, ComplexArray> } | undefined;
	readonly #rest = new Map<string, OperatingPoint>();

	constructor(equations: Equations, around: Surroundings) {
		this.equations = equations;
		this.#around = around;
		this.#impedance = impedancesOf(equations, around);
	}

	system(harmonics: number): HarmonicSystem {
		const found = this.#systems.get(harmonics);
		if (found) return found;
		const laws = this.equations.devices.map(({ law }) => law);
		const made = harmonicSystem(laws, harmonics);
		this.#systems.set(harmonics, made);
		return made;
	}

	/** The same system with eight times the samples, for the last of the error of sampling. */
	fineSystem(harmonics: number): HarmonicSystem {
		const found = this.#fine.get(harmonics);
		if (found) return found;
		const { laws, tables } = this.system(harmonics);
		const made = harmonicSystem(laws, harmonics, FINER * tables.samples);
		this.#fine.set(harmonics, made);
		return made;
	}

	problem(frequency: number, harmonics: number, dbm: number): Problem {
		let network = this.#networks.get(frequency);
		if (!network) {
			network = reducedNetwork(this.equations, frequency, this.#around);
			this.#networks.set(frequency, network);
		}
		return { frequency, networks: network.upTo(harmonics), drive: driveFromDbm(dbm) };
	}

	/** Impedances between the device ports at any multiple of a frequency; those of the last frequency are kept. */
	network(frequency: number, multiple: number): { readonly impedance: ComplexArray } {
		if (this.#between?.frequency !== frequency) this.#between = { frequency, impedances: new Map() };
		const { impedances } = this.#between;
		let impedance = impedances.get(multiple);
		if (!impedance) {
			impedance = this.#impedance(multiple, frequency);
			impedances.set(multiple, impedance);
		}
		return { impedance };
	}

	/**
	 * How many modes of the linear part grow by themselves, with a capacitance across every device port, see
	 * `growingDisturbances`.
	 */
	linearModes(frequency: number, capacitances: readonly number[]): number {
		return growingLinearModes(this.equations, capacitances, this.#endsAt(frequency))?.modes ?? 0;
	}

	/**
	 * Whether modes grow too far above the drive for `growingDisturbances`, each device taken as its mean over a period of
	 * the drive, which is nearly at rest for them.
	 */
	growsAbove(frequency: number, system: HarmonicSystem): boolean {
		const means = (rows: readonly Reals[]): readonly Reals[] =>
			rows.map((row) => new Float64Array([row.reduce((sum, value) => sum + value, 0) / row.length]));
		const devices = system.evaluations.map((own) => ({
			...own,
			conductance: means(own.conductance),
			capacitance: means(own.capacitance)
		}));
		const growth = growingModes(this.equations, { ends: this.#endsAt(frequency), devices });
		return growth !== null && growth.frequency > highestSeen(system) * frequency;
	}

	/** What is connected, asked for by way of the multiples of a frequency. */
	#endsAt(frequency: number): EndsAt {
		return (f) => this.#around.ends(f / frequency, frequency);
	}

	/** Coefficients of the device ports' voltages without drive. */
	atRest(frequency: number, harmonics: number): Reals {
		const ends = this.#around.ends(0, frequency);
		const key = ends.map(({ re, im }) => `${re},${im}`).join(' ');
		let rest = this.#rest.get(key);
		if (!rest) {
			rest = operatingPoint(this.equations, ends);
			this.#rest.set(key, rest);
		}
		const count = 2 * harmonics + 1;
		const unknowns = new Float64Array(rest.portVoltages.length * count);
		rest.portVoltages.forEach((v, p) => (unknowns[p * count] = v));
		return unknowns;
	}
}
