import { add, complex, conjugate, divide, magnitude, multiply, scale, subtract, ZERO } from './complex.ts';
import type { Complex } from './complex.ts';

/**
 * A tall complex matrix of few columns as Q·R, for least squares: `q` are orthonormal columns, `r` is upper triangular
 * (a row an element, its diagonal real and not negative) and `inverse` is R⁻¹ (not finite where columns are dependent).
 */
export interface OrthogonalFactors {
	readonly q: readonly (readonly Complex[])[];
	readonly r: readonly (readonly Complex[])[];
	readonly inverse: readonly (readonly Complex[])[];
}

/** Σ conj(a)·b. */
const inner = (a: readonly Complex[], b: readonly Complex[]): Complex =>
	a.reduce((sum, value, k) => add(sum, multiply(conjugate(value), b[k])), ZERO);

const norm = (a: readonly Complex[]): number => Math.hypot(...a.map(magnitude));

/**
 * Factors the matrix given by its columns (all of one length, at least as long as there are columns) by Gram and
 * Schmidt's method. Every column is projected twice, which leaves Q orthonormal to rounding whatever the condition
 * (Giraud, Langou & Rozložník, Computers & Mathematics with Applications 50, 2005).
 */
export function orthogonalFactors(columns: readonly (readonly Complex[])[]): OrthogonalFactors {
	const size = columns.length;
	const q: Complex[][] = [];
	const r = columns.map(() => new Array<Complex>(size).fill(ZERO));
	columns.forEach((column, j) => {
		let rest = [...column];
		for (let pass = 0; pass < 2; pass++) {
			for (let i = 0; i < j; i++) {
				const share = inner(q[i], rest);
				r[i][j] = add(r[i][j], share);
				rest = rest.map((value, k) => subtract(value, multiply(share, q[i][k])));
			}
		}
		const length = norm(rest);
		r[j][j] = complex(length);
		q.push(rest.map((value) => scale(value, 1 / length)));
	});
	return { q, r, inverse: inverseOf(r) };
}

/** The inverse of an upper triangular matrix, column by column from the diagonal up. */
function inverseOf(r: readonly (readonly Complex[])[]): Complex[][] {
	const out = r.map(() => new Array<Complex>(r.length).fill(ZERO));
	for (let j = 0; j < r.length; j++) {
		out[j][j] = divide(complex(1), r[j][j]);
		for (let i = j - 1; i >= 0; i--) {
			let sum = ZERO;
			for (let k = i + 1; k <= j; k++) sum = add(sum, multiply(r[i][k], out[k][j]));
			out[i][j] = divide(scale(sum, -1), r[i][i]);
		}
	}
	return out;
}

/** The x that makes Σ|A·x − b|² smallest: R⁻¹·Qᴴ·b. */
export function leastSquares({ q, inverse }: OrthogonalFactors, b: readonly Complex[]): Complex[] {
	const projected = q.map((column) => inner(column, b));
	return inverse.map((row) => row.reduce((sum, value, j) => add(sum, multiply(value, projected[j])), ZERO));
}

/**
 * How badly rounding and errors of the data may be magnified: ‖R‖·‖R⁻¹‖ in the Frobenius norm, once the columns are
 * scaled to length one, which is close to the best scaling (van der Sluis, Numerische Mathematik 14, 1969). The number
 * of columns at best; Infinity or NaN for dependent columns.
 */
export function conditionOf({ r, inverse }: OrthogonalFactors): number {
	const lengths = r.map((_, j) => norm(r.map((row) => row[j])));
	const inverted = Math.hypot(...inverse.flatMap((row, i) => row.map((v) => magnitude(v) * lengths[i])));
	return Math.sqrt(r.length) * inverted;
}
