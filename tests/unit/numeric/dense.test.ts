import { expect, test } from 'vitest';
import { determinantAngle, solveComplex, solveReal } from '#lib/numeric/dense.ts';
import { fillNormals } from '#lib/numeric/random.ts';

/** Normal numbers, a fixed set for each stream. */
function normals(stream: number, length: number): readonly number[] {
	const [out, b, c, d] = [0, 1, 2, 3].map(() => new Float64Array(length));
	fillNormals(out, b, c, d, 0, length, 0, stream, 1);
	return [...out];
}

/** Largest entry of A·x − b over all right-hand sides. */
function worst(a: readonly number[], x: readonly number[], size: number, width: number): number {
	let most = 0;
	for (let i = 0; i < size; i++)
		for (let column = size; column < width; column++) {
			let sum = -a[i * width + column];
			for (let j = 0; j < size; j++) sum += a[i * width + j] * x[j * width + column];
			most = Math.max(most, Math.abs(sum));
		}
	return most;
}

test.each([1, 2, 3, 4, 7, 30, 31])('a real system of %i unknowns and three right-hand sides', (size) => {
	const width = size + 3;
	const a = normals(size, size * width);
	const x = Float64Array.from(a);
	expect(solveReal(x, size, width)).toBe(-1);
	expect(worst(a, [...x], size, width)).toBeLessThan(1e-11);
});

test('a system that needs its rows exchanged', () => {
	const x = new Float64Array([0, 2, 4, 3, 0, 9]);
	expect(solveReal(x, 2, 3)).toBe(-1);
	expect([x[2], x[5]]).toEqual([3, 2]);
});

test.each([1, 2, 3, 8, 21])('a complex system of %i unknowns and two right-hand sides', (size) => {
	const width = size + 2;
	const [ar, ai] = [normals(size, size * width), normals(size + 100, size * width)];
	const [re, im] = [Float64Array.from(ar), Float64Array.from(ai)];
	expect(solveComplex(re, im, size, width)).toBe(-1);
	let most = 0;
	for (let i = 0; i < size; i++)
		for (let column = size; column < width; column++) {
			let r = -ar[i * width + column];
			let q = -ai[i * width + column];
			for (let j = 0; j < size; j++) {
				const [mr, mi] = [ar[i * width + j], ai[i * width + j]];
				const [xr, xi] = [re[j * width + column], im[j * width + column]];
				r += mr * xr - mi * xi;
				q += mr * xi + mi * xr;
			}
			most = Math.max(most, Math.hypot(r, q));
		}
	expect(most).toBeLessThan(1e-11);
});

test('a singular system is told from the column it fails at', () => {
	expect(solveReal(new Float64Array([1, 1, 1, 1, 1, 1]), 2, 3)).toBe(1);
	expect(solveReal(new Float64Array([1, 0, 0, 1, 0, 1, 0, 1, 0, 0, 0, 1]), 3, 4)).toBe(2);
	expect(solveReal(new Float64Array([NaN, 1]), 1, 2)).toBe(0);
	expect(solveComplex(new Float64Array([1, 1, 1, 1, 1, 1]), new Float64Array(6), 2, 3)).toBe(1);
});

test('the angle of a determinant', () => {
	// (1 + j)·(2j) below a row exchange: −(1 + j)·2j = 2 − 2j
	expect(determinantAngle(new Float64Array([0, 0, 1, 5]), new Float64Array([0, 2, 1, 0]), 2)).toBeCloseTo(
		-Math.PI / 4,
		12
	);
	expect(determinantAngle(new Float64Array([1, 0, 0, 1]), new Float64Array(4), 2)).toBeCloseTo(0, 12);
	expect(determinantAngle(new Float64Array([1, 1, 1, 1]), new Float64Array(4), 2)).toBeNaN();
	// a right-hand side is solved for as well: (1 + j)·x + 5·y = 6 + j, 2j·y = 2j
	const [re, im] = [new Float64Array([0, 0, 0, 1, 5, 6]), new Float64Array([0, 2, 2, 1, 0, 1])];
	expect(determinantAngle(re, im, 2, 3)).toBeCloseTo(-Math.PI / 4, 12);
	expect([re[2], im[2], re[5], im[5]].map((value) => Math.round(value * 1e12) / 1e12)).toEqual([1, 0, 1, 0]);
});

test.each([1e-200, 1e200])(
	'a complex pivot of %f, whose square is no number to divide by, is none',
	(pivot) => {
		const [re, im] = [new Float64Array([pivot, 1]), new Float64Array([pivot, 0])];
		expect(solveComplex(re, im, 1, 2)).toBe(0);
		expect(determinantAngle(new Float64Array([pivot]), new Float64Array(1), 1)).toBeNaN();
	}
);
