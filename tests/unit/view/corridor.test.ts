import { expect, test } from 'vitest';
import type { LevelDiagram } from '#lib/bench/picture.ts';
import { axisOf, isLabelled, rangeOf, union } from '#lib/view/corridor/axis.ts';
import { frameOf } from '#lib/view/corridor/layout.ts';
import { detailFor, labelledPlanes, levelLabels } from '#lib/view/corridor/level-labels.ts';
import { levelLines, levelPath, pathOf } from '#lib/view/corridor/level-path.ts';
import {
	ceilingMargin,
	ceilingState,
	floorMargin,
	floorState,
	stateWords
} from '#lib/view/corridor/margins.ts';
import { observedBy, pencilPlace } from '#lib/view/corridor/pencil.ts';
import { lineBoxes } from '#lib/view/corridor/placement.ts';
import { lossOf, lossTags } from '#lib/view/corridor/tags.ts';
import { isReferred, wallBoxes } from '#lib/view/corridor/wall-boxes.ts';
import { turnPath } from '#lib/view/corridor/turn.ts';
import { columnsOf } from '#lib/view/line/columns.ts';
import { exampleLevels, exampleSetup } from './bench-picture-example.ts';

const columns = columnsOf(exampleSetup, 38, 560);
const axis = axisOf({ top: 0, bottom: -110 }, 122, 654.4);
const lines = levelLines(axis, exampleLevels.outgoing, exampleLevels.returning);
const raised = (by: number): LevelDiagram => ({
	...exampleLevels,
	outgoing: exampleLevels.outgoing.map((l) => l + by),
	returning: exampleLevels.returning.map((l) => l + by)
});

test('the axis spans 0 to −110 dBm and grows in steps of 10 dB', () => {
	expect(rangeOf(exampleLevels, 1)).toEqual({ top: 0, bottom: -110 });
	expect(rangeOf(raised(10), 1)).toEqual({ top: 10, bottom: -110 });
	expect(rangeOf(raised(33), 1)).toEqual({ top: 40, bottom: -110 });
	expect(rangeOf({ ...exampleLevels, floor: [-113, -93, -93, -93] }, 1)).toEqual({ top: 0, bottom: -130 });
	expect(rangeOf({ ...exampleLevels, returning: [-Infinity, -Infinity] }, 1)).toEqual({
		top: 0,
		bottom: -110
	});
});

test('the axis makes room at once for the floor that the averages lead to', () => {
	// 127 readings are worth 21.0 dB: the floor of −83 dBm sinks to −104.0
	const expected = { top: 0, bottom: -120 };
	expect(rangeOf(exampleLevels, 64)).toEqual(expected);
	expect(rangeOf({ ...exampleLevels, floor: exampleLevels.floorSingle }, 64)).toEqual(expected);
	expect(rangeOf({ ...exampleLevels, floor: exampleLevels.floor.map((l) => l - 9) }, 64)).toEqual(expected);
	expect(union({ top: 0, bottom: -120 }, { top: 10, bottom: -110 })).toEqual({ top: 10, bottom: -120 });
});

test('a level is drawn in proportion, and held at the edge of the axis', () => {
	expect(axis.pixelsPerDb).toBeCloseTo(4.84);
	expect(axis.y(-10)).toBeCloseTo(170.4);
	expect(axis.y(-110)).toBeCloseTo(654.4);
	expect(axis.inside(-500)).toBeCloseTo(654.4);
	expect(axis.inside(-Infinity)).toBeCloseTo(654.4);
	expect(axis.inside(7)).toBe(122);
	expect(axis.rules).toHaveLength(12);
	expect(axis.rules.filter(isLabelled)).toEqual([0, -20, -40, -60, -80, -100]);
});

test('a pad steps in mid-column, cable and adapter slope across theirs', () => {
	expect(levelPath(columns, [1, 2, 3, 4], 62)).toEqual([
		[62, 1],
		[164, 1],
		[216, 1],
		[216, 2],
		[268, 2],
		[354, 3],
		[420, 4]
	]);
	expect(levelPath(columnsOf({ ...exampleSetup, parts: [] }, 0, 266), [5], 20)).toEqual([
		[20, 5],
		[126, 5]
	]);
	expect(
		pathOf([
			[1, 2],
			[3.04, 4]
		])
	).toBe('M1,2L3,4');
});

