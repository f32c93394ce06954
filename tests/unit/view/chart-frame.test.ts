import { expect, test } from 'vitest';
import { complex } from '#lib/numeric/complex.ts';
import { cloudBands } from '#lib/view/chart/cloud.ts';
import {
	frameFor,
	held,
	largestMagnitude,
	RADIUS,
	reachFor,
	toGamma,
	toPoint,
	tracePath
} from '#lib/view/chart/frame.ts';
import { spreadIndices } from '#lib/view/chart/table-rows.ts';

const trace = (...values: [number, number][]) => ({
	re: Float64Array.from(values, (v) => v[0]),
	im: Float64Array.from(values, (v) => v[1])
});

test('Γ goes to the screen with its imaginary part upward, and back', () => {
	const frame = frameFor(1);
	expect(toPoint(frame, complex(0, 1))).toEqual({ x: 168, y: 166 - RADIUS });
	const back = toGamma(frame, toPoint(frame, complex(-0.3, 0.45)));
	expect(back.re).toBeCloseTo(-0.3, 12);
	expect(back.im).toBeCloseTo(0.45, 12);
});

test('the drawing reaches beyond the rim for readings that lie there, and does not breathe', () => {
	expect(reachFor(0.8)).toBe(1);
	expect(reachFor(1)).toBe(1);
	expect(reachFor(1.01)).toBe(1.25);
	expect(reachFor(200)).toBe(3);
	// Just under the smaller reach it stays; well under, it falls.
	expect(reachFor(1.24, 1.6)).toBe(1.6);
	expect(reachFor(1.1, 1.6)).toBe(1.25);
	expect(reachFor(0.9, 3)).toBe(1);
	expect(largestMagnitude(trace([0.3, 0.4], [NaN, 0], [Infinity, 0]))).toBeCloseTo(0.5, 12);
});

test('what lies beyond the drawing is held at its edge, in its own direction', () => {
	const frame = frameFor(3);
	expect(held(frame, complex(0, -30)).im).toBeCloseTo(-3, 12);
	expect(held(frame, complex(1.2, 0))).toEqual(complex(1.2, 0));
});

test('a trace keeps its ends, leaves out points that cannot be told apart and breaks at gaps', () => {
	const frame = frameFor(1);
	expect(tracePath(frame, trace([0, 0], [0.5, 0], [0, 0.5]))).toBe('M168,166L238,166L168,96');
	expect(tracePath(frame, trace([0, 0], [1e-4, 0], [2e-4, 0]))).toBe('M168,166L168,166');
	expect(tracePath(frame, trace([0, 0], [NaN, 0], [0.5, 0]))).toBe('M168,166ZM238,166Z');
	const many = Array.from({ length: 100_000 }, (_, i): [number, number] => [
		Math.cos(i / 1e5),
		Math.sin(i / 1e5)
	]);
	expect(tracePath(frame, trace(...many)).length).toBeLessThan(10_000);
});

test('the cloud is at most four paths, older readings paler', () => {
	const frame = frameFor(1);
	const values = Array.from({ length: 200 }, (_, i): [number, number] => [i / 1000, 0]);
	const bands = cloudBands(frame, trace(...values), frame.centre, 150);
	expect(bands.map((band) => band.opacity)).toEqual([0.45, 0.6, 0.78, 0.95]);
	expect(bands.map((band) => band.path.split('M').length - 1)).toEqual([50, 50, 50, 50]);
	expect(bands[0].path.startsWith('M168.0 166.0h0')).toBe(true);
	// Out of sight and undefined readings are left out.
	expect(cloudBands(frame, trace([9, 0], [NaN, 0]), frame.centre, 150)).toEqual([]);
});

test('the table shows all of a short sweep and 21 rows of a long one', () => {
	expect(spreadIndices(1)).toEqual([0]);
	expect(spreadIndices(3)).toEqual([0, 1, 2]);
	const rows = spreadIndices(201);
	expect(rows).toHaveLength(21);
	expect([rows[0], rows[10], rows[20]]).toEqual([0, 100, 200]);
});
