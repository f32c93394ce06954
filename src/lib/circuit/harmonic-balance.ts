import { wattsFromDbm } from '#lib/numeric/decibel.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { convergedPoint, tailOf } from './driven-point.ts';
import type { DrivenPoint } from './driven-point.ts';
import type { Equations } from './equations.ts';
import { REFERENCE } from './fill.ts';
import { solveHarmonics } from './harmonic-newton.ts';
import { harmonicSystem } from './harmonic-system.ts';
import type { HarmonicSystem, Problem } from './harmonic-system.ts';
import { operatingPoint } from './operating-point.ts';
import type { OperatingPoint } from './operating-point.ts';
import { matchedSurroundings, reducedNetwork } from './reduced-network.ts';
import type { ReducedNetwork, Surroundings } from './reduced-network.ts';

/** Numbers of harmonics tried in turn. */
const HARMONICS = [7, 12, 16, 24];
/** More harmonics are taken while the last two of a port voltage exceed this share of the largest fundamental. */
const LARGEST_TAIL = 0.002;

/** The first level of a rise, the step it starts with, and the smallest and largest step, dB. */
const FIRST_DBM = -30;
const FIRST_STEP = 2;
const SMALLEST_STEP = 0.02;
const LARGEST_STEP = 4;
const MOST_STEPS = 400;

/** A solved drive: the coefficients of every device port's voltage. */
interface Solution {
	readonly dbm: number;
	readonly harmonics: number;
	readonly unknowns: Reals;
}

export interface DrivenOptions {
	/** What is connected to the ports; 50 Ω by default. */
	readonly around?: Surroundings;
	/** A fixed number of harmonics; chosen by itself if left out. */
	readonly harmonics?: number;
}

/** e of the equations, twice the peak voltage into 50 Ω: the open-circuit voltage of a 50 Ω source. */
export const driveFromDbm = (dbm: number): number => Math.sqrt(8 * REFERENCE * wattsFromDbm(dbm));

/** Coefficients for another number of harmonics: the missing ones zero. */
function resized(unknowns: Reals, ports: number, from: number, to: number): Reals {
	const [before, after] = [2 * from + 1, 2 * to + 1];
	const out = new Float64Array(ports * after);
	for (let p = 0; p < ports; p++)
		for (let c = 0; c < Math.min(before, after); c++) out[p * after + c] = unknowns[p * before + c];
	return out;
}

/**
 * A circuit driven at port 1 by one tone, solved by harmonic balance. It keeps the operating point, the linear part of
 * every frequency asked for and the last solutions, none of which change the results but all of which save time.
 */
export class DrivenCircuit {
	readonly #equations: Equations;
	readonly #around: Surroundings;
	readonly #fixed: number | undefined;
	readonly #systems = new Map<number, HarmonicSystem>();
	readonly #networks = new Map<number, ReducedNetwork>();
	readonly #rest = new Map<string, OperatingPoint>();

	constructor(equations: Equations, { around, harmonics }: DrivenOptions = {}) {
		this.#equations = equations;
		this.#around = around ?? matchedSurroundings(equations.ports.length);
		this.#fixed = harmonics;
	}

	/**
	 * One frequency (Hz) at rising levels `dbms` of the source into 50 Ω; the points come in the order asked for. The
	 * solution is followed from low levels up, so that of several possible states it is the one a rising level meets.
	 * Throws `circuit-undetermined` or `circuit-operating-point`; a point that does not converge is no error but says so.
	 */
	solve(frequency: number, dbms: readonly number[]): readonly DrivenPoint[] {
		const points = new Map<number, DrivenPoint>();
		let path: readonly Solution[] = [];
		for (const dbm of [...new Set(dbms)].sort((a, b) => a - b)) {
			const { point, path: next } = this.#point(frequency, dbm, path);
			points.set(dbm, point);
			path = next;
		}
		return dbms.map((dbm) => points.get(dbm)!);
	}

