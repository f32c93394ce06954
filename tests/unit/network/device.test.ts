import { expect, test } from 'vitest';
import fc from 'fast-check';
import {
	add,
	at,
	complex,
	complexArray,
	conjugate,
	magnitude,
	multiply,
	polar,
	put,
	scale,
	subtract
} from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { deviceGamma, onePortAt, twoPortAt } from '#lib/network/device.ts';
import type { NetworkData } from '#lib/network/network-data.ts';
import { twoPort } from '#lib/network/two-port.ts';

const oneEach: NetworkData = { ports: 1, frequencies: [1e6, 2e6, 4e6], s: [0.1, -0.1, 0.3, 0, 0.2, 0.4] };
const twoEach: NetworkData = {
	ports: 2,
	frequencies: [1e6, 3e6],
	s: [0.1, 0.2, 0.01, 0.02, 3, 4, 0.5, 0.6, 0.3, 0.4, 0.03, 0.04, 5, 6, 0.7, 0.8]
};

test('a one-port is exact at its own frequencies, and outside them held and flagged', () => {
	const inside = onePortAt(oneEach, oneEach.frequencies);
	expect([...inside.gamma.re, ...inside.gamma.im]).toEqual([0.1, 0.3, 0.2, -0.1, 0, 0.4]);
	expect(inside.outside).toBe(false);
	const beyond = onePortAt(oneEach, [0, 12e6]);
	expect([...beyond.gamma.re, ...beyond.gamma.im]).toEqual([0.1, 0.2, -0.1, 0.4]);
	expect(beyond.outside).toBe(true);
});

test('a two-port keeps its four parameters apart', () => {
	const { twoPort: device, outside } = twoPortAt(twoEach, [2e6]);
	expect(outside).toBe(false);
	const middle = [device.s11, device.s12, device.s21, device.s22].map((s) => at(s, 0));
	const expected = [complex(0.2, 0.3), complex(0.02, 0.03), complex(4, 5), complex(0.6, 0.7)];
	expected.forEach((value, k) => expect(magnitude(subtract(middle[k], value))).toBeLessThan(1e-14));
	expect(at(onePortAt(twoEach, [2e6]).gamma, 0)).toEqual(middle[0]);
});

test('a one-port taken as a two-port lets nothing through', () => {
	const { twoPort: device } = twoPortAt(oneEach, [2e6]);
	const open = complexArray(1);
	open.re[0] = 1;
	expect(at(deviceGamma(device, open), 0)).toEqual(complex(0.3, 0));
});

test('lossless terminations of every angle put the input reflection on one circle', () => {
	// centre S11 + S12·S21·S22*/(1 − |S22|²), radius |S12·S21|/|1 − |S22|²|: image of the unit circle under a Möbius map
	// (Pozar, Microwave Engineering, 4th ed., 2012, section 12.2)
	const anyNumber = (limit: number): fc.Arbitrary<Complex> =>
		fc
			.tuple(
				fc.double({ min: 0.01, max: limit, noNaN: true }),
				fc.double({ min: -3.14, max: 3.14, noNaN: true })
			)
			.map(([size, angle]) => polar(size, angle));
	const property = fc.property(
		anyNumber(1),
		anyNumber(0.5),
		anyNumber(5),
		anyNumber(0.9),
		fc.double({ min: -3.14, max: 3.14, noNaN: true }),
		(s11, s12, s21, s22, angle) => {
			const device = twoPort(1);
			[s11, s12, s21, s22].forEach((value, k) =>
				put([device.s11, device.s12, device.s21, device.s22][k], 0, value)
			);
			const end = complexArray(1);
			put(end, 0, polar(1, angle));
			const loop = multiply(s12, s21);
			const within = 1 - magnitude(s22) ** 2;
			const centre = add(s11, scale(multiply(loop, conjugate(s22)), 1 / within));
			const radius = magnitude(loop) / within;
			const gamma = at(deviceGamma(device, end), 0);
			expect(Math.abs(magnitude(subtract(gamma, centre)) / radius - 1)).toBeLessThan(1e-9);
		}
	);
	fc.assert(property, { seed: 47 });
});
