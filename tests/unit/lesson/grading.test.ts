import { expect, test } from 'vitest';
import { readAnswer, showAnswer } from '#lib/lesson/answer.ts';
import { grade } from '#lib/lesson/grading.ts';
import type { QuestionOf } from '#lib/lesson/question-schema.ts';
import type { WrittenAnswer } from '#lib/lesson/schema.ts';
import { FakeBench } from './fake-bench.ts';

const bench = new FakeBench();
const explain = 'Because.';
const otherwise = { explain };

function met(question: Parameters<typeof grade>[0], written: WrittenAnswer) {
	return grade(
		question,
		readAnswer(question, written, 'here'),
		(name, args) => bench.read(name, args),
		'here'
	).met;
}

const number = (unit: string, tolerance: string, is: string): QuestionOf<'number'> => ({
	kind: 'number',
	ask: 'How much?',
	unit,
	tolerance,
	answers: [{ is, right: true, explain }],
	otherwise
});

test('a number is right up to and with its tolerance', () => {
	const question = number('dB', '1 dB', '20 dB');
	for (const right of ['20', '19', '21 dB', '20.5 dB', 20]) expect(met(question, right)).toBe(0);
	for (const wrong of ['18.99', '21.01 dB', '-20']) expect(met(question, wrong)).toBe('otherwise');
	expect(met(number('dB', '0.1 dB', '0.2 dB'), '0.3')).toBe(0);
});

test('a tolerance in % is relative, except for percentages themselves', () => {
	expect(met(number('ohm', '5 %', '100 ohm'), '105 ohm')).toBe(0);
	expect(met(number('ohm', '5 %', '100 ohm'), '94.9')).toBe('otherwise');
	expect(met(number('ohm', '5 %', '-100 ohm'), '-96')).toBe(0);
	expect(met(number('ohm', '1 ohm', '0.1 kohm'), '0.101 kΩ')).toBe(0);
	expect(met(number('%', '5 %', '20 %'), '25 %')).toBe(0);
	expect(met(number('%', '5 %', '20 %'), '26')).toBe('otherwise');
	expect(() => met(number('dBm', '5 %', '-20 dBm'), '-20')).toThrow('Decibels need a tolerance in dB');
});

test('a level is compared with the bench', () => {
	expect(met(number('dBm', '0.5 dB', 'level.device'), '\u221230.4 dBm')).toBe(0);
	expect(met(number('dBm', '0.5 dB', 'level.device'), '-30.6')).toBe('otherwise');
});

test('a wrong unit is refused, not graded', () => {
	expect(() => met(number('dB', '1 dB', '20 dB'), '20 dBm')).toThrow('here');
	expect(() => met(number('MHz', '1 %', '169.5 MHz'), '169,5 MHz')).toThrow('here');
});

test('ranges include their ends, the first case that fits is met', () => {
	const question: QuestionOf<'number'> = {
		kind: 'number',
		ask: '?',
		unit: '',
		tolerance: 0.1,
		answers: [
			{ is: 2, right: true, explain },
			{ between: [0, 5], explain }
		],
		otherwise
	};
	expect([2, 5, 0, 5.01].map((n) => met(question, n))).toEqual([0, 1, 1, 'otherwise']);
});

test('regions of the Smith chart: circle, ring, half, and all together', () => {
	const question: QuestionOf<'point'> = {
		kind: 'point',
		ask: '?',
		picture: 'smith chart',
		answers: [
			{ is: { circle: { centre: ['1 / 3', 0], radius: 0.1 } }, right: true, explain },
			{ is: { ring: [0.28, 0.38], half: 'left' }, explain },
			{ is: { half: 'upper' }, explain }
		],
		otherwise
	};
	const at = (re: number, im: number) => met(question, { at: [re, im] });
	expect(at(0.33, 0.05)).toBe(0);
	expect(at(1 / 3, 0.1)).toBe(0);
	expect(at(-1 / 3, 0)).toBe(1);
	expect(at(0.33, 0.5)).toBe(2);
	expect(at(0.33, -0.5)).toBe('otherwise');
	expect(() => at(Number.NaN, 0)).toThrow('does not fit');
});

test('orders are compared place by place', () => {
	const question: QuestionOf<'order'> = {
		kind: 'order',
		ask: '?',
		items: ['a', 'b', 'c'].map((id) => ({ id, text: id.toUpperCase() })),
		answers: [{ is: ['a', 'b', 'c'], right: true, explain }],
		otherwise
	};
	expect(met(question, ['a', 'b', 'c'])).toBe(0);
	expect(met(question, ['b', 'a', 'c'])).toBe('otherwise');
	expect(() => met(question, ['a', 'b', 'b'])).toThrow('each of these once');
	expect(showAnswer(question, { kind: 'order', order: ['b', 'a', 'c'] })).toBe('B, A, C');
});

test('an interval holds, misses, or is too wide', () => {
	const question: QuestionOf<'interval'> = {
		kind: 'interval',
		ask: '?',
		unit: 'ohm',
		holds: 'displayed.R(169.5 MHz)',
		widest: '10 ohm',
		answers: [
			{ is: 'holds', right: true, explain },
			{ is: 'misses', explain },
			{ is: 'too wide', explain }
		]
	};
	expect(met(question, { low: 40, high: '45 ohm' })).toBe(0);
	expect(met(question, { low: 42, high: 100 })).toBe(1);
	expect(met(question, { low: 0, high: 100 })).toBe(2);
	expect(() => met(question, { low: 50, high: 40 })).toThrow('lower end first');
});

test('a choice must be one of the options', () => {
	const question: QuestionOf<'choice'> = {
		kind: 'choice',
		ask: '?',
		answers: [
			{ is: 'up', text: 'Up', right: true, explain },
			{ is: 'down', text: 'Down', explain }
		]
	};
	expect(met(question, 'down')).toBe(1);
	expect(() => met(question, 'constructor')).toThrow('up, down');
	expect(showAnswer(question, { kind: 'choice', choice: 'up' })).toBe('Up');
});
