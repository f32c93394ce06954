import { expect, test } from 'vitest';
import { interpolateTable } from '#lib/numeric/interpolation.ts';

const places = [1, 2, 4, 7, 8];

function interpolate(x: number[], y: number[], at: number[]): { values: number[]; outside: boolean } {
	const out = new Float64Array(at.length);
	const outside = interpolateTable(x, y, 1, at, [out]);
	return { values: [...out], outside };
}

test('exact at the data points, ends included', () => {
	const rows = [0.1, -0.7, 1e-9, 3, 2.5];
	expect(interpolate(places, rows, places)).toEqual({ values: rows, outside: false });
});

test('a parabola is reproduced everywhere', () => {
	const parabola = (x: number): number => 3 - 2 * x + 0.5 * x * x;
	const at = Array.from({ length: 71 }, (_, k) => 1 + k / 10);
	const { values } = interpolate(places, places.map(parabola), at);
	values.forEach((value, k) => expect(value).toBeCloseTo(parabola(at[k]), 12));
});

test('the slope is continuous across a data point', () => {
	const rows = [0, 1, -1, 2, 0];
	const step = 1e-6;
	for (const place of [2, 4, 7]) {
		const { values } = interpolate(places, rows, [place - step, place, place + step]);
		expect((values[2] - values[1]) / step).toBeCloseTo((values[1] - values[0]) / step, 4);
	}
});

test('a point moves no piece farther off than the second', () => {
	const at = [1.5, 3];
	const { values } = interpolate(places, [0, 1, -1, 2, 0], at);
	expect(interpolate(places, [0, 1, -1, 2, 99], at).values).toEqual(values);
	expect(interpolate(places, [0, 1, -1, 99, 0], at).values).not.toEqual(values);
});

test('outside the table the end is held and said so', () => {
	expect(interpolate(places, [5, 6, 7, 8, 9], [0.5, 8.5])).toEqual({ values: [5, 9], outside: true });
});

test('two rows give a straight line, one a constant', () => {
	expect(interpolate([1, 3], [10, 20], [1, 1.5, 3])).toEqual({ values: [10, 12.5, 20], outside: false });
	expect(interpolate([2], [4], [2])).toEqual({ values: [4], outside: false });
	expect(interpolate([2], [4], [1, 3])).toEqual({ values: [4, 4], outside: true });
});

test('columns are interpolated each on its own, in any order of places', () => {
	const rows = places.flatMap((x) => [x, 2 * x, -x]);
	const out = [0, 1, 2].map(() => new Float64Array(3));
	interpolateTable(places, rows, 3, [7.5, 1.25, 3], out);
	[1, 2, -1].forEach((slope, k) =>
		[7.5, 1.25, 3].forEach((x, i) => expect(out[k][i]).toBeCloseTo(slope * x, 12))
	);
});
