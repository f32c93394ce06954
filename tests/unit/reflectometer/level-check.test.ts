import { expect, test } from 'vitest';
import { dbmFromWatts } from '#lib/numeric/decibel.ts';
import { streamOf } from '#lib/numeric/random.ts';
import { levelCheckFloor, passed, sweptLevels } from '#lib/reflectometer/level-check.ts';
import type { LevelCheck } from '#lib/reflectometer/level-check.ts';
import { tonesOf } from '#lib/reflectometer/tone.ts';

const check: LevelCheck = {
	floorDbm: -Infinity,
	bandwidth: 10e3,
	errorDb: 0,
	seed: 5,
	stream: streamOf('level check')
};
const tones = tonesOf(169.5e6, -20, [-10, null, -30]);

test('fundamental and harmonics are seen apart, each at its own frequency', () => {
	const frequencies = Float64Array.from([1, 2, 3, 4, 1.5], (multiple) => multiple * 169.5e6);
	const shown = Array.from(sweptLevels(check, tones, frequencies, 0), dbmFromWatts);
	[-20, -30, -Infinity, -50, -Infinity].forEach((dbm, i) =>
		expect(shown[i] === dbm || Math.abs(shown[i] - dbm) < 1e-9).toBe(true)
	);
	const off = Array.from(sweptLevels({ ...check, errorDb: 0.7 }, tones, frequencies, 0), dbmFromWatts);
	expect(off[0]).toBeCloseTo(-19.3, 9);
});

test('the equivalent noise bandwidth of the filter is the bandwidth that is set', () => {
	const [bandwidth, step] = [3e3, 10];
	let area = 0;
	for (let offset = -20e3; offset <= 20e3; offset += step) area += passed(offset, bandwidth) * step;
	expect(area).toBeCloseTo(bandwidth, 6);
	expect(-10 * Math.log10(passed(bandwidth, bandwidth))).toBeCloseTo(13.64, 2);
	expect(-10 * Math.log10(passed(2 * bandwidth, bandwidth))).toBeCloseTo(54.575, 2);
});

test('the floor: −120 dBm/Hz in 10 kHz is −80 dBm', () => {
	expect(dbmFromWatts(levelCheckFloor({ ...check, floorDbm: -120 }))).toBeCloseTo(-80, 9);
});

test('a reading depends on seed, stream, sweep and point alone', () => {
	const noisy = { ...check, floorDbm: -120 };
	const sweep = (changed: Partial<LevelCheck>, number: number, points: number) =>
		sweptLevels({ ...noisy, ...changed }, [], new Float64Array(points).fill(1e8), number);
	expect(sweep({}, 0, 600)).toEqual(sweep({}, 0, 600));
	expect(sweep({}, 0, 600).slice(0, 4)).toEqual(sweep({}, 0, 4));
	expect(sweep({}, 1, 4)).not.toEqual(sweep({}, 0, 4));
	expect(sweep({ seed: 6 }, 0, 4)).not.toEqual(sweep({}, 0, 4));
	expect(sweep({ stream: streamOf('x') }, 0, 4)).not.toEqual(sweep({}, 0, 4));
});
