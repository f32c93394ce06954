import { add, at, complexArray, divide, multiply, ONE, put, subtract, ZERO } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { fillNormals } from '#lib/numeric/random.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { finished } from '#lib/numeric/slices.ts';
import type { Covariance } from '#lib/numeric/statistics.ts';
import type { AverageWeight } from './averaging.ts';
import type { ErrorTerms } from './error-terms.ts';

/**
 * Sweeps of noisy readings, corrected and summed: the inner loop of the simulator. A reading is raw·(1 + amplitude noise +
 * j·phase noise) + floor noise; corrected it is Γ' = x/(t + e·x) with x = m − a, port extension included. What is summed
 * is its deviation from the noiseless Γ', so that a small scatter on a large reflection keeps its digits.
 */

const NAMES = [
	// the noiseless raw reading
	...['rawRe', 'rawIm'],
	// the correction: a = e00, t = e10e01/extension, e = e11/extension
	...['aRe', 'aIm', 'tRe', 'tIm', 'eRe', 'eIm'],
	// the corrected reading without noise
	...['referenceRe', 'referenceIm'],
	// size of the floor noise against the floor deviation of the readings
	'floor',
	// sums of the deviations, of their squares and of their product
	...['sumRe', 'sumIm', 'sumReRe', 'sumImIm', 'sumReIm'],
	// deviation of the latest single reading
	...['latestRe', 'latestIm']
] as const;

type RowName = (typeof NAMES)[number];

/** One row a quantity, a point an element; the rows are parts of `data`, row k from element k·stride on. */
export type SweepRows = {
	readonly points: number;
	readonly data: Reals;
	readonly stride: number;
} & Readonly<Record<RowName, Reals>>;

/** Distances between rows that are whole multiples of this many numbers (4096 bytes) make them fight for one cache set. */
const CACHE_SPAN = 512;
/** How far beyond such a multiple the next row starts: three cache lines, so that no two of the rows coincide. */
const CACHE_STEP = 24;

/** Rows of zeros for `points` ≥ 1 points, all in one buffer. */
export function sweepRows(points: number): SweepRows {
	const stride = Math.ceil(points / CACHE_SPAN) * CACHE_SPAN + CACHE_STEP;
	const data = new Float64Array(stride * NAMES.length);
	const rows = NAMES.map((name, k) => [name, data.subarray(stride * k, stride * k + points)] as const);
	return { points, data, stride, ...(Object.fromEntries(rows) as Record<RowName, Reals>) };
}

/**
 * Sets the rows for noiseless raw readings `raw`, corrected by `terms` (null: not corrected) and moved by the factor
 * `extension` of `plane.ts` (null: not moved), and begins the sums anew. `floor` is the size of the floor noise at every
 * point as a share of the floor deviation of the sweeps (null: the same everywhere).
 */
export function loadRows(
	rows: SweepRows,
	raw: ComplexArray,
	terms: ErrorTerms | null,
	extension: ComplexArray | null,
	floor: Reals | null = null
): void {
	if (floor) rows.floor.set(floor);
	else rows.floor.fill(1);
	for (let i = 0; i < rows.points; i++) {
		const rotation = extension ? at(extension, i) : ONE;
		const m = at(raw, i);
		const a = terms ? at(terms.directivity, i) : ZERO;
		const t = divide(terms ? at(terms.tracking, i) : ONE, rotation);
		const e = terms ? divide(at(terms.sourceMatch, i), rotation) : ZERO;
		const x = subtract(m, a);
		const reference = divide(x, add(t, multiply(e, x)));
		put({ re: rows.rawRe, im: rows.rawIm }, i, m);
		put({ re: rows.aRe, im: rows.aIm }, i, a);
		put({ re: rows.tRe, im: rows.tIm }, i, t);
		put({ re: rows.eRe, im: rows.eIm }, i, e);
		put({ re: rows.referenceRe, im: rows.referenceIm }, i, reference);
	}
	restart(rows);
}

/** Begins the sums anew, as if no sweep had been taken. */
export function restart(rows: SweepRows): void {
	for (const row of [rows.sumRe, rows.sumIm, rows.sumReRe, rows.sumImIm, rows.sumReIm]) row.fill(0);
	rows.latestRe.fill(0);
	rows.latestIm.fill(0);
}