	#system(harmonics: number): HarmonicSystem {
		const found = this.#systems.get(harmonics);
		if (found) return found;
		const made = harmonicSystem(
			this.#equations.devices.map(({ law }) => law),
			harmonics
		);
		this.#systems.set(harmonics, made);
		return made;
	}

	#problem(frequency: number, harmonics: number, dbm: number): Problem {
		let network = this.#networks.get(frequency);
		if (!network) {
			network = reducedNetwork(this.#equations, frequency, this.#around);
			this.#networks.set(frequency, network);
		}
		return { frequency, networks: network.upTo(harmonics), drive: driveFromDbm(dbm) };
	}

	/** Coefficients at rest. */
	#atRest(frequency: number, harmonics: number): Reals {
		const ends = this.#around.ends(0, frequency);
		const key = ends.map(({ re, im }) => `${re},${im}`).join(' ');
		let rest = this.#rest.get(key);
		if (!rest) {
			rest = operatingPoint(this.#equations, ends);
			this.#rest.set(key, rest);
		}
		const unknowns = new Float64Array(rest.portVoltages.length * (2 * harmonics + 1));
		rest.portVoltages.forEach((v, p) => (unknowns[p * (2 * harmonics + 1)] = v));
		return unknowns;
	}

	#point(
		frequency: number,
		dbm: number,
		path: readonly Solution[]
	): { point: DrivenPoint; path: readonly Solution[] } {
		const choices = this.#fixed === undefined ? HARMONICS : [this.#fixed];
		let iterations = 0;
		// no fewer harmonics than the level below needed
		const least = this.#fixed ?? path.at(-1)?.harmonics ?? HARMONICS[0];
		let reached = path;
		for (const harmonics of choices.filter((choice) => choice >= least)) {
			const rise = this.#rise(frequency, dbm, harmonics, reached);
			iterations += rise.iterations;
			if (!rise.converged)
				return { point: { converged: false, frequency, dbm, harmonics, iterations }, path };
			reached = rise.path;
			const system = this.#system(harmonics);
			if (harmonics === choices.at(-1) || tailOf(system) <= LARGEST_TAIL) {
				const problem = this.#problem(frequency, harmonics, dbm);
				return { point: convergedPoint(this.#equations, system, problem, dbm, iterations), path: reached };
			}
		}
		throw new RangeError('the list of harmonics ended early');
	}

	/** From the last solutions of `path` up to `dbm`, step by step, each step guessed by a straight line through two. */
	#rise(
		frequency: number,
		dbm: number,
		harmonics: number,
		path: readonly Solution[]
	): { converged: boolean; iterations: number; path: readonly Solution[] } {
		const ports = this.#equations.devicePorts.length;
		const fit = ({ dbm: level, harmonics: from, unknowns }: Solution): Solution => ({
			dbm: level,
			harmonics,
			unknowns: from === harmonics ? unknowns : resized(unknowns, ports, from, harmonics)
		});
		let known = path.map(fit);
		let iterations = 0;
		let step = FIRST_STEP;
		for (let k = 0; k < MOST_STEPS; k++) {
			const last = known.at(-1);
			const next = last === undefined ? Math.min(dbm, FIRST_DBM - k * 10) : Math.min(dbm, last.dbm + step);
			const start = this.#guess(frequency, harmonics, next, known);
			const problem = this.#problem(frequency, harmonics, next);
			const found = solveHarmonics(this.#system(harmonics), problem, start);
			iterations += found.iterations;
			if (found.converged) {
				if (last && last.dbm === next) known = [...known.slice(0, -1), { dbm: next, harmonics, unknowns: start }];
				else known = [...known.slice(-1), { dbm: next, harmonics, unknowns: start }];
				if (next === dbm) return { converged: true, iterations, path: known };
				if (found.iterations <= 4) step = Math.min(LARGEST_STEP, step * 1.5);
			} else {
				step = (last === undefined ? step : Math.min(step, next - last.dbm)) / 2;
				if (step < SMALLEST_STEP || (last === undefined && k > 12)) break;
			}
		}
		return { converged: false, iterations, path };
	}

	#guess(frequency: number, harmonics: number, dbm: number, known: readonly Solution[]): Reals {
		const last = known.at(-1);
		if (last === undefined) return this.#atRest(frequency, harmonics);
		const before = known.at(-2);
		const start = last.unknowns.slice();
		if (last.dbm === dbm) return start;
		const [e, e1] = [driveFromDbm(dbm), driveFromDbm(last.dbm)];
		const rest = before === undefined ? this.#atRest(frequency, harmonics) : before.unknowns;
		const e0 = before === undefined ? 0 : driveFromDbm(before.dbm);
		const share = (e - e1) / (e1 - e0);
		for (let i = 0; i < start.length; i++) start[i] += share * (last.unknowns[i] - rest[i]);
		return start;
	}
}