test('lines closer than 8 px are moved apart by half the overlap each, others not at all', () => {
	expect(lines.outgoing[0]).toBeCloseTo(axis.y(-10));
	expect(lines.returning[3]).toBeCloseTo(axis.y(-35.44));
	const near = levelLines(axis, [-10], [-11]);
	expect(near.returning[0] - near.outgoing[0]).toBeCloseTo(8);
	expect((near.returning[0] + near.outgoing[0]) / 2).toBeCloseTo(axis.y(-10.5));
});

test('where more returns than goes out the lines swap sides', () => {
	const gain = levelLines(axis, [-10, -13], [-12, -9]);
	expect(gain.swapped).toEqual([false, true]);
	expect(gain.returning[1]).toBeLessThan(gain.outgoing[1]);
	const open = levelLines(axis, [-10], [-10]);
	expect(open.swapped).toEqual([true]);
	expect(open.outgoing[0] - open.returning[0]).toBeCloseTo(8);
	// full reflection behind a lossy cable: the lines only meet, so they do not cross
	expect(levelLines(axis, [-10, -10.2], [-10.4, -10.2]).swapped).toEqual([false, false]);
});

test('margin states follow their limits', () => {
	expect([3, 2.99, 0, -0.01].map(ceilingState)).toEqual(['clear', 'close', 'close', 'out']);
	expect([20, 19.9, 6, 5.9, -Infinity].map(floorState)).toEqual(['clear', 'close', 'close', 'out', 'out']);
	expect(ceilingMargin(exampleLevels)).toEqual({
		state: 'out',
		number: '4.8\u00a0dB',
		words: 'over the ceiling'
	});
	expect(ceilingMargin({ ...exampleLevels, ceilingMargin: 5.25 })?.words).toBe('below the ceiling');
	expect(ceilingMargin({ ...exampleLevels, ceilingMargin: null })).toBeNull();
	expect(floorMargin(exampleLevels)).toEqual({
		state: 'clear',
		number: '39.3\u00a0dB',
		words: 'above the floor'
	});
	expect(floorMargin({ ...exampleLevels, floorMargin: -3 })).toEqual({
		state: 'out',
		number: '3.0\u00a0dB',
		words: 'under the floor',
		verdict: 'lost in noise'
	});
	expect(floorMargin({ ...exampleLevels, floorMargin: 1.3 }).words).toBe('above the floor');
	expect(stateWords(exampleLevels)).toBe(
		stateWords({ ...exampleLevels, ceilingMargin: -1, floorMargin: 25 })
	);
	expect(stateWords(exampleLevels)).not.toBe(stateWords({ ...exampleLevels, floorMargin: 15 }));
});

test('a level is labelled where it changes, equal neighbours at the plane nearer the device', () => {
	expect(labelledPlanes(columns, exampleLevels.outgoing, 'all', null)).toEqual([1, 2, 3]);
	expect(labelledPlanes(columns, [-10, -30, -30.2, -30.201], 'all', null)).toEqual([1, 3]);
	expect(labelledPlanes(columns, [-Infinity, -Infinity, -Infinity, -Infinity], 'all', null)).toEqual([]);
	expect(labelledPlanes(columns, exampleLevels.outgoing, 'pads', null)).toEqual([1, 3]);
	expect(labelledPlanes(columns, exampleLevels.outgoing, 'selected', columns.all[2].selection)).toEqual([
		1, 2, 3
	]);
	expect(labelledPlanes(columns, exampleLevels.outgoing, 'selected', null)).toEqual([3]);
	expect([752, 580, 374].map(detailFor)).toEqual(['all', 'selected', 'pads']);
});

test('labels do not lie on each other or on what stands there already', () => {
	const taken = [{ x: 225, y: 230, width: 60, height: 70 }];
	const ys = lines.outgoing;
	const placed = levelLabels(columns, exampleLevels.outgoing, ys, [1, 2, 3], () => true, taken);
	expect(placed.map((l) => l.plane)).toEqual([2, 3]);
	expect(placed[0].anchor).toBe('end');
	expect(placed[1]).toMatchObject({ text: '\u221230.25', anchor: 'end', x: 416, last: true });
});

