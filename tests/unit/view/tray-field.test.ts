import { expect, test } from 'vitest';
import {
	bringsUnit,
	fieldText,
	fieldTextIn,
	keySteps,
	moved,
	readField,
	readWhole
} from '#lib/view/controls/field.ts';
import { nextTick, percentAlong } from '#lib/view/controls/slider.ts';

const level = { from: -60, to: 10 };

test('a field shows figures and unit apart, with a true minus', () => {
	expect(fieldText(-20, 'level')).toEqual({ figures: '\u221220', unit: 'dBm' });
	expect(fieldText(4.1e-11, 'time')).toEqual({ figures: '41', unit: 'ps' });
	expect(fieldText(0.66, 'number')).toEqual({ figures: '0.66', unit: '' });
});

test('a bare number takes the unit beside the field; a written unit counts', () => {
	expect(readField('\u221231.5', 'dBm', 'level', level, -20)).toEqual({ value: -31.5 });
	expect(readField('42', 'ps', 'time', { from: -1e-7, to: 1e-7 }, 0)).toEqual({ value: 4.2e-11 });
	expect(readField('0.5 ns', 'ps', 'time', { from: -1e-7, to: 1e-7 }, 0)).toEqual({ value: 5e-10 });
	expect(readField('0.7', '', 'number', { from: 0.3, to: 1 }, 1)).toEqual({ value: 0.7 });
});

test('what cannot be read is answered with what is allowed', () => {
	expect(readField('loud', 'dBm', 'level', level, -20)).toEqual({ fault: expect.stringContaining('loud') });
	expect(readField('12', 'dBm', 'level', level, -20)).toEqual({
		fault: 'Give a level from \u221260 dBm to 10 dBm.'
	});
	expect(readField('5 mhz', 'MHz', 'frequency', { from: 1, to: 1e9 }, 1e6)).toEqual({
		fault: expect.stringContaining('capitals')
	});
	expect(readField('1,5', 'dB', 'attenuation', { from: 0, to: 80 }, 20)).toEqual({
		fault: expect.stringContaining('comma')
	});
	expect(readWhole('2.5', 'averages', { from: 1, to: 100 })).toEqual({
		fault: 'Give averages: a whole number from 1 to 100.'
	});
	expect(readWhole('many', 'averages', { from: 1, to: 100 })).toHaveProperty('fault');
	expect(readWhole('64', 'averages', { from: 1, to: 100 })).toEqual({ value: 64 });
});

test('the example is the value that stands there', () => {
	expect(readField('loud', 'dBm', 'level', level, -20)).toEqual({
		fault: expect.stringContaining('Write it like \u221220\u00a0dBm.')
	});
	expect(readField(' ', 'dBm', 'level', level, -20)).toEqual({
		fault: 'Nothing is written here. Write it like \u221220\u00a0dBm.'
	});
});

test('where another setting is the limit, that is said', () => {
	const start = { from: 1e3, to: 169.65e6, over: 'The stop is lower.' };
	expect(readField('170', 'MHz', 'frequency', start, 169e6)).toEqual({ fault: 'The stop is lower.' });
	expect(readField('1 Hz', 'MHz', 'frequency', start, 169e6)).toEqual({
		fault: expect.stringContaining('from 1 kHz')
	});
});

test('a field that was entered keeps its unit', () => {
	expect(fieldTextIn(0.1, 'length', 'm')).toEqual({ figures: '0.1', unit: 'm' });
	expect(fieldTextIn(4.1e-11, 'time', 'ps')).toEqual({ figures: '41', unit: 'ps' });
	expect(fieldTextIn(0.02, 'fraction', '%')).toEqual({ figures: '2', unit: '%' });
	expect(fieldTextIn(-31.5, 'level', 'dBm')).toEqual({ figures: '\u221231.5', unit: 'dBm' });
	expect([bringsUnit('1.3'), bringsUnit(''), bringsUnit('10 cm')]).toEqual([false, false, true]);
	expect(fieldTextIn(0.66, 'number', '')).toEqual({ figures: '0.66', unit: '' });
});

test('keys move by a step, ten steps or a tick, and stay in range', () => {
	expect(keySteps('ArrowUp', false, 0.1, 10)).toBe(0.1);
	expect(keySteps('ArrowDown', true, 0.1, 10)).toBe(-1);
	expect(keySteps('PageDown', false, 0.1, 10)).toBe(-10);
	expect(keySteps('a', false, 0.1, 10)).toBe(0);
	expect(moved(0.1, 0.2, { from: 0, to: 1 })).toBe(0.3);
	expect(moved(9.8, 1, level)).toBe(10);
});

test('ticks of a slider are reached one after the other, ends included', () => {
	const ticks = [0, 10, 20].map((at) => ({ at, text: String(at) }));
	expect(nextTick(12, ticks, 1, -5, 25)).toBe(20);
	expect(nextTick(20, ticks, 1, -5, 25)).toBe(25);
	expect(nextTick(0, ticks, -1, -5, 25)).toBe(-5);
	expect(percentAlong(5, 0, 20)).toBe(25);
	expect(percentAlong(60, 0, 20)).toBe(100);
	expect(percentAlong(3, 3, 3)).toBe(0);
});
