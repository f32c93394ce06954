import { finished } from '#lib/numeric/slices.ts';
import { resized, rise, strayed } from './drive-rise.ts';
import type { Rise, Solution } from './drive-rise.ts';
import { DrivenEquations, MOST_FREQUENCIES } from './driven-equations.ts';
import { convergedPoint, tailOf } from './driven-point.ts';
import type { DrivenPoint } from './driven-point.ts';
import type { Equations } from './equations.ts';
import { strayShare } from './harmonic-equations.ts';
import { refineHarmonics, solveHarmonics } from './harmonic-newton.ts';
import type { HarmonicSystem, Problem } from './harmonic-system.ts';
import { powerBalance } from './power-balance.ts';
import type { PowerBalance } from './power-balance.ts';
import { Recent } from './recent.ts';
import { matchedSurroundings } from './reduced-network.ts';
import type { Surroundings } from './reduced-network.ts';
import { growingDisturbances } from './stability.ts';

/** Numbers of harmonics tried in turn. */
const HARMONICS = [7, 12, 16, 24];
/** More harmonics are taken while the last two of a port voltage exceed this share of the largest fundamental. */
const LARGEST_TAIL = 0.002;
/** Below this share the next point of a sweep is tried with fewer. */
const AMPLE_TAIL = 1e-4;
/** Above this share of stray harmonics a solution is refined with more samples. */
const FAINT = 4e-6;

export interface DrivenOptions {
	/** What is connected to the ports; 50 Ω by default. */
	readonly around?: Surroundings;
	/** A fixed number of harmonics, from 2 up; chosen for every point if left out. */
	readonly harmonics?: number;
	/**
	 * Looks whether the circuit stays in the state of every point (some ten milliseconds each). Without it only points past
	 * a fold are looked at.
	 */
	readonly stability?: boolean;
}

interface Neighbour {
	readonly frequency: number;
	readonly solution: Solution;
}

/** A solved point; without a system it did not converge. */
interface Solved {
	readonly system: HarmonicSystem | undefined;
	readonly problem: Problem;
	readonly harmonics: number;
	readonly iterations: number;
	readonly jumped: boolean;
}

/** Finds the solution at one number of harmonics, given that at the number before. */
type Find = (harmonics: number, before: readonly Solution[] | undefined) => Rise;

/**
 * A circuit driven at port 1 by one tone, solved by harmonic balance. It keeps what does not depend on the drive, so
 * another level at the same frequencies costs less than the first.
 *
 * Both ways of asking throw `circuit-undetermined` or `circuit-operating-point` where the circuit itself has no answer;
 * a single point that does not converge is no error: it says so and has no results.
 */
export class DrivenCircuit {
	readonly #driven: DrivenEquations;
	readonly #choices: readonly number[];
	readonly #stability: boolean;
	/** The last one at every frequency. */
	readonly #solutions = new Recent<number, Solution>(MOST_FREQUENCIES);

	constructor(equations: Equations, { around, harmonics, stability }: DrivenOptions = {}) {
		this.#driven = new DrivenEquations(equations, around ?? matchedSurroundings(equations.ports.length));
		this.#stability = stability ?? false;
		this.#choices = harmonics === undefined ? HARMONICS : [harmonics];
	}

	/**
	 * One frequency (Hz) at several levels, dBm of the source into 50 Ω; points in the order asked for. The solution is
	 * followed from low levels up, so that of several possible states it is the one a rising level meets.
	 */
	levels(frequency: number, dbms: readonly number[]): readonly DrivenPoint[] {
		const rising = [...new Set(dbms)].sort((a, b) => a - b);
		const points = new Map(Array.from(this.rising(frequency, rising), (point) => [point.dbm, point]));
		return dbms.map((dbm) => points.get(dbm)!);
	}

