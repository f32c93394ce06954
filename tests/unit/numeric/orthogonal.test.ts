import { expect, test } from 'vitest';
import { add, complex, conjugate, magnitude, multiply, subtract, ZERO } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { conditionOf, leastSquares, orthogonalFactors } from '#lib/numeric/orthogonal.ts';

const inner = (a: readonly Complex[], b: readonly Complex[]): Complex =>
	a.reduce((sum, value, k) => add(sum, multiply(conjugate(value), b[k])), ZERO);

const columns = [
	[complex(1), complex(1), complex(1), complex(1)],
	[complex(0.3, 1), complex(-2, 0.5), complex(0, -1), complex(1.5, 0.2)],
	[complex(-1, 0.6), complex(4, 2), complex(-1, 0.1), complex(2, 0.7)]
];

test('Q is orthonormal and Q·R is the matrix', () => {
	const { q, r } = orthogonalFactors(columns);
	for (let i = 0; i < 3; i++) {
		for (let j = 0; j < 3; j++) {
			expect(magnitude(subtract(inner(q[i], q[j]), complex(i === j ? 1 : 0)))).toBeLessThan(1e-15);
		}
		columns[i].forEach((value, k) => {
			const product = q.reduce((sum, column, j) => add(sum, multiply(column[k], r[j][i])), ZERO);
			expect(magnitude(subtract(product, value))).toBeLessThan(1e-14);
		});
	}
});

// Läuchli's matrix, the textbook case where one projection is not enough (Björck, Numerical Methods for Least Squares
// Problems, 1996, section 2.4): columns 1 + a number that is lost when squared.
test('Q is orthonormal even of columns that are nearly alike', () => {
	const tiny = 1e-9;
	const nearly = [0, 1, 2].map((j) => [complex(1), ...[0, 1, 2].map((k) => complex(k === j ? tiny : 0))]);
	const { q } = orthogonalFactors(nearly);
	for (const [i, j] of [
		[0, 1],
		[0, 2],
		[1, 2]
	])
		expect(magnitude(inner(q[i], q[j]))).toBeLessThan(1e-15);
});

test('the residual of the least squares stands at right angles to every column', () => {
	const b = [complex(1, 2), complex(-1), complex(0.5, -0.5), complex(3, 1)];
	const x = leastSquares(orthogonalFactors(columns), b);
	const rest = b.map((value, k) =>
		columns.reduce((left, column, j) => subtract(left, multiply(column[k], x[j])), value)
	);
	for (const column of columns) expect(magnitude(inner(column, rest))).toBeLessThan(1e-14);
	expect(Math.hypot(...rest.map(magnitude))).toBeGreaterThan(0.1);
});

// Two unit columns of cosine c: R = [1, c; 0, s], so ‖R‖·‖R⁻¹‖ = √2·√(1 + c²/s² + 1/s²) = 2/s by hand.
test('the condition of two columns at an angle is 2 over its sine, whatever their lengths', () => {
	for (const angle of [Math.PI / 2, 0.3, 1e-4]) {
		const columns = [
			[complex(5), ZERO],
			[complex(0, 0.01 * Math.cos(angle)), complex(0.01 * Math.sin(angle))]
		];
		const condition = conditionOf(orthogonalFactors(columns));
		expect(condition * Math.sin(angle)).toBeCloseTo(2, 7);
	}
});
