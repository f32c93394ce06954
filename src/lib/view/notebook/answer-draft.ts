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
		case 'point': {
			const [re, im] = [a, b].map((text) => Number(text.replace('\u2212', '-')));
			return a === '' || b === '' ? null : { at: [re, im] };
		}
		case 'order':
			return [...order];
	}
}

/** The order with one item moved a place up or down; unchanged at its ends. */
export function movedItem(order: readonly string[], id: string, by: 1 | -1): string[] {
	const from = order.indexOf(id);
	const to = from + by;
	if (from < 0 || to < 0 || to >= order.length) return [...order];
	return order.toSpliced(from, 1).toSpliced(to, 0, id);
}