test('a part with more than 1 dB carries its loss at both steps, apart from each other', () => {
	expect(lossOf(exampleLevels, 2)).toBeCloseTo(0.2);
	const [tag, ...more] = lossTags(exampleSetup, exampleLevels, columns, lines);
	expect(more).toEqual([]);
	expect(tag).toMatchObject({ column: 1, text: '\u221220\u00a0dB', x: 216 });
	expect(tag.yOutgoing).toBeCloseTo(axis.y(-20));
	expect(tag.yReturning).toBeCloseTo(axis.y(-45.69));
	const together = levelLines(axis, [-10, -12, -12, -12], [-15, -13, -13, -13]);
	const [close] = lossTags(exampleSetup, exampleLevels, columns, together);
	expect(close.yReturning! - close.yOutgoing).toBeCloseTo(32);
	const none = { ...exampleLevels, returning: exampleLevels.returning.map(() => -Infinity) };
	expect(lossTags(exampleSetup, none, columns, lines)[0].yReturning).toBeNull();
});

test('a prediction is measured against the nearer level and its words avoid what stands there', () => {
	const pencil = { plane: 0, level: -65.7, label: 'your pencil', ink: true };
	expect(observedBy(pencil, exampleLevels)).toBe(-55.69);
	expect(observedBy({ ...pencil, plane: 0 }, { ...exampleLevels, returning: [-Infinity] })).toBe(-10);
	expect(pencilPlace(164, 440, 'your pencil', []).crowded).toBe(false);
	expect(pencilPlace(164, 440, 'your pencil', [{ x: 185, y: 430, width: 62, height: 28 }]).crowded).toBe(
		true
	);
});

test('in a short space the value captions go first, then the foot, and 2.5 px a dB stay', () => {
	expect(frameOf(exampleSetup, 752, 702)).toMatchObject({
		values: true,
		plotTop: 122,
		mergedFoot: false,
		plotBottom: 650
	});
	expect(frameOf(exampleSetup, 752, 440)).toMatchObject({ values: false, mergedFoot: false });
	expect(frameOf(exampleSetup, 752, 415)).toMatchObject({ values: false, mergedFoot: true });
	const least = frameOf(exampleSetup, 752, 100);
	expect(least.plotBottom - least.plotTop).toBeCloseTo(275);
	expect(least.height).toBeGreaterThan(100);
	expect(frameOf(exampleSetup, 200, 700).width).toBeGreaterThan(200);
});

test('a label that a wall would strike stands on the other side of its line', () => {
	const walls = wallBoxes(columns, axis, exampleLevels);
	const just = levelLines(axis, [-20, -40, -40.2, -40.25], [-83, -63, -62.8, -62.75]).outgoing;
	const placed = levelLabels(columns, [-20, -40, -40.2, -40.25], just, [3], () => true, [...walls]);
	expect(placed[0].y).toBeGreaterThan(just[3]);
	expect(isReferred(exampleLevels.floor)).toBe(true);
	expect(isReferred([-95, -94.8])).toBe(false);
});

test('a line takes up a thin box for each of its stretches', () => {
	expect(
		lineBoxes([
			[10, 20],
			[30, 20],
			[30, 50]
		])
	).toEqual([
		{ x: 10, y: 17, width: 20, height: 6 },
		{ x: 30, y: 17, width: 1, height: 36 }
	]);
});

test('the turn lies between the edges of the two lines, whichever is the upper one', () => {
	const numbers = (path: string) => [...path.matchAll(/[\d.]+/g)].map(([text]) => Number(text));
	const [x, top] = numbers(turnPath(columns, lines));
	expect(x).toBe(columns.planes[3] + 4);
	expect(top).toBeCloseTo(lines.outgoing[3] + 4);
	expect(numbers(turnPath(columns, lines)).at(-1)).toBeCloseTo(lines.returning[3] - 3);
	const gain = levelLines(axis, [-30, -30, -30, -30], [-10, -10, -10, -10]);
	expect(numbers(turnPath(columns, gain))[1]).toBeCloseTo(gain.returning[3] + 3);
});
