import type { Reals } from '#lib/numeric/reals.ts';
import { enterLogarithm, newtonStep, residual } from './harmonic-equations.ts';
import type { HarmonicSystem, Problem } from './harmonic-system.ts';

/** How a search for a solution ended; the unknowns hold the solution only if it converged. */
export interface Search {
	readonly converged: boolean;
	readonly iterations: number;
}

const MOST_PLAIN = 20;
const MOST_LOGARITHMIC = 60;
const SHORTEST_STEP = 1 / 4096;
/** V; far below what anything here can tell. */
const LEAST_STEP = 1e-15;
const MOST_REFINEMENTS = 12;
/** Shares of the largest voltage: a residual that is rounding, and the step a floating port may make of it. */
const ROUNDING = 1e-12;
const FLOATING = 1e-5;

/**
 * A step this small ends the search: Newton squares what is left of the error, which is then far below it. Relative to
 * the largest fundamental, so that a drive of −90 dBm is solved as well as any.
 */
function smallStep({ tables, ports }: HarmonicSystem, unknowns: Reals, share: number): number {
	const count = tables.coefficients;
	let fundamental = 0;
	let largest = 0;
	for (let p = 0; p < ports.length; p++) {
		fundamental = Math.max(fundamental, Math.hypot(unknowns[p * count + 1], unknowns[p * count + 2]));
		largest = Math.max(largest, Math.abs(unknowns[p * count]));
	}
	return share * fundamental + 2e-13 * (largest + fundamental) + LEAST_STEP;
}

/**
 * Newton's method from `unknowns`, which become the answer. A step is halved while the residual grows; with `least` the
 * search is given up once less than that share of a step is left.
 */
function search(
	system: HarmonicSystem,
	problem: Problem,
	unknowns: Reals,
	logarithmic: boolean,
	most: number,
	share: number,
	least: number
): Search {
	const { size } = system;
	const step = new Float64Array(size);
	const trial = new Float64Array(size);
	let norm = residual(system, problem, unknowns, logarithmic);
	for (let iterations = 1; iterations <= most; iterations++) {
		if (!Number.isFinite(norm) || !newtonStep(system, problem, logarithmic, step))
			return { converged: false, iterations };
		let length = 0;
		for (let i = 0; i < size; i++) length = Math.max(length, Math.abs(step[i]));
		const done = length <= smallStep(system, unknowns, share);
		let factor = 1;
		for (;;) {
			for (let i = 0; i < size; i++) trial[i] = unknowns[i] + factor * step[i];
			const next = residual(system, problem, trial, logarithmic);
			if (done || next < norm) {
				norm = next;
				break;
			}
			factor /= 2;
			if (factor >= least) continue;
			// a residual of rounding only cannot fall; a port that floats on next to nothing still turns it into a step
			const scale = smallStep(system, unknowns, 1);
			if (logarithmic || norm > ROUNDING * scale || length > FLOATING * scale)
				return { converged: false, iterations };
			residual(system, problem, unknowns, false);
			return { converged: true, iterations };
		}
		unknowns.set(trial);
		if (done) return { converged: Number.isFinite(norm), iterations };
	}
	return { converged: false, iterations: most };
}

/**
 * Solves the equations of harmonic balance from the start in `unknowns`: first in plain voltages; where less than half a
 * step is left, loosely in logarithmic form from the same start, and then plainly from there. `unknowns` keep their start
 * if nothing converged. After success the system stands evaluated at the solution.
 */
export function solveHarmonics(system: HarmonicSystem, problem: Problem, unknowns: Reals): Search {
	if (system.size === 0) return { converged: true, iterations: 0 };
	const start = unknowns.slice();
	const plain = search(system, problem, unknowns, false, MOST_PLAIN, 1e-8, 0.5);
	if (plain.converged) return plain;
	unknowns.set(start);
	enterLogarithm(system, unknowns);
	const bent = search(system, problem, unknowns, true, MOST_LOGARITHMIC, 1e-4, SHORTEST_STEP);
	let iterations = plain.iterations + bent.iterations;
	if (bent.converged) {
		unknowns.set(system.coefficients);
		const last = search(system, problem, unknowns, false, MOST_PLAIN, 1e-8, SHORTEST_STEP);
		iterations += last.iterations;
		if (last.converged) return { converged: true, iterations };
	}
	unknowns.set(start);
	return { converged: false, iterations };
}

/**
 * Moves a solution of `system` to that of `fine`, the same equations with more samples, by Newton steps with the coarse
 * Jacobian: the two differ by less than a thousandth, and so does each error from the one before. False if it fails.
 * After success `fine` stands evaluated at the solution.
 */
export function refineHarmonics(
	system: HarmonicSystem,
	fine: HarmonicSystem,
	problem: Problem,
	unknowns: Reals
): boolean {
	const step = new Float64Array(system.size);
	for (let k = 0; k < MOST_REFINEMENTS; k++) {
		residual(fine, problem, unknowns, false);
		system.residual.set(fine.residual);
		if (!newtonStep(system, problem, false, step)) return false;
		let length = 0;
		for (let i = 0; i < step.length; i++) {
			length = Math.max(length, Math.abs(step[i]));
			unknowns[i] += step[i];
		}
		if (length <= smallStep(system, unknowns, 1e-8))
			return Number.isFinite(residual(fine, problem, unknowns, false));
	}
	return false;
}