/** Where the noise of readings comes from and how large it is; see `noise.ts` for the deviations. */
export interface ReadingNoise {
	readonly seed: number;
	readonly stream: number;
	/** Of one quadrature of the raw reading. */
	readonly floorDeviation: number;
	/** Relative. */
	readonly amplitudeDeviation: number;
	/** rad. */
	readonly phaseDeviation: number;
}

export interface SweepOptions extends ReadingNoise {
	/** Number of the sweep, counted from 0 on over the life of the stream. */
	readonly sweep: number;
	/** The part of the sums that is kept, from `keptFraction`. */
	readonly kept: number;
}

/** Points worked on at once: their normals stay in the fastest cache. */
const BLOCK = 256;
const normals = new Float64Array(4 * BLOCK);
const [normals0, normals1, normals2, normals3] = [0, 1, 2, 3].map((k) =>
	normals.subarray(k * BLOCK, (k + 1) * BLOCK)
);

/**
 * Takes `count` points from `firstPoint` on of one sweep and adds them to the sums. Every reading depends on seed, stream,
 * sweep and point alone, so a sweep may be cut into pieces and taken in any order with the same result to the last bit;
 * each point must be taken once.
 */
export function takeSweep(
	rows: SweepRows,
	options: SweepOptions,
	firstPoint = 0,
	count: number = rows.points - firstPoint
): void {
	const { seed, stream, sweep } = options;
	const end = (firstPoint + count) | 0;
	for (let first = firstPoint | 0; first < end; first = (first + BLOCK) | 0) {
		const length = Math.min(BLOCK, end - first) | 0;
		fillNormals(normals0, normals1, normals2, normals3, first, length, sweep, stream, seed);
		takeBlock(rows, options, first, length);
	}
}

/**
 * The readings of up to `BLOCK` points whose normals are ready. It reaches into `data` rather than into the rows: one array
 * with eighteen offsets is half as fast again as eighteen arrays.
 */
function takeBlock(rows: SweepRows, options: SweepOptions, first: number, length: number): void {
	first = first | 0;
	length = length | 0;
	const { floorDeviation, amplitudeDeviation, phaseDeviation, kept } = options;
	const { data } = rows;
	const stride = rows.stride | 0;
	// where each row begins, in the order of NAMES
	const rawIm = stride;
	const aRe = (2 * stride) | 0;
	const aIm = (3 * stride) | 0;
	const tRe = (4 * stride) | 0;
	const tIm = (5 * stride) | 0;
	const eRe = (6 * stride) | 0;
	const eIm = (7 * stride) | 0;
	const referenceRe = (8 * stride) | 0;
	const referenceIm = (9 * stride) | 0;
	const floor = (10 * stride) | 0;
	const sumRe = (11 * stride) | 0;
	const sumIm = (12 * stride) | 0;
	const sumReRe = (13 * stride) | 0;
	const sumImIm = (14 * stride) | 0;
	const sumReIm = (15 * stride) | 0;
	const latestRe = (16 * stride) | 0;
	const latestIm = (17 * stride) | 0;
	for (let i = 0; i < length; i = (i + 1) | 0) {
		const p = (first + i) | 0;
		const mRe = data[p];
		const mIm = data[(p + rawIm) | 0];
		const gain = 1 + amplitudeDeviation * normals[(i + 2 * BLOCK) | 0];
		const turn = phaseDeviation * normals[(i + 3 * BLOCK) | 0];
		const deviation = floorDeviation * data[(p + floor) | 0];
		const xRe = mRe * gain - mIm * turn + deviation * normals[i] - data[(p + aRe) | 0];
		const xIm = mRe * turn + mIm * gain + deviation * normals[(i + BLOCK) | 0] - data[(p + aIm) | 0];
		const sRe = data[(p + eRe) | 0];
		const sIm = data[(p + eIm) | 0];
		const dRe = data[(p + tRe) | 0] + (sRe * xRe - sIm * xIm);
		const dIm = data[(p + tIm) | 0] + (sRe * xIm + sIm * xRe);
		const inverse = 1 / (dRe * dRe + dIm * dIm);
		const gRe = (xRe * dRe + xIm * dIm) * inverse - data[(p + referenceRe) | 0];
		const gIm = (xIm * dRe - xRe * dIm) * inverse - data[(p + referenceIm) | 0];
		data[(p + sumRe) | 0] = kept * data[(p + sumRe) | 0] + gRe;
		data[(p + sumIm) | 0] = kept * data[(p + sumIm) | 0] + gIm;
		data[(p + sumReRe) | 0] = kept * data[(p + sumReRe) | 0] + gRe * gRe;
		data[(p + sumImIm) | 0] = kept * data[(p + sumImIm) | 0] + gIm * gIm;
		data[(p + sumReIm) | 0] = kept * data[(p + sumReIm) | 0] + gRe * gIm;
		data[(p + latestRe) | 0] = gRe;
		data[(p + latestIm) | 0] = gIm;
	}
}

