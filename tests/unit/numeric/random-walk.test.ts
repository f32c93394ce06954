import { expect, test, vi } from 'vitest';
import { normalPair } from '#lib/numeric/random.ts';
import type * as random from '#lib/numeric/random.ts';
import { RandomWalk, randomWalk, WALK_RANGE, WALK_STEP } from '#lib/numeric/random-walk.ts';

// the real draws, counted
vi.mock(import('#lib/numeric/random.ts'), async (importOriginal) => {
	const original: typeof random = await importOriginal();
	return { ...original, normalPair: vi.fn(original.normalPair) };
});
const drawsOf = (work: () => void): number => {
	vi.mocked(normalPair).mockClear();
	work();
	return vi.mocked(normalPair).mock.calls.length;
};

const SEED = 20_240_611;
const STREAM = 0xfedcba98;
const TIMES = [
	...[
		0,
		WALK_STEP,
		0.3,
		1,
		59.99,
		60,
		3600,
		3600 + WALK_STEP,
		86_400.5,
		1e6,
		1e6 + 0.001,
		2 ** 31 - WALK_STEP
	],
	...[2 ** 31, 2 ** 31 + 0.5, 3e9, WALK_RANGE - WALK_STEP, WALK_RANGE]
];

test('the walk begins at 0', () => {
	expect(randomWalk(SEED, STREAM, 0)).toBe(0);
});

test('a value does not depend on what was asked before, to the last bit', () => {
	const alone = TIMES.map((time) => {
		const walk = new RandomWalk(SEED, STREAM);
		walk.moveTo(time);
		return [walk.re, walk.im];
	});
	expect(TIMES.map((time) => randomWalk(SEED, STREAM, time))).toEqual(alone.map(([re]) => re));
	const walk = new RandomWalk(SEED, STREAM);
	const last = TIMES.length - 1;
	const orders = [
		TIMES.map((_, i) => i),
		TIMES.map((_, i) => last - i),
		// 7 and 17 have no common divisor: every time once, in leaps
		TIMES.map((_, i) => (7 * i) % TIMES.length)
	];
	for (const order of orders) {
		for (const i of order) {
			walk.moveTo(TIMES[i]);
			expect([walk.re, walk.im]).toEqual(alone[i]);
		}
	}
	walk.moveTo(-1);
	walk.moveTo(TIMES[3]);
	expect([walk.re, walk.im]).toEqual(alone[3]);
});

test('every middle is that of its ends plus half the root of the length times a draw of its own', () => {
	// the construction written out: interval n has the halves 2n and 2n + 1
	const draw = (interval: number): number =>
		normalPair(SEED, STREAM, Math.floor(interval / 2 ** 32), interval % 2 ** 32)[0];
	const middle = (low: number, high: number, interval: number): void => {
		const half = (low + high) / 2;
		const [left, right] = [randomWalk(SEED, STREAM, low), randomWalk(SEED, STREAM, high)];
		const expected = (left + right) / 2 + (Math.sqrt(high - low) / 2) * draw(interval);
		expect(Math.abs(randomWalk(SEED, STREAM, half) - expected)).toBeLessThan(
			1e-10 * (1 + Math.abs(expected))
		);
	};
	expect(randomWalk(SEED, STREAM, WALK_RANGE)).toBe(draw(0) * 65_536);
	middle(0, WALK_RANGE, 1);
	middle(0, WALK_RANGE / 2, 2);
	middle(WALK_RANGE / 2, WALK_RANGE, 3);
	// level 31: intervals of 2 s, the second one and the last
	middle(2, 4, 2 ** 31 + 1);
	middle(WALK_RANGE - 2, WALK_RANGE, 2 ** 32 - 1);
	// the last level: intervals of two steps, numbered beyond 2³²
	middle(1000, 1000 + 2 * WALK_STEP, 2 ** 41 + 512_000);
	middle(WALK_RANGE - 2 * WALK_STEP, WALK_RANGE, 2 ** 42 - 1);
});

test('any time takes 43 draws alone, however much was skipped, and few after a time near it', () => {
	for (const time of [0.3, 1e4, 3e9]) expect(drawsOf(() => randomWalk(SEED, STREAM, time))).toBe(43);
	const walk = new RandomWalk(SEED, STREAM);
	walk.moveTo(5);
	expect(drawsOf(() => walk.moveTo(5 + WALK_STEP / 2))).toBe(0);
	expect(drawsOf(() => walk.moveTo(5 + WALK_STEP))).toBe(1);
	expect(drawsOf(() => walk.moveTo(3e9))).toBeLessThanOrEqual(42);
	const often = drawsOf(() => {
		for (let step = 0; step < 1024; step++) walk.moveTo(100 + step * WALK_STEP);
	});
	expect(often).toBeLessThan(2 * 1024 + 42);
});

test('between two steps it is a straight line', () => {
	const [before, after] = [12, 12 + WALK_STEP].map((time) => randomWalk(SEED, STREAM, time));
	for (const part of [0.25, 0.5, 0.75]) {
		const expected = before + part * (after - before);
		expect(randomWalk(SEED, STREAM, 12 + part * WALK_STEP)).toBeCloseTo(expected, 12);
	}
});

test('times outside the range give NaN', () => {
	for (const time of [-WALK_STEP, WALK_RANGE + 1, NaN, Infinity]) {
		expect(randomWalk(SEED, STREAM, time)).toBeNaN();
	}
});

test('the bits are pinned: an engine or an edit that changes one fails here', () => {
	// computed once by this walk, whose law is checked in tests/reference/drift.test.ts
	const walk = new RandomWalk(SEED, STREAM);
	walk.moveTo(3600);
	expect([walk.re, walk.im]).toEqual([21.52159469809133, -16.029579183451098]);
	walk.moveTo(3e9 + 0.125);
	expect([walk.re, walk.im]).toEqual([46903.35364088677, 8094.807666034211]);
});
