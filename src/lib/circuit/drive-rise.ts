import type { Reals } from '#lib/numeric/reals.ts';
import { driveFromDbm } from './driven-equations.ts';
import type { DrivenEquations } from './driven-equations.ts';
import { roundFold } from './fold.ts';
import { solveHarmonics } from './harmonic-newton.ts';

/** A solved drive: the coefficients of every device port's voltage. */
export interface Solution {
	readonly dbm: number;
	readonly harmonics: number;
	readonly unknowns: Reals;
	/** True past a fold, where it is not sure that the circuit stays in this state. */
	readonly jumped: boolean;
}

/** How a rise ended; `path` are the last one or two solutions, and the system stands evaluated at the last. */
export interface Rise {
	readonly converged: boolean;
	readonly iterations: number;
	readonly path: readonly Solution[];
}

/** Up to this level one step is tried; a first step that fails starts this much lower, dB. */
const FIRST_DBM = -30;
const LOWER = 10;
const MOST_LOWER = 10;
/** The step above it to begin with, and the smallest and largest one, dB. */
const FIRST_STEP = 2;
const SMALLEST_STEP = 0.01;
const LARGEST_STEP = 2.5;
const MOST_STEPS = 400;
/** A solution further from the guess than this share of the step is not trusted: a shorter step decides. */
const STRAYED = 0.3;
/** A distance below this share of the unknowns is rounding: that of a device the drive does not reach. */
const ROUNDING = 1e-12;
/** V; so it is below this, far less than anything here can tell. */
const LEAST = 1e-14;
/** A step that took no more Newton steps than this may grow. */
const EASY = 4;

/** Coefficients for another number of harmonics: the missing ones zero. */
export function resized(unknowns: Reals, ports: number, from: number, to: number): Reals {
	const before = 2 * from + 1;
	const after = 2 * to + 1;
	const out = new Float64Array(ports * after);
	for (let p = 0; p < ports; p++)
		for (let c = 0; c < Math.min(before, after); c++) out[p * after + c] = unknowns[p * before + c];
	return out;
}

/** True if a solution lies so far from the guess, for so long a step from `last`, that it may be on another branch. */
export function strayed(unknowns: Reals, guessed: Reals, last: Reals): boolean {
	let missed = 0;
	let moved = 0;
	let whole = 0;
	for (let i = 0; i < unknowns.length; i++) {
		missed += (unknowns[i] - guessed[i]) ** 2;
		moved += (unknowns[i] - last[i]) ** 2;
		whole += unknowns[i] ** 2;
	}
	return missed > Math.max(STRAYED ** 2 * moved, ROUNDING ** 2 * whole, LEAST ** 2);
}

/** A guess at `dbm`: the straight line, in volts of drive, through the last two solutions (or the rest and the last). */
function guess(
	driven: DrivenEquations,
	frequency: number,
	harmonics: number,
	dbm: number,
	path: readonly Solution[]
): Reals {
	const last = path.at(-1);
	if (last === undefined) return driven.atRest(frequency, harmonics);
	const start = last.unknowns.slice();
	if (last.dbm === dbm) return start;
	const before = path.at(-2);
	const rest = before === undefined ? driven.atRest(frequency, harmonics) : before.unknowns;
	const first = before === undefined ? 0 : driveFromDbm(before.dbm);
	const share = (driveFromDbm(dbm) - driveFromDbm(last.dbm)) / (driveFromDbm(last.dbm) - first);
	for (let i = 0; i < start.length; i++) start[i] += share * (last.unknowns[i] - rest[i]);
	return start;
}

/** The solution at `dbm` on the branch of `last`, past the folds in between; null if it does not lead there. */
function jump(
	driven: DrivenEquations,
	frequency: number,
	dbm: number,
	harmonics: number,
	last: Solution
): { readonly solution: Solution; readonly iterations: number } | null {
	const system = driven.system(harmonics);
	const problem = driven.problem(frequency, harmonics, dbm);
	const unknowns = roundFold(system, problem, last.unknowns, driveFromDbm(last.dbm));
	if (unknowns === null) return null;
	const { converged, iterations } = solveHarmonics(system, problem, unknowns);
	return converged ? { solution: { dbm, harmonics, unknowns, jumped: true }, iterations } : null;
}

/**
 * Follows the solution from those of `path` (none: from rest) up to `dbm`, in steps that shrink where Newton's method
 * fails and grow where it is easy. It follows the state that a rising level meets. A rise that fails leaves `path` as it was.
 */
export function rise(
	driven: DrivenEquations,
	frequency: number,
	dbm: number,
	harmonics: number,
	path: readonly Solution[]
): Rise {
	const ports = driven.equations.devicePorts.length;
	let known = path.map((solution) => ({
		...solution,
		harmonics,
		unknowns: resized(solution.unknowns, ports, solution.harmonics, harmonics)
	}));
	let iterations = 0;
	let step = FIRST_STEP;
	let lower = 0;
	for (let k = 0; k < MOST_STEPS; k++) {
		const last = known.at(-1);
		const easy = FIRST_DBM - LOWER * lower;
		const next = Math.min(dbm, last === undefined ? easy : Math.max(easy, last.dbm + step));
		const unknowns = guess(driven, frequency, harmonics, next, known);
		const problem = driven.problem(frequency, harmonics, next);
		const guessed = unknowns.slice();
		const found = solveHarmonics(driven.system(harmonics), problem, unknowns);
		iterations += found.iterations;
		const same = last?.dbm === next;
		if (found.converged && (last === undefined || same || !strayed(unknowns, guessed, last.unknowns))) {
			known = [
				...known.slice(same ? 0 : -1, same ? -1 : undefined),
				{ dbm: next, harmonics, unknowns, jumped: last?.jumped ?? false }
			];
			if (next === dbm) return { converged: true, iterations, path: known };
			if (found.iterations <= EASY) step = Math.min(LARGEST_STEP, step * 1.5);
		} else if (same) break;
		else if (last === undefined || next === easy) {
			lower++;
			if (lower > MOST_LOWER) break;
		} else {
			step = (next - last.dbm) / 2;
			if (step >= SMALLEST_STEP) continue;
			const around = jump(driven, frequency, dbm, harmonics, last);
			if (around === null) break;
			return { converged: true, iterations: iterations + around.iterations, path: [around.solution] };
		}
	}
	return { converged: false, iterations, path };
}
