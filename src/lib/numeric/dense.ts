import type { Reals } from './reals.ts';

/**
 * Small dense systems of linear equations, solved in place by elimination with partial pivoting (Golub & Van Loan,
 * *Matrix Computations*, 4th ed., 2013, section 3.4). A system is one augmented matrix, row by row: `size` columns of
 * the matrix, then the right-hand sides up to `width` columns. The solutions take the place of the right-hand sides;
 * the matrix is used up. Nothing is allocated.
 *
 * Both functions return −1, or the index of the first column without a usable pivot (the system is singular there: its
 * solutions mean nothing). A pivot is usable unless it is zero or no number, or so small or large that it counts as that.
 */

const SMALLEST = 1e-300;
/** Complex pivots are squared, which must not leave the range of numbers. */
const SMALLEST_COMPLEX = 1e-150;
const LARGEST_COMPLEX = 1e150;

/** Two pivots a pass, so that every row below is read and written half as often; four of those rows at a time. */
export function solveReal(a: Reals, size: number, width: number): number {
	const n = size | 0;
	const w = width | 0;
	let k = 0;
	for (; k + 1 < n; k += 2) {
		const r1 = k * w;
		const r2 = r1 + w;
		if (!pivotReal(a, k, k, n, w)) return k;
		const d1 = 1 / a[r1 + k];
		const beside = a[r1 + k + 1];
		for (let i = k + 1; i < n; i++) {
			const row = i * w + k;
			const factor = a[row] * d1;
			a[row] = factor;
			a[row + 1] -= factor * beside;
		}
		if (!pivotReal(a, k + 1, k, n, w)) return k + 1;
		const first = a[r2 + k];
		for (let j = k + 2; j < w; j++) a[r2 + j] -= first * a[r1 + j];
		const d2 = 1 / a[r2 + k + 1];
		let i = k + 2;
		for (; i + 3 < n; i += 4) {
			const s = i * w;
			const t = s + w;
			const u = t + w;
			const v = u + w;
			const s1 = a[s + k];
			const s2 = a[s + k + 1] * d2;
			const t1 = a[t + k];
			const t2 = a[t + k + 1] * d2;
			const u1 = a[u + k];
			const u2 = a[u + k + 1] * d2;
			const v1 = a[v + k];
			const v2 = a[v + k + 1] * d2;
			for (let j = k + 2; j < w; j++) {
				const p = a[r1 + j];
				const q = a[r2 + j];
				a[s + j] -= s1 * p + s2 * q;
				a[t + j] -= t1 * p + t2 * q;
				a[u + j] -= u1 * p + u2 * q;
				a[v + j] -= v1 * p + v2 * q;
			}
		}
		for (; i < n; i++) {
			const s = i * w;
			const s1 = a[s + k];
			const s2 = a[s + k + 1] * d2;
			for (let j = k + 2; j < w; j++) a[s + j] -= s1 * a[r1 + j] + s2 * a[r2 + j];
		}
	}
	if (k < n && !(Math.abs(a[k * w + k]) > SMALLEST)) return k;
	for (let column = n; column < w; column++) {
		for (let i = n - 1; i >= 0; i--) {
			const row = i * w;
			let sum = a[row + column];
			for (let j = i + 1; j < n; j++) sum -= a[row + j] * a[j * w + column];
			a[row + column] = sum / a[row + i];
		}
	}
	return -1;
}

/** Brings the largest of column k from row k down to row k, moving columns `from` on; false if it is zero or no number. */
function pivotReal(a: Reals, k: number, from: number, n: number, w: number): boolean {
	let best = Math.abs(a[k * w + k]);
	let place = k;
	for (let i = k + 1; i < n; i++) {
		const size = Math.abs(a[i * w + k]);
		if (size > best) {
			best = size;
			place = i;
		}
	}
	if (!(best > SMALLEST) || best === Infinity) return false;
	if (place !== k) {
		const r = k * w;
		const p = place * w;
		for (let j = from; j < w; j++) {
			const kept = a[r + j];
			a[r + j] = a[p + j];
			a[p + j] = kept;
		}
	}
	return true;
}

