import { expect, test } from 'vitest';
import { at, complex, magnitude } from '#lib/numeric/complex.ts';
import { dbFromRatio } from '#lib/numeric/decibel.ts';
import { impedanceFromGamma } from '#lib/network/impedance.ts';
import { padResistors, padTwoPort, withErrors } from '#lib/network/pad.ts';
import { identity } from '#lib/network/two-port.ts';
import { twoPortDistance } from './parts.ts';

const networks = ['pi', 'tee'] as const;

test.each(networks)('a %s pad of 0 dB is a through', (network) => {
	expect(twoPortDistance(padTwoPort(padResistors(0, network), [0, 1e9]), identity(2))).toBe(0);
	const wrong = withErrors(padResistors(0, network), [0.05, -0.05, 0.1]);
	expect(twoPortDistance(padTwoPort(wrong, [0]), identity(1))).toBe(0);
});

test.each(networks)('a %s pad is matched and loses what it says, at 0 Hz too', (network) => {
	for (const attenuationDb of [0.1, 1, 15, 60, 120]) {
		const pad = padTwoPort(padResistors(attenuationDb, network), [0, 169.5e6]);
		for (const i of [0, 1]) {
			expect(magnitude(at(pad.s11, i))).toBeLessThan(1e-14);
			expect(dbFromRatio(magnitude(at(pad.s21, i)))).toBeCloseTo(-attenuationDb, 10);
		}
	}
});

test('a pi pad with a wrong input shunt: by Ohm’s law', () => {
	// input resistance of 101.06 Ω across 71.151 Ω in series with 96.248 Ω across 50 Ω
	const across = (a: number, b: number): number => (a * b) / (a + b);
	const resistors = withErrors(padResistors(10, 'pi'), [0.05, 0, 0]);
	const input = across(resistors.input, resistors.middle + across(resistors.output, 50));
	const pad = padTwoPort(resistors, [1e6]);
	expect(impedanceFromGamma(at(pad.s11, 0)).re).toBeCloseTo(input, 10);
	expect(at(pad.s22, 0)).not.toEqual(at(pad.s11, 0));
});

test.each(networks)('strays of a 0 dB %s pad are the strays alone', (network) => {
	// 2 nH in series: S21 = 1/(1 + jωL/100) for one element (Pozar, 4th ed., table 4.1, series impedance)
	const frequency = 1e9;
	const pad = padTwoPort(padResistors(0, network), [frequency], {
		seriesInductance: 2e-9,
		shuntCapacitance: 0
	});
	const elements = network === 'pi' ? 1 : 2;
	const x = (2 * Math.PI * frequency * 2e-9 * elements) / 100;
	expect(magnitude(at(pad.s21, 0))).toBeCloseTo(1 / magnitude(complex(1, x)), 12);
	const loaded = padTwoPort(padResistors(0, network), [frequency], {
		seriesInductance: 0,
		shuntCapacitance: 1e-12
	});
	const y = (2 * Math.PI * frequency * 1e-12 * (3 - elements) * 50) / 2;
	expect(magnitude(at(loaded.s21, 0))).toBeCloseTo(1 / magnitude(complex(1, y)), 12);
});

test.each([-1, NaN, Infinity])('an attenuation of %d dB is refused', (attenuationDb) => {
	expect(() => padResistors(attenuationDb, 'pi')).toThrow(
		expect.objectContaining({
			code: 'pad-attenuation',
			finding: expect.stringContaining(`${attenuationDb} dB`)
		})
	);
});
