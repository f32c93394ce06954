import {
	add,
	complex,
	divide,
	magnitude,
	multiply,
	ONE,
	scale,
	subtract,
	ZERO
} from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { conditionOf, leastSquares, orthogonalFactors } from '#lib/numeric/orthogonal.ts';
import type { OrthogonalFactors } from '#lib/numeric/orthogonal.ts';

/** The known reflection of a standard, what was read of it, and the predicted variance of that reading. */
export interface Reading {
	readonly known: Complex;
	readonly raw: Complex;
	readonly variance: number;
}

/** Error terms at one frequency, what they leave unexplained of each reading, and the condition of the last step. */
export interface ReadingFit {
	readonly directivity: Complex;
	readonly sourceMatch: Complex;
	readonly tracking: Complex;
	readonly residuals: readonly Complex[];
	readonly condition: number;
}

/** Steps of refinement at most; two or three are usual. */
const STEPS = 20;
/** A step that lowers the sum of squares by less than this part of it is the last. */
const ENOUGH = 1e-12;

/** Readings at one frequency, moved and scaled, and the square roots of their weights. */
interface Task {
	readonly known: readonly Complex[];
	readonly raw: readonly Complex[];
	readonly roots: readonly number[];
}

/** Unknowns e00, a and e11, and how well they explain a task: 1 − e11·Γ, modelled readings and weighted residuals. */
interface Trial {
	readonly unknowns: readonly Complex[];
	readonly trips: readonly Complex[];
	readonly modelled: readonly Complex[];
	readonly residuals: readonly Complex[];
	readonly squares: number;
}

/**
 * The error terms that explain three or more readings at one frequency best: Σ|residual|²/variance is smallest.
 *
 * It starts from the linear form m = e00 + a·Γ + e11·Γ·m, a = e10e01 − e00·e11 (Kruppa & Sodomsky, IEEE Trans. MTT-19,
 * 1971), whose noisy m on the right-hand side biases it, and goes on in Gauss and Newton's steps on the readings
 * themselves. Readings are first moved to their mean and scaled to a spread of one, which changes e00 and e10e01 in a
 * known way and keeps the digits behind any pad. What is not finite in the readings makes the terms not finite.
 */
export function fitReadings(readings: readonly Reading[]): ReadingFit {
	const least = Math.min(...readings.map(({ variance }) => variance));
	const weights = readings.map(({ variance }) => least / variance);
	const whole = weights.reduce((sum, weight) => sum + weight, 0);
	const middle = readings.reduce((sum, { raw }, k) => add(sum, scale(raw, weights[k] / whole)), ZERO);
	const spread = Math.max(...readings.map(({ raw }) => magnitude(subtract(raw, middle))));
	const task: Task = {
		known: readings.map(({ known }) => known),
		raw: readings.map(({ raw }) => scale(subtract(raw, middle), 1 / spread)),
		roots: weights.map(Math.sqrt)
	};
	const { trial, factors } = refined(task, linearTrial(task));
	const [directivity, a, sourceMatch] = trial.unknowns;
	return {
		directivity: add(middle, scale(directivity, spread)),
		sourceMatch,
		tracking: scale(add(a, multiply(directivity, sourceMatch)), spread),
		residuals: trial.residuals.map((residual, k) => scale(residual, spread / task.roots[k])),
		condition: conditionOf(factors)
	};
}

/** The columns 1, Γ and Γ·m, each row times a factor. */
const design = (task: Task, raw: readonly Complex[], factors: readonly Complex[]): OrthogonalFactors => {
	const line = factors.map((factor, k) => multiply(factor, task.known[k]));
	return orthogonalFactors([factors, line, line.map((factor, k) => multiply(factor, raw[k]))]);
};

function linearTrial(task: Task): Trial {
	const { raw, roots } = task;
	const factors = design(
		task,
		raw,
		roots.map((root) => complex(root))
	);
	return trialOf(
		task,
		leastSquares(
			factors,
			raw.map((m, k) => scale(m, roots[k]))
		)
	);
}

function trialOf({ known, raw, roots }: Task, unknowns: readonly Complex[]): Trial {
	const [directivity, a, sourceMatch] = unknowns;
	const trips = known.map((gamma) => subtract(ONE, multiply(sourceMatch, gamma)));
	const modelled = known.map((gamma, k) => divide(add(directivity, multiply(a, gamma)), trips[k]));
	const residuals = raw.map((m, k) => scale(subtract(m, modelled[k]), roots[k]));
	const squares = residuals.reduce((sum, { re, im }) => sum + re * re + im * im, 0);
	return { unknowns, trips, modelled, residuals, squares };
}

/** Steps from `first` as long as they help; also the factors of the last step's matrix. */
function refined(task: Task, first: Trial): { trial: Trial; factors: OrthogonalFactors } {
	let trial = first;
	for (let step = 1; ; step++) {
		// the derivatives of a modelled reading: 1, Γ and Γ·m, all over 1 − e11·Γ
		const slopes = trial.trips.map((trip, k) => divide(complex(task.roots[k]), trip));
		const factors = design(task, trial.modelled, slopes);
		const change = leastSquares(factors, trial.residuals);
		const next = trialOf(
			task,
			trial.unknowns.map((unknown, k) => add(unknown, change[k]))
		);
		if (!(next.squares < trial.squares)) return { trial, factors };
		const last = step === STEPS || next.squares > (1 - ENOUGH) * trial.squares;
		trial = next;
		if (last) return { trial, factors };
	}
}
