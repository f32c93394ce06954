import { expect, test } from 'vitest';
import { complex } from '#lib/numeric/complex.ts';
import {
	decibels,
	fixed,
	frequency,
	impedance,
	level,
	ohms,
	percent,
	picoseconds,
	reactance,
	returnLoss,
	shown,
	signed,
	significant,
	sizeAndAngle,
	standingWaveRatio,
	whole
} from '#lib/view/numbers.ts';

const plain = (text: string) => text.replace(/\u00a0/g, '_');

test('a negative number has a true minus, and a rounded zero has none', () => {
	expect(fixed(-30.25, 2)).toBe('\u221230.25');
	expect(fixed(-0.001, 2)).toBe('0.00');
	expect(fixed(-0, 1)).toBe('0.0');
	expect(signed(41, 0)).toBe('+41');
	expect(signed(0.001, 1)).toBe('0.0');
	expect(fixed(Infinity, 1)).toBe('infinite');
	expect(fixed(NaN, 1)).toBe('not defined');
});

test('every unit is tied to its number', () => {
	expect(plain(level(-30.25))).toBe('\u221230.25_dBm');
	expect(plain(level(-Infinity))).toBe('no signal');
	expect(plain(decibels(4.75))).toBe('4.8_dB');
	expect(plain(percent(0.0177))).toBe('1.8_%');
	expect(plain(frequency(169.525e6))).toBe('169.525_MHz');
	expect(plain(picoseconds(41e-12))).toBe('+41_ps');
	expect(plain(picoseconds(-12.5e-12))).toBe('\u221212.5_ps');
	expect(plain(shown('-35 dBm'))).toBe('\u221235_dBm');
	expect(plain(whole(12345))).toBe('12_345');
	expect(whole(9999)).toBe('9999');
});

test('impedances are written as a practitioner writes them', () => {
	expect(plain(impedance(complex(109.3, -77.1)))).toBe('109.3_\u2212_j77.1_Ω');
	expect(plain(impedance(complex(25, 50)))).toBe('25.0_+_j50.0_Ω');
	expect(impedance(complex(Infinity))).toBe('open (infinite)');
	expect(impedance(complex(NaN, NaN))).toBe('not defined');
	expect(plain(reactance(-1234.5))).toBe('\u2212_j1235');
	expect(ohms(999.94)).toBe('999.9');
	expect(ohms(999.96)).toBe('1000');
	expect(plain(ohms(1e9))).toBe('over 100_000');
	expect(plain(ohms(-1e9))).toBe('below \u2212100_000');
	expect(ohms(-3.25)).toBe('\u22123.3');
	expect(sizeAndAngle(complex(0, -0.5))).toBe('0.500 at \u221290.0°');
});

test('what has no meaning at |Γ| of 1 and above is said, not computed', () => {
	expect(standingWaveRatio(3.444, 0.55)).toBe('3.44');
	expect(standingWaveRatio(1999, 0.999)).toBe('over 1000');
	expect(standingWaveRatio(Infinity, 1)).toBe('infinite');
	expect(standingWaveRatio(Infinity, 1.2)).toBe('none');
	expect(returnLoss(5.193)).toBe('5.19');
	expect(returnLoss(Infinity)).toBe('over 100');
	expect(returnLoss(-1.5)).toBe('\u22121.50');
});

test('sizes have so many significant figures and no powers of ten', () => {
	expect(significant(0.0411)).toBe('0.041');
	expect(significant(0.0996)).toBe('0.10');
	expect(significant(0.00060001)).toBe('0.00060');
	expect(significant(3.46)).toBe('3.5');
	expect(significant(210.4)).toBe('210');
	expect(significant(0)).toBe('0');
	expect(significant(3e-7)).toBe('under 0.00001');
	expect(significant(Infinity)).toBe('infinite');
});