	/** The same for levels that rise, one after the other, so that one can stop at any. */
	*rising(frequency: number, dbms: Iterable<number>): Generator<DrivenPoint, void, undefined> {
		const paths = new Map<number, readonly Solution[]>();
		let least = this.#choices[0];
		for (const dbm of dbms) {
			const find: Find = (harmonics, before) => {
				let found = before && rise(this.#driven, frequency, dbm, harmonics, before);
				if (!found?.converged) found = this.#again(frequency, dbm, harmonics, paths.get(harmonics), found);
				if (found.converged) paths.set(harmonics, found.path);
				return found;
			};
			const point = this.#point(frequency, dbm, find, least);
			yield point;
			least = this.#enough(point);
		}
	}

	/**
	 * Several frequencies (Hz, in order along the band) at one level, or at a level for each. Each starts from its two
	 * neighbours before it, and from rest where that does not lead on surely; so of several possible states it is the one a
	 * sweep at this level keeps to. It starts with as many harmonics as its neighbour turned out to need.
	 */
	sweep(frequencies: ArrayLike<number>, dbms: number | ArrayLike<number>): readonly DrivenPoint[] {
		return finished(this.sweepSlices(frequencies, dbms));
	}

	/** The same as `sweep`, with a pause after every point that tells how many are done. */
	*sweepSlices(
		frequencies: ArrayLike<number>,
		dbms: number | ArrayLike<number>
	): Generator<number, readonly DrivenPoint[], undefined> {
		const points: DrivenPoint[] = [];
		let neighbours: readonly Neighbour[] = [];
		let least = this.#choices[0];
		for (const [i, frequency] of Array.from(frequencies).entries()) {
			const dbm = typeof dbms === 'number' ? dbms : dbms[i];
			let solved: Solution | undefined;
			const find: Find = (harmonics, before) => {
				let found = before
					? rise(this.#driven, frequency, dbm, harmonics, before)
					: this.#beside(frequency, dbm, harmonics, neighbours);
				if (!found?.converged) found = this.#again(frequency, dbm, harmonics, [], found);
				solved = found.converged ? found.path.at(-1) : undefined;
				return found;
			};
			const point = this.#point(frequency, dbm, find, least);
			neighbours = solved ? [...neighbours.slice(-1), { frequency, solution: solved }] : [];
			least = this.#enough(point);
			points.push(point);
			yield points.length;
		}
		return points;
	}

	/**
	 * Whether the circuit stays in the state it was last solved in at this frequency and level (Hz, dBm), or else in the one
	 * a rising level meets; false if there is none. For circuits made without `stability`, to look at a single point.
	 */
	stays(frequency: number, dbm: number): boolean {
		const known = this.#solutions.get(frequency);
		const path = known?.dbm === dbm ? [known] : [];
		const find: Find = (harmonics, before) => rise(this.#driven, frequency, dbm, harmonics, before ?? path);
		const { system, problem } = this.#solve(frequency, dbm, find, path[0]?.harmonics);
		return system !== undefined && !this.#grows(system, problem);
	}

	/** Where the power goes at one frequency and level; undefined if that point does not converge. */
	powers(frequency: number, dbm: number): PowerBalance | undefined {
		const { system, problem } = this.#solve(frequency, dbm, (harmonics, before) =>
			rise(this.#driven, frequency, dbm, harmonics, before ?? [])
		);
		return system && powerBalance(this.#driven.equations, system, problem);
	}

	/** After a short cut that failed: the whole rise from `path`, or from rest. */
	#again(
		frequency: number,
		dbm: number,
		harmonics: number,
		path: readonly Solution[] = [],
		failed: Rise | undefined
	): Rise {
		const found = rise(this.#driven, frequency, dbm, harmonics, path);
		return { ...found, iterations: found.iterations + (failed?.iterations ?? 0) };
	}

	/** The number of harmonics the point after this one starts with. */
	#enough(point: DrivenPoint): number {
		const place = this.#choices.indexOf(point.harmonics);
		return this.#choices[Math.max(0, point.converged && point.tail < AMPLE_TAIL ? place - 1 : place)];
	}

	/** Starts from the straight line through the last two neighbours; undefined before there are two. */
	#beside(
		frequency: number,
		dbm: number,
		harmonics: number,
		neighbours: readonly Neighbour[]
	): Rise | undefined {
		const [before, last] = neighbours;
		if (last === undefined || before.frequency === last.frequency) return undefined;
		const ports = this.#driven.equations.devicePorts.length;
		const [earlier, start] = [before, last].map(({ solution }) =>
			resized(solution.unknowns, ports, solution.harmonics, harmonics)
		);
		const share = (frequency - last.frequency) / (last.frequency - before.frequency);
		const guessed = start.map((v, i) => v + share * (v - earlier[i]));
		const unknowns = guessed.slice();
		const problem = this.#driven.problem(frequency, harmonics, dbm);
		const { converged, iterations } = solveHarmonics(this.#driven.system(harmonics), problem, unknowns);
		const trusted = converged && !strayed(unknowns, guessed, start);
		const { jumped } = last.solution;
		return { converged: trusted, iterations, path: [{ dbm, harmonics, unknowns, jumped }] };
	}

	#point(frequency: number, dbm: number, find: Find, least?: number): DrivenPoint {
		const { system, problem, harmonics, iterations, jumped } = this.#solve(frequency, dbm, find, least);
		const lost = { converged: false, frequency, dbm, harmonics, iterations } as const;
		if (system === undefined) return { ...lost, reason: 'not found' };
		if ((this.#stability || jumped) && this.#grows(system, problem)) return { ...lost, reason: 'unstable' };
		return convergedPoint(this.#driven.equations, system, problem, dbm, iterations);
	}

	/** Tries one number of harmonics after the other until the last harmonics are small enough. */
	#solve(frequency: number, dbm: number, find: Find, least = this.#choices[0]): Solved {
		let iterations = 0;
		let path: readonly Solution[] | undefined;
		for (const harmonics of this.#choices.filter((choice) => choice >= least)) {
			const found = find(harmonics, path);
			iterations += found.iterations;
			path = found.converged ? found.path : undefined;
			if (path === undefined || tailOf(this.#driven.system(harmonics)) <= LARGEST_TAIL) break;
		}
		const solution = path?.at(-1);
		if (solution) this.#solutions.set(frequency, solution);
		else this.#solutions.delete(frequency);
		const harmonics = solution?.harmonics ?? least;
		const problem = this.#driven.problem(frequency, harmonics, dbm);
		return {
			system: solution && this.#refined(harmonics, problem, solution),
			problem,
			harmonics,
			iterations,
			jumped: solution?.jumped ?? false
		};
	}

	#grows(system: HarmonicSystem, problem: Problem): boolean {
		const { frequency } = problem;
		const growing = growingDisturbances(
			system,
			problem,
			(multiple) => this.#driven.network(frequency, multiple),
			(capacitances) => this.#driven.linearModes(frequency, capacitances)
		);
		return growing > 0 || this.#driven.growsAbove(frequency, system);
	}

	/** The system that stands evaluated at the final solution; undefined if finer samples do not confirm it. */
	#refined(harmonics: number, problem: Problem, solution: Solution): HarmonicSystem | undefined {
		const system = this.#driven.system(harmonics);
		if (strayShare(system, problem) < FAINT) return system;
		const fine = this.#driven.fineSystem(harmonics);
		return refineHarmonics(system, fine, problem, solution.unknowns.slice()) ? fine : undefined;
	}
}
