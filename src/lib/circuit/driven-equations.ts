import { wattsFromDbm } from '#lib/numeric/decibel.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import type { Equations } from './equations.ts';
import { REFERENCE } from './fill.ts';
import { harmonicSystem } from './harmonic-system.ts';
import type { HarmonicSystem, Problem } from './harmonic-system.ts';
import { operatingPoint } from './operating-point.ts';
import type { OperatingPoint } from './operating-point.ts';
import { networkAt, reducedNetwork } from './reduced-network.ts';
import type { HarmonicNetwork, ReducedNetwork, Surroundings } from './reduced-network.ts';

/** e of the equations, twice the peak voltage into 50 Ω: the open-circuit voltage of a 50 Ω source of that level. */
export const driveFromDbm = (dbm: number): number => Math.sqrt(8 * REFERENCE * wattsFromDbm(dbm));

const FINER = 8;

/**
 * What solving a driven circuit needs and what does not depend on the drive: operating points, the linear part of every
 * frequency asked for, and room to work in for every number of harmonics. Each is made once and kept.
 */
export class DrivenEquations {
	readonly equations: Equations;
	readonly #around: Surroundings;
	readonly #systems = new Map<number, HarmonicSystem>();
	readonly #fine = new Map<number, HarmonicSystem>();
	readonly #networks = new Map<number, ReducedNetwork>();
	#between: { readonly frequency: number; readonly networks: Map<number, HarmonicNetwork> } | undefined;
	readonly #rest = new Map<string, OperatingPoint>();

	constructor(equations: Equations, around: Surroundings) {
		this.equations = equations;
		this.#around = around;
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

	/** The linear part at any multiple of a frequency; those of the last frequency are kept. */
	network(frequency: number, multiple: number): HarmonicNetwork {
		if (this.#between?.frequency !== frequency) this.#between = { frequency, networks: new Map() };
		const { networks } = this.#between;
		const found = networks.get(multiple);
		if (found) return found;
		const made = networkAt(this.equations, multiple, frequency, this.#around);
		networks.set(multiple, made);
		return made;
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
