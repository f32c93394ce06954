import { parseQuantity } from '#lib/bench/quantity.ts';
import { kindAsked, samePlaces, type Answer } from './answer.ts';
import { parseExpression } from './conditions.ts';
import { number, type ReadObservable } from './evaluate.ts';
import { faults } from './faults.ts';
import type { Consequence, Question, QuestionOf, Region } from './question-schema.ts';

/** What an answer was found to be: which of the question's cases it met. Plain data, kept with the ink. */
export interface Grade {
	readonly right: boolean;
	/** The case met, counted from 0, or `otherwise`. */
	readonly met: number | 'otherwise';
	readonly misconception?: string;
}

/** Rounding of the arithmetic, relative to the tolerance; no grade hangs on less. */
const ROUNDING = 1e-9;

/**
 * Grades an answer against the cases of its question in the order they are written; the first that fits is met.
 * Numbers fit within the tolerance, ends included. Expressions are read from the bench as it is now.
 * @throws Fault when the answer is of another kind than the question.
 */
export function grade(question: Question, answer: Answer, read: ReadObservable, place: string): Grade {
	const i = firstCase(question, answer, read, place);
	const met = i < 0 ? 'otherwise' : i;
	const { right = false, misconception } = consequenceOf(question, met);
	return misconception === undefined ? { right, met } : { right, met, misconception };
}

/** What the question says of a case. */
export function consequenceOf(question: Question, met: Grade['met']): Consequence {
	const otherwise = 'otherwise' in question ? question.otherwise : undefined;
	const consequence = met === 'otherwise' ? otherwise : question.answers.at(met);
	if (consequence) return consequence;
	throw faults['answer-form']({
		place: 'question',
		found: `case ${met}`,
		expected: 'One of the listed cases is wanted.'
	});
}

function firstCase(question: Question, answer: Answer, read: ReadObservable, place: string): number {
	if (question.kind === 'choice' && answer.kind === 'choice')
		return question.answers.findIndex((option) => option.is === answer.choice);
	if (question.kind === 'number' && answer.kind === 'number')
		return question.answers.findIndex((option) => fits(question, option, answer.value, read, place));
	if (question.kind === 'point' && answer.kind === 'point')
		return question.answers.findIndex((option) => inside(option.is, answer.re, answer.im, read, place));
	if (question.kind === 'order' && answer.kind === 'order')
		return question.answers.findIndex((option) => samePlaces(option.is, answer.order));
	if (question.kind === 'interval' && answer.kind === 'interval') {
		const outcome = stated(question, answer.low, answer.high, read, place);
		return question.answers.findIndex((option) => option.is === outcome);
	}
	throw faults['answer-form']({ place, found: answer.kind, expected: `Wanted is a ${question.kind}.` });
}

/** `1 dB` allows one decibel either way, `5 %` a twentieth of the value; of a question in % it allows five points. */
export function allowance(question: QuestionOf<'number'>, value: number, place: string): number {
	const kind = kindAsked(question.unit, place);
	const written = String(question.tolerance).trim();
	const differences = kind === 'level' ? 'attenuation' : kind;
	if (!written.endsWith('%') || kind === 'fraction')
		return Math.abs(parseQuantity(written, differences, place));
	if (kind === 'level' || kind === 'attenuation' || kind === 'noise density')
		throw faults['answer-form']({
			place,
			found: `tolerance "${written}"`,
			expected: 'Decibels need a tolerance in dB.'
		});
	return Math.abs(parseQuantity(written, 'fraction', place) * value);
}

function fits(
	question: QuestionOf<'number'>,
	option: QuestionOf<'number'>['answers'][number],
	value: number,
	read: ReadObservable,
	place: string
): boolean {
	if (option.between) {
		const [low, high] = option.between.map((bound) => number(parseExpression(bound, place), read));
		return value >= low && value <= high;
	}
	const wanted = number(parseExpression(option.is ?? 0, place), read);
	const allowed = allowance(question, wanted, place);
	return Math.abs(value - wanted) <= allowed + ROUNDING * Math.max(allowed, Math.abs(wanted) * 1e-3);
}

/** Whether Γ lies in a region of the Smith chart; edges belong to it. */
function inside(region: Region, re: number, im: number, read: ReadObservable, place: string): boolean {
	const { circle, ring, half } = region;
	if (circle) {
		const [x, y] = circle.centre.map((part) => number(parseExpression(part, place), read));
		if (Math.hypot(re - x, im - y) > circle.radius * (1 + ROUNDING)) return false;
	}
	if (ring) {
		const size = Math.hypot(re, im);
		if (size < ring[0] * (1 - ROUNDING) || size > ring[1] * (1 + ROUNDING)) return false;
	}
	if (half === undefined) return true;
	return { upper: im >= 0, lower: im <= 0, left: re <= 0, right: re >= 0 }[half];
}

/** An interval that misses the value misses it, however wide. */
function stated(
	question: QuestionOf<'interval'>,
	low: number,
	high: number,
	read: ReadObservable,
	place: string
) {
	const value = number(parseExpression(question.holds, place), read);
	if (value < low || value > high) return 'misses';
	const widest = number(parseExpression(question.widest, place), read);
	return high - low > widest * (1 + ROUNDING) ? 'too wide' : 'holds';
}
