import { expect, test } from 'vitest';
import { argument, at, magnitude } from '#lib/numeric/complex.ts';
import { dbFromRatio } from '#lib/numeric/decibel.ts';
import { cableLine, lossCoefficients } from '#lib/network/cable.ts';
import type { Cable } from '#lib/network/cable.ts';
import { delayOf, LIGHT_SPEED, lineTwoPort } from '#lib/network/line.ts';

const cable: Cable = {
	characteristicImpedance: 50,
	length: 100,
	velocityFactor: 0.66,
	loss: [
		{ frequency: 100e6, lossDb: 15 },
		{ frequency: 1e9, lossDb: 56 }
	]
};

test('100 m lose what the catalogue says at its two frequencies, and nothing at 0 Hz', () => {
	const { s21, s11 } = lineTwoPort(cableLine(cable), [0, 100e6, 1e9]);
	[0, 15, 56].forEach((lossDb, i) => {
		expect(dbFromRatio(magnitude(at(s21, i)))).toBeCloseTo(-lossDb, 10);
		expect(magnitude(at(s11, i))).toBe(0);
	});
	expect(at(s21, 0)).toEqual({ re: 1, im: 0 });
});

test('delay is length over speed', () => {
	const line = cableLine({ ...cable, length: 2 });
	expect(delayOf(line)).toBeCloseTo(2 / (0.66 * LIGHT_SPEED), 20);
	const f = 20e6;
	expect(-argument(at(lineTwoPort(line, [f]).s21, 0)) / (2 * Math.PI * f)).toBeCloseTo(delayOf(line), 18);
});

test('a thousand kilometres of cable passes nothing and still gives numbers', () => {
	const { s11, s21 } = lineTwoPort(cableLine({ ...cable, characteristicImpedance: 75, length: 1e6 }), [1e9]);
	expect(magnitude(at(s21, 0))).toBe(0);
	expect(magnitude(at(s11, 0))).toBeCloseTo(0.2, 14);
});

test('pure √f and pure f laws have only one coefficient', () => {
	const conductor = lossCoefficients(
		{ frequency: 1e8, lossDb: 10 },
		{ frequency: 1e9, lossDb: 10 * Math.sqrt(10) }
	);
	expect(conductor.dielectricLoss).toBeCloseTo(0, 18);
	const dielectric = lossCoefficients({ frequency: 1e8, lossDb: 3 }, { frequency: 1e9, lossDb: 30 });
	expect(dielectric.conductorLoss).toBe(0);
	expect(dielectric.dielectricLoss * 1e8 * 8.685889638).toBeCloseTo(0.03, 10);
	const lossless = lossCoefficients({ frequency: 1e8, lossDb: 0 }, { frequency: 1e9, lossDb: 0 });
	expect(lossless).toEqual({ conductorLoss: 0, dielectricLoss: 0 });
});

test.each([
	['cable-loss-frequencies', 1e9, 10, 1e8, 3],
	['cable-loss-frequencies', 0, 0, 1e8, 3],
	['cable-loss-negative', 1e8, -1, 1e9, 30],
	['cable-loss-negative', 1e8, 1, 1e9, NaN],
	['cable-loss-slow', 1e8, 10, 1e9, 20],
	['cable-loss-fast', 1e8, 1, 1e9, 20],
	['cable-loss-fast', 1e8, 0, 1e9, 20]
])('%s: %d Hz %d dB, %d Hz %d dB', (code, lower, lowDb, upper, highDb) => {
	expect(() =>
		lossCoefficients({ frequency: lower, lossDb: lowDb }, { frequency: upper, lossDb: highDb })
	).toThrow(expect.objectContaining({ code }));
});
