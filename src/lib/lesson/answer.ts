import { parseQuantity, type QuantityKind } from '#lib/bench/quantity.ts';
import type { Fault } from '#lib/fault.ts';
import { faults } from './faults.ts';
import type { Question } from './question-schema.ts';
import type { WrittenAnswer } from './schema.ts';
import { kindOfUnit, showValue } from './value.ts';

/** An answer as it goes into ink: plain data, numbers in base units. */
export type Answer =
	| { readonly kind: 'choice'; readonly choice: string }
	| { readonly kind: 'number'; readonly value: number }
	| { readonly kind: 'point'; readonly re: number; readonly im: number }
	| { readonly kind: 'order'; readonly order: string[] }
	| { readonly kind: 'interval'; readonly low: number; readonly high: number };

/** The kind of quantity a question with a unit asks for. @throws Fault when the unit is unknown. */
export function kindAsked(unit: string, place: string): QuantityKind {
	const kind = kindOfUnit(unit) ?? (unit === '%' ? 'fraction' : undefined);
	if (kind === undefined) throw faults['expression-unit']({ place, found: unit });
	return kind;
}

/**
 * Reads an answer as it was typed or as it stands in a walk. A bare number takes the unit of the question.
 * @throws Fault saying what the question wants; nothing is committed then.
 */
export function readAnswer(question: Question, written: WrittenAnswer, place: string): Answer {
	switch (question.kind) {
		case 'choice': {
			const choices = question.answers.map((answer) => answer.is);
			if (typeof written !== 'string' || !choices.includes(written))
				throw unfit(written, choices.join(', '), place);
			return { kind: 'choice', choice: written };
		}
		case 'number':
			return { kind: 'number', value: readNumber(written, question.unit, place) };
		case 'point': {
			if (
				typeof written !== 'object' ||
				Array.isArray(written) ||
				!('at' in written) ||
				!written.at.every(Number.isFinite)
			)
				throw unfit(written, 'a point { at: [re, im] }', place);
			return { kind: 'point', re: written.at[0], im: written.at[1] };
		}
		case 'order': {
			const ids = question.items.map((item) => item.id);
			if (!Array.isArray(written) || !samePlaces([...written].sort(), [...ids].sort()))
				throw unfit(written, `each of these once: ${ids.join(', ')}`, place);
			return { kind: 'order', order: written };
		}
		case 'interval': {
			if (typeof written !== 'object' || !('low' in written))
				throw unfit(written, 'an interval { low, high }', place);
			const low = readNumber(written.low, question.unit, place);
			const high = readNumber(written.high, question.unit, place);
			if (low > high) throw unfit(`${written.low} to ${written.high}`, 'the lower end first', place);
			return { kind: 'interval', low, high };
		}
	}
}

const unfit = (written: unknown, wanted: string, place: string): Fault =>
	faults['answer-form']({
		place,
		found: (JSON.stringify(written) ?? 'nothing').slice(0, 60),
		expected: `Wanted is ${wanted}.`
	});

function readNumber(written: unknown, unit: string, place: string): number {
	if (typeof written !== 'string' && typeof written !== 'number')
		throw unfit(written, `a number in ${unit}`, place);
	const text = String(written).trim();
	const bare = /^[+\-\u2212]?[\d.]+(?:e[+-]?\d+)?$/i.test(text);
	return parseQuantity(bare && unit !== '' ? `${text} ${unit}` : text, kindAsked(unit, place), place);
}

export const samePlaces = (a: readonly string[], b: readonly string[]): boolean =>
	a.length === b.length && a.every((item, i) => item === b[i]);

/** The answer in the learner's words, for texts and the notebook. */
export function showAnswer(question: Question, answer: Answer): string {
	switch (answer.kind) {
		case 'choice': {
			const chosen =
				question.kind === 'choice' && question.answers.find((option) => option.is === answer.choice);
			return chosen ? chosen.text : answer.choice;
		}
		case 'number':
			return showValue(answer.value, unitKind(question));
		case 'point':
			return `${showValue(answer.re, 'number')} ${answer.im < 0 ? '\u2212' : '+'} j${showValue(Math.abs(answer.im), 'number')}`;
		case 'order': {
			const items = question.kind === 'order' ? question.items : [];
			return answer.order.map((id) => items.find((item) => item.id === id)?.text ?? id).join(', ');
		}
		case 'interval': {
			const kind = unitKind(question);
			return `${showValue(answer.low, kind)} to ${showValue(answer.high, kind)}`;
		}
	}
}

const unitKind = (question: Question): QuantityKind =>
	'unit' in question ? kindAsked(question.unit, 'question') : 'number';
