import { expect, test } from 'vitest';
import {
	drawnPowerMeter,
	powerMeterNoise,
	powerReading,
	shownPower
} from '#lib/reflectometer/power-meter.ts';
import type { PowerMeter } from '#lib/reflectometer/power-meter.ts';
import { tonesOf } from '#lib/reflectometer/tone.ts';

const perfect: PowerMeter = { gain: 1, zero: 0, noise: 0 };
const reading = { seed: 1, name: 'power meter', reading: 0 };

test('without errors it shows the power of everything', () => {
	expect(shownPower(powerReading(perfect, tonesOf(169.5e6, -20, []), 1, reading))).toBeCloseTo(-20, 12);
	const tones = tonesOf(169.5e6, 0, [-10, -20]);
	expect(shownPower(powerReading(perfect, tones, 1, reading))).toBeCloseTo(10 * Math.log10(1.11), 12);
});

test('the zero error drowns a low level, the error of the sensor is the same at every level', () => {
	const meter = { gain: 1.05, zero: 2e-9, noise: 0 };
	const shown = (dbm: number): number =>
		shownPower(powerReading(meter, tonesOf(1e8, dbm, []), 1, reading)) - dbm;
	expect(shown(0)).toBeCloseTo(10 * Math.log10(1.05 + 2e-6), 9);
	expect(shown(-60)).toBeCloseTo(10 * Math.log10(1.05 + 2), 9);
	expect(shownPower(powerReading({ ...meter, zero: -2e-9 }, tonesOf(1e8, -60, []), 1, reading))).toBe(
		-Infinity
	);
});

test('noise falls as one over the root of the time, and depends on seed, name and number', () => {
	const meter = { gain: 1, zero: 0, noise: 1e-9 };
	expect(powerMeterNoise(meter, 100)).toBeCloseTo(1e-10, 20);
	const value = (changed: object, seconds = 1): number =>
		powerReading(meter, [], seconds, { ...reading, ...changed });
	expect(value({})).toBe(value({}));
	expect(value({}, 100)).toBeCloseTo(value({}) / 10, 20);
	for (const changed of [{ seed: 2 }, { name: 'other' }, { reading: 1 }])
		expect(value(changed)).not.toBe(value({}));
});

test('the hidden errors of a meter belong to seed and name', () => {
	const sheet = { accuracyDb: 0.2, zero: 5e-9, noise: 1e-9 };
	expect(drawnPowerMeter(sheet, 1, 'a')).toEqual(drawnPowerMeter(sheet, 1, 'a'));
	expect(drawnPowerMeter(sheet, 1, 'a')).not.toEqual(drawnPowerMeter(sheet, 2, 'a'));
	expect(drawnPowerMeter(sheet, 1, 'a')).not.toEqual(drawnPowerMeter(sheet, 1, 'b'));
	expect(drawnPowerMeter({ accuracyDb: 0, zero: 0, noise: 0 }, 1, 'a').gain).toBe(1);
});
