import fc from 'fast-check';
import { expect, test } from 'vitest';
import { at } from '#lib/numeric/complex.ts';
import { BOLTZMANN } from '#lib/numeric/decibel.ts';
import { noiseFactor, passiveNoise } from '#lib/network/noise-waves.ts';
import { padResistors, padTwoPort } from '#lib/network/pad.ts';
import { cascade, identity, twoPort } from '#lib/network/two-port.ts';
import { aChain, aLosslessLine, FREQUENCIES } from './parts.ts';

const runs = { seed: 11, numRuns: 200 };
const KT = BOLTZMANN * 290;

test('noise waves of a passive part are a correlation: no diagonal below zero, no coherence above one', () => {
	fc.assert(
		fc.property(aChain, (parts) => {
			const { c11, c22, c12 } = passiveNoise(parts.reduce((a, b) => cascade(a, b)));
			FREQUENCIES.forEach((_, i) => {
				const { re, im } = at(c12, i);
				expect(c11[i]).toBeGreaterThanOrEqual(-1e-12 * KT);
				expect(c22[i]).toBeGreaterThanOrEqual(-1e-12 * KT);
				expect(re * re + im * im).toBeLessThanOrEqual(c11[i] * c22[i] + 1e-12 * KT * KT);
			});
		}),
		runs
	);
});

test('a part without loss makes no noise', () => {
	fc.assert(
		fc.property(aLosslessLine, (line) => {
			const { c11, c22, c12 } = passiveNoise(line);
			for (const row of [c11, c22, c12.re, c12.im])
				for (const value of row) expect(Math.abs(value)).toBeLessThan(1e-12 * KT);
		}),
		runs
	);
});

test('a pad behind another: their noise factors add up as Friis has it', () => {
	// F = F1 + (F2 − 1)/G1: Friis, Proceedings of the IRE 32(7), 1944; G1 is that of a matched pad
	const [first, second] = [6, 10].map((db) => padTwoPort(padResistors(db, 'tee'), [1e8]));
	const [whole] = noiseFactor(cascade(first, second), 350);
	const [[f1], [f2]] = [noiseFactor(first, 350), noiseFactor(second, 350)];
	expect(whole).toBeCloseTo(f1 + (f2 - 1) * 10 ** 0.6, 10);
});

test('a through has noise factor 1, a part that lets nothing through an infinite one', () => {
	expect([...noiseFactor(identity(1))]).toEqual([1]);
	expect([...noiseFactor(twoPort(1))]).toEqual([Infinity]);
});

test('twice the temperature, twice the noise', () => {
	const pad = padTwoPort(padResistors(3, 'pi'), [0]);
	expect(passiveNoise(pad, 580).c22[0]).toBeCloseTo(2 * passiveNoise(pad, 290).c22[0], 30);
	expect(passiveNoise(pad, 0).c22[0]).toBe(0);
});
