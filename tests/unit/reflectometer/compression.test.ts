import { expect, test } from 'vitest';
import { argument, at, magnitude, put, complexArray, polar } from '#lib/numeric/complex.ts';
import { dbFromRatio } from '#lib/numeric/decibel.ts';
import { compressed, compressionGain, compressionStrength } from '#lib/reflectometer/compression.ts';

/** A wave of `levelDbm` at the test receiver, as a raw reading under a source of `sourceDbm`. */
function reading(levelDbm: number, sourceDbm: number) {
	const raw = complexArray(1);
	put(raw, 0, polar(10 ** ((levelDbm - sourceDbm) / 20), 0.7));
	return raw;
}

test.each([-10, 0, 10])('a source of %d dBm: 1 dB is lost at the stated level', (source) => {
	const raw = reading(4, source);
	const out = compressed(raw, [source], 4);
	expect(dbFromRatio(magnitude(at(out, 0)) / magnitude(at(raw, 0)))).toBeCloseTo(-1, 12);
	expect(argument(at(out, 0))).toBeCloseTo(0.7, 12);
});

test('small waves keep their slope of one, and what is lost is half of strength·|m|²', () => {
	const strength = compressionStrength(-10, 0);
	for (const size of [1e-6, 1e-4, 1e-2]) {
		const lost = 1 - compressionGain(strength, size * 0.6, size * 0.8);
		expect(Math.abs(lost - (strength * size * size) / 2)).toBeLessThan(strength ** 2 * size ** 4 + 2e-16);
	}
	const ratio = magnitude(at(compressed(reading(-60, 0), [0], 4), 0)) / magnitude(at(reading(-60, 0), 0));
	expect(dbFromRatio(ratio)).toBeGreaterThan(-1e-6);
});

// The law itself: |b|² → |b|²/(1 + |b|²/s²) with s² = P(1 dB)/(10^0.1 − 1), 5.87 dB above the 1 dB level.
test('a strong wave never comes out above the saturation level', () => {
	const out = compressed(reading(60, 0), [0], 4);
	expect(dbFromRatio(magnitude(at(out, 0)))).toBeCloseTo(4 + 5.868, 3);
	let before = 0;
	for (let level = -40; level <= 60; level += 5) {
		const now = magnitude(at(compressed(reading(level, 0), [0], 4), 0));
		expect(now).toBeGreaterThan(before);
		before = now;
	}
});

test('every frequency has its own level, in place too; Infinity is no compression', () => {
	const raw = { re: Float64Array.of(0.5, 0.5), im: Float64Array.of(0, 0) };
	const out = compressed(raw, [0, 20], 10);
	expect(out.re[0]).toBeGreaterThan(out.re[1]);
	expect(compressed(raw, [0, 20], Infinity)).toEqual(raw);
	expect(compressed(raw, [0, 20], 10, raw)).toBe(raw);
	expect(raw).toEqual(out);
});