/** The same for complex numbers: `re` and `im` of one augmented matrix. */
export function solveComplex(re: Reals, im: Reals, size: number, width: number): number {
	const exchanges = eliminate(re, im, size, width);
	if (exchanges < 0) return -1 - exchanges;
	substitute(re, im, size, width);
	return -1;
}

/**
 * The first step of solving, by the largest pivot of each column: leaves the pivots on the diagonal, the first `size`
 * columns upper triangular. Returns how often two rows were exchanged, or −1 − k where the k-th column has no pivot.
 */
function eliminate(re: Reals, im: Reals, size: number, width: number): number {
	const n = size | 0;
	const w = width | 0;
	let exchanges = 0;
	for (let k = 0; k < n; k++) {
		const r = k * w;
		let best = Math.abs(re[r + k]) + Math.abs(im[r + k]);
		let place = k;
		for (let i = k + 1; i < n; i++) {
			const magnitude = Math.abs(re[i * w + k]) + Math.abs(im[i * w + k]);
			if (magnitude > best) {
				best = magnitude;
				place = i;
			}
		}
		if (!(best > SMALLEST_COMPLEX && best < LARGEST_COMPLEX)) return -1 - k;
		if (place !== k) {
			exchanges++;
			const p = place * w;
			for (let j = k; j < w; j++) {
				const keptRe = re[r + j];
				const keptIm = im[r + j];
				re[r + j] = re[p + j];
				im[r + j] = im[p + j];
				re[p + j] = keptRe;
				im[p + j] = keptIm;
			}
		}
		const square = re[r + k] * re[r + k] + im[r + k] * im[r + k];
		const dr = re[r + k] / square;
		const di = -im[r + k] / square;
		for (let i = k + 1; i < n; i++) {
			const row = i * w;
			const xr = re[row + k];
			const xi = im[row + k];
			if (xr === 0 && xi === 0) continue;
			const fr = xr * dr - xi * di;
			const fi = xr * di + xi * dr;
			for (let j = k + 1; j < w; j++) {
				const ur = re[r + j];
				const ui = im[r + j];
				re[row + j] -= fr * ur - fi * ui;
				im[row + j] -= fr * ui + fi * ur;
			}
		}
	}
	return exchanges;
}

/** The last step of solving: from the eliminated matrix and right-hand sides to the solutions. */
function substitute(re: Reals, im: Reals, size: number, width: number): void {
	const n = size | 0;
	const w = width | 0;
	for (let i = n - 1; i >= 0; i--) {
		const row = i * w;
		const square = re[row + i] * re[row + i] + im[row + i] * im[row + i];
		const dr = re[row + i] / square;
		const di = -im[row + i] / square;
		for (let column = n; column < w; column++) {
			let sr = re[row + column];
			let si = im[row + column];
			for (let j = i + 1; j < n; j++) {
				const ur = re[row + j];
				const ui = im[row + j];
				if (ur === 0 && ui === 0) continue;
				const vr = re[j * w + column];
				const vi = im[j * w + column];
				sr -= ur * vr - ui * vi;
				si -= ur * vi + ui * vr;
			}
			re[row + column] = sr * dr - si * di;
			im[row + column] = sr * di + si * dr;
		}
	}
}

/**
 * Angle of the determinant of a complex matrix in radians, −π to π; the matrix is used up. NaN if it is singular. Of a
 * system of more columns up to `width`, the right-hand sides are solved for as well.
 */
export function determinantAngle(re: Reals, im: Reals, size: number, width = size): number {
	const exchanges = eliminate(re, im, size, width);
	if (exchanges < 0) return NaN;
	let angle = exchanges * Math.PI;
	for (let k = 0; k < size; k++) angle += Math.atan2(im[k * width + k], re[k * width + k]);
	substitute(re, im, size, width);
	return Math.atan2(Math.sin(angle), Math.cos(angle));
}
