import type { Reals } from '#lib/numeric/reals.ts';
import { newtonStep, residual } from './harmonic-equations.ts';
import type { HarmonicSystem, Problem } from './harmonic-system.ts';

/**
 * Following a solution where the drive alone does not lead on: at a fold the branch turns back to lower drive and, at a
 * second fold, up again (the jump of a nonlinear resonance). The length along the branch takes the place of the drive
 * (pseudo-arclength continuation, Keller 1977; Allgower & Georg, *Numerical Continuation Methods*, 1990, chapter 2).
 */

const MOST_STEPS = 600;
const MOST_ITERATIONS = 8;
/** Shares of the length of (unknowns, drive): first, smallest and largest step. */
const FIRST = 1e-3;
const SMALLEST = 1e-7;
const LARGEST = 0.03;

/** A place on the branch, and the direction along it: unknowns, then the drive, in V. */
interface Place {
	readonly at: Reals;
	readonly along: Reals;
}

/** Newton step and its change with the drive from where `at` lies: J·s = −F and J·t = ∂(rest + drive·e)/∂e. */
function steps(system: HarmonicSystem, problem: Problem, at: Reals, step: Reals, byDrive: Reals): boolean {
	const { size } = system;
	const here = { ...problem, drive: at[size] };
	if (!Number.isFinite(residual(system, here, at.subarray(0, size), false))) return false;
	if (!newtonStep(system, here, false, step)) return false;
	const { tables, ports } = system;
	const count = tables.coefficients;
	for (let p = 0; p < ports.length; p++) {
		system.residual[p * count] = 0;
		for (let k = 1; k <= tables.harmonics; k++) {
			system.residual[p * count + 2 * k - 1] = -problem.networks[k].drive.re[p];
			system.residual[p * count + 2 * k] = problem.networks[k].drive.im[p];
		}
	}
	return newtonStep(system, here, false, byDrive);
}

const dot = (a: Reals, b: Reals, length: number): number => {
	let sum = 0;
	for (let i = 0; i < length; i++) sum += a[i] * b[i];
	return sum;
};

/** Unit vector along the branch from its slope by the drive, turned to agree with `before`. */
function direction(byDrive: Reals, before: Reals): Reals {
	const size = byDrive.length;
	const out = new Float64Array(size + 1);
	out.set(byDrive);
	out[size] = 1;
	const length = Math.sqrt(dot(out, out, size + 1));
	const sign = dot(out, before, size + 1) < 0 ? -1 : 1;
	for (let i = 0; i <= size; i++) out[i] *= sign / length;
	return out;
}

/** The next place at `length` along the branch, or null if Newton's method does not get there at once. */
function advance(
	system: HarmonicSystem,
	problem: Problem,
	{ at, along }: Place,
	length: number
): Place | null {
	const { size } = system;
	const next = new Float64Array(size + 1);
	const step = new Float64Array(size);
	const byDrive = new Float64Array(size);
	for (let i = 0; i <= size; i++) next[i] = at[i] + length * along[i];
	for (let k = 0; k < MOST_ITERATIONS; k++) {
		if (!steps(system, problem, next, step, byDrive)) return null;
		// the correction stays across the branch: along · (step + d·byDrive, d) = 0
		const d = -dot(along, step, size) / (along[size] + dot(along, byDrive, size));
		let moved = Math.abs(d);
		for (let i = 0; i < size; i++) {
			const move = step[i] + d * byDrive[i];
			next[i] += move;
			moved = Math.max(moved, Math.abs(move));
		}
		next[size] += d;
		if (!(moved < 1e3)) return null;
		if (moved < 1e-3 * length) return { at: next, along: direction(byDrive, along) };
	}
	return null;
}

/**
 * Follows the branch from a solution at the drive `from` until the drive rises through that of `problem`; returns a guess
 * of the unknowns there, or null if the branch does not lead there. In between the drive may fall.
 */
export function roundFold(
	system: HarmonicSystem,
	problem: Problem,
	unknowns: Reals,
	from: number
): Reals | null {
	const { size } = system;
	const start = new Float64Array(size + 1);
	start.set(unknowns);
	start[size] = from;
	const byDrive = new Float64Array(size);
	if (!steps(system, problem, start, new Float64Array(size), byDrive)) return null;
	const upward = new Float64Array(size + 1);
	upward[size] = 1;
	let place: Place = { at: start, along: direction(byDrive, upward) };
	const whole = Math.sqrt(dot(start, start, size + 1));
	let length = FIRST * whole;
	for (let k = 0; k < MOST_STEPS; k++) {
		const next = advance(system, problem, place, length);
		// a bend sharper than this may be a step across to another branch
		if (next === null || dot(next.along, place.along, size + 1) < 0.9) {
			length /= 2;
			if (length < SMALLEST * whole) return null;
			continue;
		}
		const drive = next.at[size];
		if (drive <= 0) return null;
		if (drive >= problem.drive) {
			const share = (problem.drive - place.at[size]) / (drive - place.at[size]);
			return place.at.subarray(0, size).map((v, i) => v + share * (next.at[i] - v));
		}
		place = next;
		length = Math.min(length * 1.4, LARGEST * whole);
	}
	return null;
}
