import { expect, test } from 'vitest';
import type { Question } from '#lib/lesson/question-schema.ts';
import { rightAnswer } from '#lib/lesson/right-answer.ts';

const wording = { written: (source: string | number) => `<${source}>`, plain: (text: string) => text };
const shown = (question: Question) => rightAnswer(question, 0, wording);
const explain = 'So.';

test('a value in the unit it was given in, an expression worked out, a range with both ends', () => {
	const number = (answer: { is: string } | { between: [string, string] }): Question => ({
		kind: 'number',
		ask: '?',
		unit: 'mV',
		tolerance: '5 %',
		answers: [{ ...answer, right: true, explain }],
		otherwise: { explain }
	});
	expect(shown(number({ is: '0.5 mV' }))).toBe('0.5\u00a0mV');
	expect(shown(number({ is: '-53 dBm' }))).toBe('\u221253\u00a0dBm');
	expect(shown(number({ is: 'level.receiver - 20 dB' }))).toBe('<level.receiver - 20 dB>');
	expect(shown(number({ between: ['-53 dBm', 'level.ceiling'] }))).toBe(
		'\u221253\u00a0dBm to <level.ceiling>'
	);
});

test('an option, a point, an order and an interval', () => {
	const options = [
		{ is: 'far', text: 'Far below', right: true, explain },
		{ is: 'any', text: 'Anywhere', explain }
	];
	expect(shown({ kind: 'choice', ask: '?', answers: options })).toBe('Far below');
	const region = {
		circle: { centre: ['a', '\u2212b'] as [string, string], radius: 0.08 },
		half: 'left' as const
	};
	const point: Question = {
		kind: 'point',
		ask: '?',
		picture: 'smith chart',
		answers: [{ is: region, right: true, explain }],
		otherwise: { explain }
	};
	expect(shown(point)).toBe('within 0.08 of Γ = <a> + j<\u2212b>, in the left half of the chart');
	const order: Question = {
		kind: 'order',
		ask: '?',
		items: [
			{ id: 'a', text: 'First' },
			{ id: 'b', text: 'Then' }
		],
		answers: [{ is: ['b', 'a'], right: true, explain }],
		otherwise: { explain }
	};
	expect(shown(order)).toBe('Then, First');
	const interval: Question = {
		kind: 'interval',
		ask: '?',
		unit: 'Ω',
		holds: 'truth.R(169.5 MHz)',
		widest: '6 Ω',
		answers: [{ is: 'holds', right: true, explain }]
	};
	expect(shown(interval)).toBe('An interval around <truth.R(169.5 MHz)>, at most 6\u00a0Ω wide');
});
