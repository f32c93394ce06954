import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readTouchstone } from '#lib/files/touchstone-reader.ts';
import { writeTouchstone } from '#lib/files/touchstone-writer.ts';
import type { NetworkData } from '#lib/network/network-data.ts';

const SEED = { seed: 20260, numRuns: 300 };
const UNITS = ['Hz', 'kHz', 'MHz', 'GHz'] as const;

/** −1 to 1 covers passive devices, 100 an amplifier of 40 dB; tiny values are where decimal digits could get lost. */
const part = fc.oneof(
	fc.double({ min: -1, max: 1, noNaN: true }),
	fc.double({ min: -100, max: 100, noNaN: true }),
	fc.double({ min: -1e-12, max: 1e-12, noNaN: true })
);

/** From DC to 10 THz: beyond anything that comes in a coaxial cable. Rising, as the type demands. */
const frequencies = fc
	.uniqueArray(fc.oneof(fc.double({ min: 0, max: 1e13, noNaN: true }), fc.integer({ min: 0, max: 1e12 })), {
		minLength: 1,
		maxLength: 12
	})
	.map((list) => [...new Set(list.map((f) => f + 0))].sort((a, b) => a - b));

const network: fc.Arbitrary<NetworkData> = fc
	.tuple(fc.constantFrom<1 | 2>(1, 2), frequencies)
	.chain(([ports, list]) => {
		const length = 2 * ports * ports * list.length;
		return fc
			.array(part, { minLength: length, maxLength: length })
			.map((s) => ({ ports, frequencies: list, s: s.map((value) => value + 0) }));
	});

const again = (data: NetworkData, format: 'MA' | 'DB' | 'RI', unit: (typeof UNITS)[number]): NetworkData =>
	readTouchstone(writeTouchstone(data, { format, unit, comments: [] }), `x.s${data.ports}p`).data;

test('real and imaginary parts come back exactly, in every unit', () => {
	fc.assert(
		fc.property(network, fc.constantFrom(...UNITS), (data, unit) => {
			expect(again(data, 'RI', unit)).toEqual(data);
		}),
		SEED
	);
});

test.each(['MA', 'DB'] as const)('%s comes back within 1e-12 of the magnitude', (format) => {
	fc.assert(
		fc.property(network, fc.constantFrom(...UNITS), (data, unit) => {
			const back = again(data, format, unit);
			expect(back.frequencies).toEqual(data.frequencies);
			for (let i = 0; i < data.s.length; i += 2) {
				const off = Math.hypot(back.s[i] - data.s[i], back.s[i + 1] - data.s[i + 1]);
				// 1e-50 is what an exact zero becomes in decibels.
				expect(off).toBeLessThanOrEqual(1e-12 * Math.hypot(data.s[i], data.s[i + 1]) + 2e-50);
			}
		}),
		SEED
	);
});

test('the file is what the specification says, 21 before 12', () => {
	const data: NetworkData = {
		ports: 2,
		frequencies: [0, 169_500_000, 1e9],
		s: [1, 2, 3, 4, 5, 6, 7, 8, 0, 0, 0, 0, 0, 0, 0, 0, 0.5, -0.25, 1e-9, 0, -1, 0, 0, 1]
	};
	expect(writeTouchstone(data, { format: 'RI', unit: 'MHz', comments: ['Preamp', 'two\r\nlines'] })).toBe(
		[
			'! Preamp',
			'! two',
			'! lines',
			'# MHz S RI R 50',
			'! frequency ReS11 ImS11 ReS21 ImS21 ReS12 ImS12 ReS22 ImS22',
			'0 1 2 5 6 3 4 7 8',
			'169.5 0 0 0 0 0 0 0 0',
			'1000 0.5 -0.25 -1 0 1e-9 0 0 1',
			''
		].join('\n')
	);
});

test('decibels and degrees by hand', () => {
	const data: NetworkData = { ports: 1, frequencies: [1, 2, 3], s: [0, 0.1, -1, 0, 0, 0] };
	const rows = (format: 'MA' | 'DB') =>
		writeTouchstone(data, { format, unit: 'GHz', comments: [] }).split('\n').slice(2, 5);
	expect(rows('MA')).toEqual(['0.000000001 0.1 90', '0.000000002 1 180', '0.000000003 0 0']);
	expect(rows('DB')).toEqual(['0.000000001 -20 90', '0.000000002 0 180', '0.000000003 -1000 0']);
});

test('comments cannot become data, and nothing but ASCII is written', () => {
	const data: NetworkData = { ports: 1, frequencies: [1], s: [0, 0] };
	const comments = ['50 Ω, 3 µH, −10 dB, café ☂', 'a\n1 1 1\r# GHz S MA R 75'];
	const text = writeTouchstone(data, { format: 'RI', unit: 'Hz', comments });
	expect(text).toMatch(/^[\n\x20-\x7e]*$/);
	expect(text.split('\n')[0]).toBe('! 50 ohm, 3 uH, -10 dB, cafe ?');
	expect(readTouchstone(text, 'x.s1p')).toEqual({ data, notes: [] });
});

test('a value that is not finite is refused', () => {
	const data: NetworkData = { ports: 1, frequencies: [1, 2], s: [0, 0, NaN, 0] };
	expect(() => writeTouchstone(data, { format: 'RI', unit: 'Hz', comments: [] })).toThrow(
		'Touchstone export, frequency number 2: A value is NaN. Leave out readings that are not valid and export again.'
	);
});
