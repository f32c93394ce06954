import { expect, test } from 'vitest';
import {
	actualLevel,
	drawnRipples,
	isLevelled,
	rippleDb,
	steppedLevel
} from '#lib/reflectometer/source-level.ts';
import type { SourceLevel } from '#lib/reflectometer/source-level.ts';

const perfect: SourceLevel = {
	stepDb: 0,
	errorDb: 0,
	flatness: { lowest: 1e6, highest: 1e9, ripplesDb: [] },
	levelling: { lowest: -Infinity, highest: Infinity },
	stuckDbm: null
};

test('a perfect source sends what is set', () => {
	for (const level of [-61.234, 0, 9.9]) {
		expect(actualLevel(level, perfect, 169.5e6)).toBe(level);
		expect(isLevelled(level, perfect, 169.5e6)).toBe(true);
	}
});

test('only whole steps can be set; halves go up', () => {
	const set = [-40.7, -40.26, -40.25, -40, 0.1, 0.25];
	expect(set.map((level) => steppedLevel(level, 0.5) + 0)).toEqual([-40.5, -40.5, -40, -40, 0, 0.5]);
	expect(actualLevel(-40.2, { ...perfect, stepDb: 1, errorDb: 0.6 }, 1e8)).toBeCloseTo(-39.4, 12);
});

// Definition of the series: cosines of 1, 2, … half waves in the logarithm of the frequency.
test('the ripple at the ends, in the middle and a third of the way', () => {
	const flatness = { lowest: 1e6, highest: 1e9, ripplesDb: [0.3, -0.2, 0.05] };
	expect(rippleDb(flatness, 1e6)).toBeCloseTo(0.15, 12);
	expect(rippleDb(flatness, 1e9)).toBeCloseTo(-0.3 - 0.2 - 0.05, 12);
	expect(rippleDb(flatness, 10 ** 7.5)).toBeCloseTo(0.2, 12);
	expect(rippleDb(flatness, 1e7)).toBeCloseTo(0.3 / 2 + 0.2 / 2 - 0.05, 12);
	// held beyond the band
	expect(rippleDb(flatness, 1)).toBe(rippleDb(flatness, 1e6));
	expect(rippleDb(flatness, 3e9)).toBe(rippleDb(flatness, 1e9));
	expect(actualLevel(-10, { ...perfect, errorDb: 1, flatness }, 1e6)).toBeCloseTo(-8.85, 12);
});

test('beyond what it can hold the level stays at the limit, and says so', () => {
	const source = { ...perfect, errorDb: 0.5, levelling: { lowest: -60, highest: 10 } };
	expect(actualLevel(9.5, source, 1e8)).toBe(10);
	expect(isLevelled(9.5, source, 1e8)).toBe(true);
	expect(actualLevel(12, source, 1e8)).toBe(10);
	expect(isLevelled(12, source, 1e8)).toBe(false);
	expect(actualLevel(-70, source, 1e8)).toBe(-60);
	expect(isLevelled(-70, source, 1e8)).toBe(false);
});

test('a setting that does nothing: the same level whatever is set, ripple and all', () => {
	const stuck = { ...perfect, errorDb: 3, stepDb: 1, stuckDbm: -10.4 };
	for (const level of [-60, -30, 0]) expect(actualLevel(level, stuck, 1e8)).toBe(-10.4);
	const flatness = { ...perfect.flatness, ripplesDb: [0.4] };
	expect(actualLevel(-60, { ...stuck, flatness }, 1e9)).toBeCloseTo(-10.8, 12);
});

test('drawn ripples depend on seed and name, and no ripple is none', () => {
	expect(drawnRipples(1, 'source', 0.5, 4)).toEqual(drawnRipples(1, 'source', 0.5, 4));
	expect(drawnRipples(1, 'source', 0.5, 4)).not.toEqual(drawnRipples(2, 'source', 0.5, 4));
	expect(drawnRipples(1, 'source', 0.5, 4)).not.toEqual(drawnRipples(1, 'other', 0.5, 4));
	expect(drawnRipples(1, 'source', 0, 3).map(Math.abs)).toEqual([0, 0, 0]);
	expect(drawnRipples(1, 'source', 0.5, 0)).toEqual([]);
});
