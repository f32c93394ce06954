import { expect, test } from 'vitest';
import { kindOfUnit, showValue, type ValueKind } from '#lib/lesson/value.ts';

test.each<[number | boolean, ValueKind, string]>([
	[-35, 'level', '−35 dBm'],
	[-30.2549, 'level', '−30.25 dBm'],
	[-0.001, 'level', '0.00 dBm'],
	[20, 'attenuation', '20 dB'],
	[169.5e6, 'frequency', '169.500 MHz'],
	[1000, 'frequency', '1 kHz'],
	[109.34, 'resistance', '109.3 Ω'],
	[-77.06, 'resistance', '−77.1 Ω'],
	[41e-12, 'time', '41 ps'],
	[0.0005, 'time', '500 µs'],
	[0.05, 'fraction', '5 %'],
	[1.92495, 'number', '1.925'],
	[Math.PI, 'angle', '180°'],
	[Infinity, 'attenuation', '∞ dB'],
	[Number.NaN, 'number', 'no value'],
	[true, 'boolean', 'yes']
])('%s as %s is written %s', (value, kind, expected) => {
	expect(showValue(value, kind)).toBe(
		expected.replaceAll(' ', '\u00a0').replace('no\u00a0value', 'no value')
	);
});

test('units name their kind; unknown ones none', () => {
	expect(['MHz', 'dBm', 'dB', 'ohm', 'ps', '', 'constructor', 'mhz'].map(kindOfUnit)).toEqual([
		'frequency',
		'level',
		'attenuation',
		'resistance',
		'time',
		'number',
		undefined,
		undefined
	]);
});