/** The averaged reading of every point, after sweeps of the total `weight`, written to `out`. NaN before the first. */
export function means(
	rows: SweepRows,
	weight: AverageWeight,
	out: ComplexArray = complexArray(rows.points)
): ComplexArray {
	for (let i = 0; i < rows.points; i++) {
		out.re[i] = rows.referenceRe[i] + rows.sumRe[i] / weight.sum;
		out.im[i] = rows.referenceIm[i] + rows.sumIm[i] / weight.sum;
	}
	return out;
}

/**
 * Covariance of *single* readings at point i, as the sweeps themselves show it; that of their mean is smaller by
 * `effectiveNumber`. With weights w it is (Σw·g² − (Σw·g)²/Σw)/(Σw − Σw²/Σw), which is unbiased: for equal weights the
 * usual division by n − 1, for the exponential average the same with its fading weights (Kish, *Survey Sampling*, 1965).
 * NaN until there are two sweeps to compare, and always when N is 1, which forgets the sweep before.
 */
export function scatterAt(rows: SweepRows, i: number, weight: AverageWeight): Covariance {
	const freedom = weight.sum - weight.squares / weight.sum;
	if (!(freedom > 0)) return { rr: NaN, ii: NaN, ri: NaN };
	const re = rows.sumRe[i];
	const im = rows.sumIm[i];
	return {
		rr: (rows.sumReRe[i] - (re * re) / weight.sum) / freedom,
		ii: (rows.sumImIm[i] - (im * im) / weight.sum) / freedom,
		ri: (rows.sumReIm[i] - (re * im) / weight.sum) / freedom
	};
}

/** Readings between two pauses: a few milliseconds. */
const SLICE = 100_000;

/** How many readings may still be taken before the next pause; one piece of work shares it over all its sweeps. */
export interface Pace {
	left: number;
}

export const newPace = (): Pace => ({ left: SLICE });

/** One whole sweep. It yields whenever a pause is due, saying how many of its points are taken. */
export function* takeSweepSlices(
	rows: SweepRows,
	options: SweepOptions,
	pace: Pace
): Generator<number, void, undefined> {
	for (let first = 0; first < rows.points;) {
		const count = Math.min(rows.points - first, pace.left);
		takeSweep(rows, options, first, count);
		first += count;
		pace.left -= count;
		if (pace.left > 0) continue;
		pace.left = SLICE;
		yield first;
	}
}

/** Which sweeps of a stream to take: `count` ≥ 1 of them from number `first` on. */
export interface SweepRange {
	readonly first: number;
	readonly count: number;
}

/**
 * The plain mean of noisy raw readings of `raw`, as a calibration takes them of a standard. It pauses every 100 000
 * readings, yielding how many are done, so that whoever runs it can attend to other things in between.
 */
export function* averagedRawSlices(
	raw: ComplexArray,
	noise: ReadingNoise,
	sweeps: SweepRange,
	floor: Reals | null = null
): Generator<number, ComplexArray, undefined> {
	const rows = sweepRows(raw.re.length);
	loadRows(rows, raw, null, null, floor);
	const pace = newPace();
	for (let taken = 0; taken < sweeps.count; taken++) {
		const options = { ...noise, sweep: sweeps.first + taken, kept: 1 };
		for (const points of takeSweepSlices(rows, options, pace)) yield taken * rows.points + points;
	}
	return means(rows, { sum: sweeps.count, squares: sweeps.count });
}

/** `averagedRawSlices` run to its end. */
export function averagedRaw(raw: ComplexArray, noise: ReadingNoise, sweeps: SweepRange): ComplexArray {
	return finished(averagedRawSlices(raw, noise, sweeps));
}
