import { expect, test } from 'vitest';
import { dbmFromWatts } from '#lib/numeric/decibel.ts';
import { streamOf } from '#lib/numeric/random.ts';
import { levelCheckFloor, sweptLevels } from '#lib/reflectometer/level-check.ts';
import type { LevelCheck } from '#lib/reflectometer/level-check.ts';
import { drawnPowerMeter, powerReading, shownPower } from '#lib/reflectometer/power-meter.ts';
import { tonesOf, totalPower } from '#lib/reflectometer/tone.ts';
import { chiSquaredInterval } from './chi-squared.ts';
import { FAR_OFF, meanOf, varianceOf } from './sample.ts';

// Common practice: a harmonic of −10 dB adds 0.41 dB to what a power meter shows.
test('a power meter sees the harmonic of −10 dB as 0.41 dB, a tuned level check not at all', () => {
	const tones = tonesOf(169.5e6, -20, [null, -10]);
	expect((dbmFromWatts(totalPower(tones)) + 20).toFixed(2)).toBe('0.41');
	const meter = { gain: 1, zero: 0, noise: 0 };
	const reading = powerReading(meter, tones, 1, { seed: 1, name: 'power meter', reading: 0 });
	expect((shownPower(reading) + 20).toFixed(2)).toBe('0.41');
	const check: LevelCheck = {
		floorDbm: -150,
		bandwidth: 1e4,
		errorDb: 0,
		seed: 1,
		stream: streamOf('level check')
	};
	const levels = sweptLevels(check, tones, Float64Array.of(169.5e6, 3 * 169.5e6), 0);
	expect(dbmFromWatts(levels[0])).toBeCloseTo(-20, 1);
	expect(dbmFromWatts(levels[1])).toBeCloseTo(-30, 1);
});

// Power of a sine with complex Gaussian noise: mean P + N, variance N² + 2PN (noncentral χ², any textbook of statistics);
// without the sine it is exponential. Sample: 40 000 readings a case; false alarms 1e-4 a check, three checks.
test('the floor of the level check adds to every level, and averaging powers does not take it off', () => {
	const check: LevelCheck = {
		floorDbm: -120,
		bandwidth: 1e4,
		errorDb: 0,
		seed: 9,
		stream: streamOf('level check')
	};
	const floor = levelCheckFloor(check);
	const at100 = new Float64Array(40000).fill(100e6);
	for (const signal of [0, 2]) {
		const levels = sweptLevels(check, [{ frequency: 100e6, watts: signal * floor }], at100, signal);
		const error = floor * Math.sqrt((1 + 2 * signal) / levels.length);
		expect(Math.abs(meanOf(levels) - (signal + 1) * floor) / error).toBeLessThan(FAR_OFF);
		if (signal > 0) continue;
		const share = levels.filter((watts) => watts > 3 * floor).length / levels.length;
		const expected = Math.exp(-3);
		expect(Math.abs(share - expected) / Math.sqrt((expected * (1 - expected)) / levels.length)).toBeLessThan(
			FAR_OFF
		);
	}
});

// Sample: 4000 meters and 4000 readings of one; false alarms 1e-4 a check, four checks.
test('the errors of power meters keep to their data sheet 95 times in 100, the noise to its deviation', () => {
	const sheet = { accuracyDb: 0.3, zero: 2e-9, noise: 1e-9 };
	const meters = Array.from({ length: 4000 }, (_, k) => drawnPowerMeter(sheet, 21, `meter ${k}`));
	const standardError = Math.sqrt((0.05 * 0.95) / meters.length);
	const gains = meters.filter(({ gain }) => Math.abs(10 * Math.log10(gain)) > sheet.accuracyDb);
	const zeros = meters.filter(({ zero }) => Math.abs(zero) > sheet.zero);
	for (const beyond of [gains, zeros])
		expect(Math.abs(beyond.length / meters.length - 0.05) / standardError).toBeLessThan(FAR_OFF);
	const [meter] = meters;
	const tones = tonesOf(169.5e6, -50, []);
	const readings = Array.from({ length: 4000 }, (_, reading) =>
		powerReading(meter, tones, 4, { seed: 21, name: 'meter 0', reading })
	);
	const deviation = meter.noise / 2;
	const expected = meter.gain * 1e-8 + meter.zero;
	expect((Math.abs(meanOf(readings) - expected) / deviation) * Math.sqrt(readings.length)).toBeLessThan(
		FAR_OFF
	);
	const [low, high] = chiSquaredInterval(readings.length - 1);
	expect(varianceOf(readings) / deviation ** 2).toBeGreaterThan(low);
	expect(varianceOf(readings) / deviation ** 2).toBeLessThan(high);
});
