import type { Reals } from './reals.ts';

/**
 * Piecewise cubic interpolation of a table of rows. Each piece is a Hermite cubic whose slopes at the data points are
 * those of the parabola through the point and its two neighbours (through the first or last three at the ends), as in
 * de Boor, *A Practical Guide to Splines*, 1978, chapter 4. It is exact at the data points, its slope is continuous,
 * and a point moves at most two pieces on each side of it. Two rows give a straight line, one a constant.
 */

/** Index of the piece that holds `at`: the last i with x[i] ≤ at, within 0 … n − 2. */
function pieceAt(x: ArrayLike<number>, at: number): number {
	let low = 0;
	let high = x.length - 1;
	while (high - low > 1) {
		const middle = (low + high) >> 1;
		if (x[middle] <= at) low = middle;
		else high = middle;
	}
	return low;
}

/** Slope at row i of the parabola through the three rows around it. */
function slopeAt(
	x: ArrayLike<number>,
	y: ArrayLike<number>,
	stride: number,
	column: number,
	i: number
): number {
	const last = x.length - 1;
	const middle = Math.min(Math.max(i, 1), last - 1);
	const before = x[middle] - x[middle - 1];
	const after = x[middle + 1] - x[middle];
	const here = y[middle * stride + column];
	const chordBefore = (here - y[(middle - 1) * stride + column]) / before;
	const chordAfter = (y[(middle + 1) * stride + column] - here) / after;
	const bend = (chordAfter - chordBefore) / (before + after);
	if (i < middle) return chordBefore - bend * before;
	if (i > middle) return chordAfter + bend * after;
	return chordBefore + bend * before;
}

/**
 * Interpolates every column of a table at the places `at`.
 * `x`: n ≥ 1 strictly rising places; `rows`: flat, n rows of `columns` numbers; `out`: one array a column, as long as `at`.
 * Outside the table the end row is held; returns true if any place lay outside.
 */
export function interpolateTable(
	x: ArrayLike<number>,
	rows: ArrayLike<number>,
	columns: number,
	at: ArrayLike<number>,
	out: readonly Reals[]
): boolean {
	const last = x.length - 1;
	let outside = false;
	for (let k = 0; k < at.length; k++) {
		if (at[k] < x[0] || at[k] > x[last]) outside = true;
		const place = Math.min(Math.max(at[k], x[0]), x[last]);
		const i = pieceAt(x, place);
		const width = last === 0 ? 1 : x[i + 1] - x[i];
		const u = (place - x[i]) / width;
		for (let column = 0; column < columns; column++) {
			const left = rows[i * columns + column];
			if (u === 0) {
				out[column][k] = left;
				continue;
			}
			const right = rows[(i + 1) * columns + column];
			if (last === 1 || u === 1) {
				out[column][k] = u === 1 ? right : left + (right - left) * u;
				continue;
			}
			const slopeLeft = slopeAt(x, rows, columns, column, i) * width;
			const slopeRight = slopeAt(x, rows, columns, column, i + 1) * width;
			const rise = right - left;
			const cubic = slopeLeft + slopeRight - 2 * rise;
			const square = 3 * rise - 2 * slopeLeft - slopeRight;
			out[column][k] = left + u * (slopeLeft + u * (square + u * cubic));
		}
	}
	return outside;
}
