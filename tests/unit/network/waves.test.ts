import { expect, test } from 'vitest';
import fc from 'fast-check';
import { complexArray } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { dbFromRatio } from '#lib/numeric/decibel.ts';
import { padResistors, padTwoPort } from '#lib/network/pad.ts';
import { planeWaves, transmissionBack, transmissionOut } from '#lib/network/waves.ts';
import type { PlaneWaves } from '#lib/network/waves.ts';
import { aChain, aGamma, aLosslessLine, FREQUENCIES } from './parts.ts';

const N = FREQUENCIES.length;
const seed = 43;

const filled = (value: number, length = 1): ComplexArray => {
	const array = complexArray(length);
	array.re.fill(value);
	return array;
};
const pad = (attenuationDb: number) => padTwoPort(padResistors(attenuationDb, 'pi'), [1e6]);
const powerToward = ({ outgoing, returning }: PlaneWaves, i: number): number =>
	outgoing.re[i] ** 2 + outgoing.im[i] ** 2 - returning.re[i] ** 2 - returning.im[i] ** 2;

test('a mismatched source, a pi pad and a mismatched load: by Ohm’s law', () => {
	const [sourceOhms, loadOhms, volts] = [75, 30, 1];
	const { input, middle, output } = padResistors(10, 'pi');
	const across = (a: number, b: number): number => (a * b) / (a + b);
	const end = across(output, loadOhms);
	const seen = across(input, middle + end);
	const voltsIn = (volts * seen) / (seen + sourceOhms);
	const voltsOut = (voltsIn * end) / (end + middle);
	// a source of EMF V behind R sends V·√Z0/(R + Z0) into a matched load, and reflects (R − Z0)/(R + Z0)
	const planes = planeWaves([pad(10)], {
		source: filled((volts * Math.sqrt(50)) / (sourceOhms + 50)),
		sourceGamma: filled((sourceOhms - 50) / (sourceOhms + 50)),
		endGamma: filled((loadOhms - 50) / (loadOhms + 50))
	});
	expect(planes).toHaveLength(2);
	[voltsIn, voltsOut].forEach((voltage, k) => {
		const { outgoing, returning } = planes[k];
		expect(Math.sqrt(50) * (outgoing.re[0] + returning.re[0])).toBeCloseTo(voltage, 12);
	});
});

test('matched, the level falls by each pad on the way out and by each again on the way back', () => {
	// follows from the chain; common practice: a pad of A dB moves the returning level by 2A dB
	const waves = planeWaves([pad(20), pad(10)], {
		source: filled(Math.sqrt(1e-3)),
		sourceGamma: filled(0),
		endGamma: filled(0.5)
	});
	const level = (wave: ComplexArray): number => dbFromRatio(Math.abs(wave.re[0])) + 30;
	expect(waves.map(({ outgoing }) => level(outgoing))).toEqual(
		[0, -20, -30].map((dbm) => expect.closeTo(dbm, 10))
	);
	const echo = -30 + dbFromRatio(0.5);
	expect(waves.map(({ returning }) => level(returning))).toEqual(
		[echo - 30, echo - 10, echo].map((dbm) => expect.closeTo(dbm, 10))
	);
});

test('passive parts never add power on its way to the device', () => {
	fc.assert(
		fc.property(aChain, aGamma(1), aGamma(0.9), (parts, endGamma, sourceGamma) => {
			const planes = planeWaves(parts, { source: filled(1, N), sourceGamma, endGamma });
			expect(planes).toHaveLength(parts.length + 1);
			for (let i = 0; i < N; i++) {
				const powers = planes.map((plane) => powerToward(plane, i));
				powers.forEach((power, k) => {
					expect(power).toBeLessThanOrEqual((k > 0 ? powers[k - 1] : Infinity) + 1e-9);
					expect(power).toBeGreaterThan(-1e-9);
				});
			}
		}),
		{ seed }
	);
});

test('lossless lines carry the same power past every plane', () => {
	fc.assert(
		fc.property(
			fc.array(aLosslessLine, { maxLength: 5 }),
			aGamma(0.9),
			aGamma(0.9),
			(parts, endGamma, sourceGamma) => {
				const planes = planeWaves(parts, { source: filled(1, N), sourceGamma, endGamma });
				for (let i = 0; i < N; i++) {
					const first = powerToward(planes[0], i);
					for (const plane of planes) expect(Math.abs(powerToward(plane, i) / first - 1)).toBeLessThan(1e-9);
				}
			}
		),
		{ seed }
	);
});

test('transmission to the device and back to the receiver', () => {
	const parts = [pad(20), pad(6), pad(3)];
	expect(dbFromRatio(transmissionOut(parts, 1, 3, 1)[0])).toBeCloseTo(-9, 10);
	expect(dbFromRatio(transmissionBack(parts, 2, 0, 1)[0])).toBeCloseTo(-26, 10);
	expect(transmissionOut(parts, 3, 3, 1)[0]).toBe(1);
});
