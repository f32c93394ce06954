import { expect, test } from 'vitest';
import type { LevelDiagram, Picture } from '#lib/bench/picture.ts';
import { axisOf, rangeOf } from '#lib/view/corridor/axis.ts';
import { deviceNotes } from '#lib/view/corridor/device-notes.ts';
import { breakingText, returnLossLines } from '#lib/view/corridor/device-texts.ts';
import { levelsFor } from '#lib/view/corridor/layout.ts';
import { levelPath, levelLines, pathOf } from '#lib/view/corridor/level-path.ts';
import { ceilingMargin, floorMargin, isBreaking, stateWords } from '#lib/view/corridor/margins.ts';
import { overlap } from '#lib/view/corridor/placement.ts';
import { summaryOf } from '#lib/view/corridor/summary.ts';
import { wallBoxes } from '#lib/view/corridor/wall-boxes.ts';
import { columnsOf } from '#lib/view/line/columns.ts';
import { exampleLevels, exampleSetup } from './bench-picture-example.ts';

/** The example with a device that breaks at −25 dBm, 5.25 dB over what it hears. */
const near: LevelDiagram = { ...exampleLevels, breaking: [-4.75, -24.75, -24.95, -25], breakingMargin: 5.25 };
const over: LevelDiagram = { ...near, breaking: [-14.75, -34.75, -34.95, -35], breakingMargin: -4.75 };

const columns = columnsOf(exampleSetup, 38, 560);
const axis = axisOf({ top: 0, bottom: -110 }, 122, 654.4);

const picture = (levels: LevelDiagram, more: Partial<Picture> = {}, driven = 0.1): Picture =>
	({
		frequencies: Float64Array.of(1e8, 2e8, 3e8),
		silence: null,
		lost: null,
		markers: [0, 1, 2].map(() => ({
			levels,
			reading: { frequency: 169.525e6, driven: { re: driven, im: 0 } }
		})),
		...more
	}) as unknown as Picture;

test('past what breaks the device the plate says damage, and by how much', () => {
	expect(isBreaking(near)).toBe(false);
	expect(ceilingMargin(near)).toEqual(ceilingMargin(exampleLevels));
	expect(ceilingMargin(over)).toEqual({
		state: 'out',
		number: '4.8\u00a0dB',
		words: 'over what it stands',
		verdict: 'damage'
	});
	// without a ceiling too
	expect(ceilingMargin({ ...over, ceiling: null, ceilingMargin: null })?.verdict).toBe('damage');
	expect(stateWords(over)).toContain('damage');
	expect(stateWords(near)).not.toContain('damage');
});

test('the sentence names the breaking level after the ceiling', () => {
	const words = summaryOf(exampleSetup, picture(near), 1);
	expect(words).toContain(
		'4.8\u00a0dB over its ceiling of \u221235.0\u00a0dBm and 5.3\u00a0dB below what breaks it, \u221225.0\u00a0dBm; '
	);
	expect(summaryOf(exampleSetup, picture(over), 1)).toContain('4.8\u00a0dB over what breaks it');
	expect(summaryOf(exampleSetup, picture(exampleLevels), 1)).not.toContain('breaks');
});

test('what the device sends back is not known where it has no state or no reading', () => {
	const lost = picture(near, { lost: { count: 2, frequency: 1e8, reason: 'not found' } }, NaN);
	const levels = levelsFor(exampleSetup, lost, 1)!;
	expect(levels.outgoing).toEqual(near.outgoing);
	expect(levels.returning.every(Number.isNaN)).toBe(true);
	expect(floorMargin(levels)).toEqual({ state: 'clear', number: 'no reading', words: 'echo not known' });
	expect(returnLossLines(levels, false)).toEqual(['echo not known']);
	expect(summaryOf(exampleSetup, lost, 1)).toMatch(
		/what returns is not known\. Of the device no state was found at 2 of 3 frequencies from 100\.000\sMHz: no reading there\.$/
	);
	const silent = picture(near, { silence: { kind: 'oscillating', frequency: 181.2e6 } });
	expect(summaryOf(exampleSetup, silent, 1)).toMatch(
		/No reading: the bench oscillates near 181\sMHz by itself\.$/
	);
	expect(stateWords(levelsFor(exampleSetup, silent, 1)!)).toContain('not known');
});

test('a level that is not known reaches no attribute of the drawing', () => {
	const levels = levelsFor(exampleSetup, picture(near, {}, NaN), 1)!;
	expect(rangeOf(levels, 16)).toEqual(rangeOf(exampleLevels, 16));
	const lines = levelLines(axis, levels.outgoing, levels.returning);
	expect(lines.outgoing.map((y) => y.toFixed(1))).toEqual(
		levelLines(axis, near.outgoing, [-109, -109, -109, -109]).outgoing.map((y) => y.toFixed(1))
	);
	for (const ys of [lines.outgoing, lines.returning])
		expect(pathOf(levelPath(columns, ys, 38))).not.toMatch(/NaN|Infinity/);
});

test('the axis makes room for a level that has to be on it', () => {
	expect(rangeOf(exampleLevels, 1).top).toBe(0);
	expect(rangeOf(exampleLevels, 1, 10.1).top).toBe(20);
	expect(rangeOf(exampleLevels, 1, -20).top).toBe(0);
	expect(rangeOf(exampleLevels, 1, null).top).toBe(0);
});

test('the breaking level has its name at its own line, clear of the plate and of both edges', () => {
	const lines = levelLines(axis, near.outgoing, near.returning);
	const taken = wallBoxes(columns, axis, near);
	const edges = [...taken];
	const notes = deviceNotes(
		columns.all.at(-1)!,
		axis,
		near,
		lines,
		{
			floorWidth: null,
			ceilingWidth: 100,
			breakingWidth: 120,
			lossWidth: 90,
			lossLines: 1,
			outOfCeiling: true,
			marginHeight: 54,
			notValid: false
		},
		taken
	);
	expect(breakingText(near, false)).toBe('breaks at \u221225\u00a0dBm');
	expect(breakingText(exampleLevels, false)).toBe('');
	expect(Math.abs(notes.breaking!.y + 9 - axis.y(-25))).toBeLessThan(30);
	expect(overlap(notes.breaking!, notes.margin!)).toBe(false);
	expect(edges.some((box) => overlap(box, notes.breaking!))).toBe(false);
});
