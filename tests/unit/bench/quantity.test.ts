import { expect, test } from 'vitest';
import fc from 'fast-check';
import { Fault } from '#lib/fault.ts';
import { baseUnit, formatQuantity, parseQuantity, quantityKinds, unitSymbols } from '#lib/bench/quantity.ts';
import type { QuantityKind } from '#lib/bench/quantity.ts';

// Values of the SI prefixes: SI Brochure, 9th ed., 2019, table 7.
test.each<[string, QuantityKind, number]>([
	['169.5 MHz', 'frequency', 169.5e6],
	['2.4 GHz', 'frequency', 2.4e9],
	['300 Hz', 'frequency', 300],
	['1 kHz', 'frequency', 1000],
	['-20 dBm', 'level', -20],
	['+10 dBm', 'level', 10],
	['20 dB', 'attenuation', 20],
	['-120 dBm/Hz', 'noise density', -120],
	['12.5 dB/100 m', 'loss per length', 0.125],
	['12.5 dB/100m', 'loss per length', 0.125],
	['0.2 dB/m', 'loss per length', 0.2],
	['41 ps', 'time', 41e-12],
	['5 ms', 'time', 5e-3],
	['3 us', 'time', 3e-6],
	['3 µs', 'time', 3e-6],
	['3 \u03bcs', 'time', 3e-6],
	['8.604 mm', 'length', 8.604e-3],
	['12 cm', 'length', 0.12],
	['50 ohm', 'resistance', 50],
	['50 Ω', 'resistance', 50],
	['50 \u2126', 'resistance', 50],
	['4.7 kohm', 'resistance', 4700],
	['2 mΩ', 'resistance', 2e-3],
	['1 MΩ', 'resistance', 1e6],
	['50 fF', 'capacitance', 50e-15],
	['100 pF', 'capacitance', 100e-12],
	['0.1 nH', 'inductance', 0.1e-9],
	['0.5 mrad', 'angle', NaN],
	['180 °', 'angle', Math.PI],
	['180 deg', 'angle', Math.PI],
	['0.1 rad', 'angle', 0.1],
	['750 mV', 'voltage', 0.75],
	['0.2 fA', 'current', 2e-16],
	['40 mS', 'conductance', 40e-3],
	['4.2 mA/V²', 'current per squared voltage', 4.2e-3],
	['0.02 /V', 'part per voltage', 0.02],
	['0.2 ppm/kV²', 'part per squared voltage', 2e-13],
	['0.9 Ω/m', 'resistance per length', 0.9],
	['375 nH/m', 'inductance per length', 375e-9],
	['66.7 pF/m', 'capacitance per length', 66.7e-12],
	['10 W', 'power', 10],
	['3 mW', 'power', 3e-3],
	['1 %', 'fraction', 0.01],
	['0.01', 'fraction', 0.01],
	['7', 'number', 7]
])('%s as %s', (text, kind, value) => {
	if (Number.isNaN(value)) expect(() => parseQuantity(text, kind)).toThrow(Fault);
	else expect(parseQuantity(text, kind)).toBe(value);
});

test('every kind and every unit of it is read, and the base unit stands for itself', () => {
	for (const kind of quantityKinds) {
		expect(unitSymbols(kind)).toContain(baseUnit(kind));
		expect(parseQuantity(`3 ${baseUnit(kind)}`, kind)).toBe(3);
		for (const unit of unitSymbols(kind)) expect(parseQuantity(`3 ${unit}`, kind)).toBeGreaterThan(0);
	}
});

test.each(quantityKinds)('%s: what is written is read back to the last bit', (kind) => {
	// Every double there is, the smallest and largest among them; zero stands for −0. 2000 values.
	const anyNumber = fc.double({ noNaN: true, noDefaultInfinity: true });
	fc.assert(
		fc.property(anyNumber, (value) => {
			expect(parseQuantity(formatQuantity(value, kind), kind)).toBe(value === 0 ? 0 : value);
		}),
		{ seed: 1694, numRuns: 1000 }
	);
	const ordinary = fc.tuple(fc.integer({ min: -999999, max: 999999 }), fc.integer({ min: -15, max: 9 }));
	fc.assert(
		fc.property(ordinary, ([digits, power]) => {
			const value = Number(`${digits}e${power}`);
			expect(parseQuantity(formatQuantity(value, kind), kind)).toBe(value === 0 ? 0 : value);
		}),
		{ seed: 1694, numRuns: 1000 }
	);
});

test.each<[number, QuantityKind, string]>([
	[169.5e6, 'frequency', '169.5 MHz'],
	[41e-12, 'time', '41 ps'],
	[-20, 'level', '-20 dBm'],
	[50, 'resistance', '50 Ω'],
	[4700, 'resistance', '4.7 kΩ'],
	[0, 'inductance', '0 H'],
	[0.01, 'fraction', '1 %'],
	[5e-14, 'capacitance', '50 fF'],
	[0.125, 'loss per length', '12.5 dB/100 m'],
	[8.604e-3, 'length', '8.604 mm'],
	[Infinity, 'attenuation', 'Infinity dB']
])('%d as %s is written %s', (value, kind, text) => {
	expect(formatQuantity(value, kind)).toBe(text);
});

test.each([
	'−20 dBm',
	'-20dBm',
	'  -20   dBm ',
	'-20\u00a0dBm',
	'-20\u202fdBm',
	'-20\u2009dBm',
	'-2e1 dBm',
	'-20. dBm',
	'-20.0 dBm'
])('"%s" is −20 dBm', (text) => {
	expect(parseQuantity(text, 'level')).toBe(-20);
});

test.each<[string, QuantityKind, string, RegExp]>([
	['169,5 MHz', 'frequency', 'quantity-comma', /169\.5 MHz/],
	['169.5 mHz', 'frequency', 'quantity-case', /MHz/],
	['169.5 MHZ', 'frequency', 'quantity-case', /MHz/],
	['-20 DBM', 'level', 'quantity-case', /dBm/],
	['-20 dbm', 'level', 'quantity-case', /dBm/],
	['-20', 'level', 'quantity-unit-missing', /dBm/],
	['-20 dB', 'level', 'quantity-unit', /dBm/],
	['20 dBm', 'attenuation', 'quantity-unit', /dB/],
	['20 V', 'level', 'quantity-unit', /dBm/],
	['20 dBm extra', 'level', 'quantity-unit', /dBm/],
	['1 000 kHz', 'frequency', 'quantity-unit', /kHz/],
	['0x10 Hz', 'frequency', 'quantity-unit', /Hz/],
	['', 'level', 'quantity-number', /10 dBm/],
	['dBm', 'level', 'quantity-number', /10 dBm/],
	['NaN dBm', 'level', 'quantity-number', /10 dBm/],
	['Infinity dBm', 'level', 'quantity-number', /10 dBm/],
	['1e999 dBm', 'level', 'quantity-number', /10 dBm/],
	['--20 dBm', 'level', 'quantity-number', /10 dBm/],
	['- 20 dBm', 'level', 'quantity-number', /10 dBm/],
	[`1${'0'.repeat(300)} Hz`, 'frequency', 'quantity-number', /10 Hz/],
	['5 %', 'number', 'quantity-unit', /no unit/]
])('"%s" is no %s: %s', (text, kind, code, remedy) => {
	try {
		parseQuantity(text, kind, 'source.level');
		expect.unreachable();
	} catch (fault) {
		if (!(fault instanceof Fault)) throw fault;
		expect(fault).toMatchObject({ code, place: 'source.level' });
		expect(fault.remedy).toMatch(remedy);
		expect(fault.message.length).toBeLessThan(300);
	}
});
