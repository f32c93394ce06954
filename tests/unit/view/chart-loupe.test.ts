import { expect, test } from 'vitest';
import { complex } from '#lib/numeric/complex.ts';
import type { MarkerReading } from '#lib/bench/picture.ts';
import { frameFor, HEIGHT, toPoint, WIDTH } from '#lib/view/chart/frame.ts';
import {
	aim,
	chooseLoupe,
	enlarged,
	leader,
	loupeCentre,
	opposite,
	quadrantOf,
	share
} from '#lib/view/chart/loupe.ts';
import { nextLoupe } from '#lib/view/chart/loupe-state.ts';

test('the 95 % region of single readings spans 60 to 80 % of the loupe wherever ×2 to ×256 allow it', () => {
	// 0.19 to 28 pixels on the chart, in steps of 1 %.
	for (let semiMajor = 0.19; semiMajor < 28; semiMajor *= 1.01) {
		const loupe = chooseLoupe(semiMajor);
		expect(Number.isInteger(Math.log2(loupe.factor))).toBe(true);
		expect(share(loupe, semiMajor)).toBeGreaterThanOrEqual(0.6);
		expect(share(loupe, semiMajor)).toBeLessThanOrEqual(0.8);
	}
	expect(chooseLoupe(0.001).factor).toBe(256);
	expect(chooseLoupe(100).factor).toBe(2);
	expect(chooseLoupe(0).factor).toBe(256);
	expect(chooseLoupe(null).factor).toBe(8);
});

test('a loupe that still fits is kept', () => {
	const before = chooseLoupe(5);
	const edge = (0.82 * before.radius) / before.factor;
	expect(chooseLoupe(edge, before)).toBe(before);
	expect(chooseLoupe(edge)).not.toEqual(before);
	expect(chooseLoupe(10, before)).not.toBe(before);
});

test('the loupe lies opposite the marker and hops only when the marker has left its quadrant', () => {
	expect(opposite(quadrantOf(complex(0.5, -0.2)))).toBe('upper left');
	expect(quadrantOf(complex(0.5, -0.01))).toBe('lower right');
	expect(quadrantOf(complex(0.5, -0.01), 'upper right')).toBe('upper right');
	expect(quadrantOf(complex(0.5, -0.05), 'upper right')).toBe('lower right');
	expect(quadrantOf(complex(-0.5, 0.3), 'lower right')).toBe('upper left');
});

test('every loupe lies inside the drawing', () => {
	for (const quadrant of ['upper right', 'upper left', 'lower left', 'lower right'] as const)
		for (const radius of [72, 58, 48]) {
			const centre = loupeCentre(frameFor(1), quadrant, radius);
			expect(centre.x - radius).toBeGreaterThanOrEqual(2);
			expect(centre.x + radius).toBeLessThanOrEqual(WIDTH - 2);
			expect(centre.y - radius).toBeGreaterThanOrEqual(2);
			expect(centre.y + radius + 11).toBeLessThanOrEqual(HEIGHT);
		}
});

test('through the loupe the aim is at its centre and distances are larger by its factor', () => {
	const [frame, loupe] = [frameFor(1), { factor: 8, radius: 72 }];
	const view = enlarged(frame, loupe, { x: 78, y: 258 }, complex(0.5, -0.25));
	expect(toPoint(view, complex(0.5, -0.25))).toEqual({ x: 78, y: 258 });
	expect(toPoint(view, complex(0.51, -0.25)).x - 78).toBeCloseTo(0.01 * 140 * 8, 9);
});

test('the aim follows only once the average has left the middle', () => {
	const [frame, loupe] = [frameFor(1), { factor: 8, radius: 72 }];
	const before = complex(0.5);
	expect(aim(complex(0.51), before, frame, loupe)).toBe(before);
	expect(aim(complex(0.52), before, frame, loupe)).toEqual(complex(0.52));
});

test('the leader runs from glass to ring, and is left out where they touch', () => {
	const line = leader({ x: 0, y: 0 }, 70, { x: 100, y: 0 }, 10);
	expect(line).toEqual([
		{ x: 70, y: 0 },
		{ x: 90, y: 0 }
	]);
	expect(leader({ x: 0, y: 0 }, 70, { x: 75, y: 0 }, 10)).toBeNull();
});

const reading = (gamma: { re: number; im: number }, spreadSingle: number | null) =>
	({ gamma, spreadSingle }) as MarkerReading;

test('a factor chosen by hand stays until it is given back; another marker begins anew', () => {
	const frame = frameFor(1);
	const first = nextLoupe(frame, reading(complex(0.5, -0.2), 0.04), 1, null, null)!;
	expect(first).toMatchObject({ quadrant: 'upper left', loupe: { factor: 8 } });
	const byHand = nextLoupe(frame, reading(complex(0.5, -0.2), 0.04), 1, 64, first)!;
	expect(byHand.loupe.factor).toBe(64);
	expect(nextLoupe(frame, reading(complex(0.5, -0.2), 0.04), 1, null, byHand)!.loupe.factor).toBe(8);
	const other = nextLoupe(frame, reading(complex(-0.01, 0.3), 0.04), 2, null, first)!;
	expect(other).toMatchObject({ marker: 2, quadrant: 'lower right' });
	expect(nextLoupe(frame, reading(complex(NaN, 0), 0.04), 1, null, first)).toBeNull();
});
