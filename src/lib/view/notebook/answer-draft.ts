import type { WrittenAnswer } from '#lib/lesson/schema.ts';
import type { AskedQuestion } from './lesson-page.ts';

/** An answer still in pencil, field by field; what is missing is empty text. */
export interface Draft {
	/** A number, a choice, the lower end, or the real part. */
	readonly first: string;
	/** The upper end, or the imaginary part. */
	readonly second: string;
	readonly order: readonly string[];
}

export const emptyDraft = (question: AskedQuestion): Draft => ({
	first: '',
	second: '',
	order: question.kind === 'order' ? question.items.map(({ id }) => id) : []
});

const isNumber = (text: string): boolean => /^[+\-\u2212]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i.test(text);
const numberOf = (text: string): number => Number(text.replace('\u2212', '-'));

/** The answer as it would be committed, or null while something is missing. */
export function writtenAnswer(
	question: AskedQuestion,
	{ first, second, order }: Draft
): WrittenAnswer | null {
	const [a, b] = [first.trim(), second.trim()];
	switch (question.kind) {
		case 'choice':
		case 'number':
			return a === '' ? null : a;
		case 'interval':
			return a === '' || b === '' ? null : { low: a, high: b };
		case 'point':
			return isNumber(a) && isNumber(b) ? { at: [numberOf(a), numberOf(b)] } : null;
		case 'order':
			return [...order];
	}
}

/** What an answer still wants before it can be committed; null when nothing is missing. */
export function wanting(question: AskedQuestion, draft: Draft): string | null {
	if (writtenAnswer(question, draft) !== null) return null;
	switch (question.kind) {
		case 'choice':
			return 'Choose one first.';
		case 'interval':
			return 'Write both ends first.';
		case 'point': {
			const wrong = [draft.first.trim(), draft.second.trim()].find((text) => text !== '' && !isNumber(text));
			if (wrong === undefined) return 'Mark the place on the chart, or write both numbers.';
			return /^[+\-\u2212]?\d*,\d+$/.test(wrong)
				? `\u201c${wrong}\u201d has a decimal comma. Write ${wrong.replace(',', '.')}.`
				: `\u201c${wrong}\u201d is not a number. Write it like 0.25.`;
		}
		default:
			return 'Write your answer first.';
	}
}

/** The order with one item moved a place up or down; unchanged at its ends. */
export function movedItem(order: readonly string[], id: string, by: 1 | -1): string[] {
	const from = order.indexOf(id);
	const to = from + by;
	if (from < 0 || to < 0 || to >= order.length) return [...order];
	return order.toSpliced(from, 1).toSpliced(to, 0, id);
}
