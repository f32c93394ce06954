import type { Question, Region } from './question-schema.ts';
import { showValue } from './value.ts';

/** How the expressions and texts of a lesson read at this moment. */
interface Wording {
	readonly written: (source: string | number) => string;
	readonly plain: (markdown: string) => string;
}

/** A value in the unit the author gave it; anything else is worked out. */
const valueWords = (source: string | number, { written }: Wording): string =>
	/^-?[\d.]+ \S+$/.test(String(source))
		? String(source).replace('-', '\u2212').replace(' ', '\u00a0')
		: written(source);

const HALVES = {
	upper: 'the upper half',
	lower: 'the lower half',
	left: 'the left half',
	right: 'the right half'
};

function regionWords({ circle, ring, half }: Region, { written }: Wording): string {
	const parts: string[] = [];
	if (circle) {
		const [re, im] = circle.centre.map(written);
		const reactive = im.startsWith('\u2212') ? `\u2212 j${im.slice(1)}` : `+ j${im}`;
		parts.push(`within ${showValue(circle.radius, 'number')} of Γ = ${re} ${reactive}`);
	}
	if (ring) parts.push(`|Γ| from ${ring.map((size) => showValue(size, 'number')).join(' to ')}`);
	if (half !== undefined) parts.push(`in ${HALVES[half]} of the chart`);
	return parts.join(', ');
}

/** Case `i` of a question as an answer one could have given. */
export function rightAnswer(question: Question, i: number, wording: Wording): string {
	switch (question.kind) {
		case 'choice':
			return wording.plain(question.answers[i].text);
		case 'number': {
			const { is, between } = question.answers[i];
			return (between ?? [is ?? 0]).map((end) => valueWords(end, wording)).join(' to ');
		}
		case 'point':
			return regionWords(question.answers[i].is, wording);
		case 'order':
			return question.answers[i].is
				.map((id) => wording.plain(question.items.find((item) => item.id === id)?.text ?? id))
				.join(', ');
		case 'interval':
			return `An interval around ${valueWords(question.holds, wording)}, at most ${valueWords(question.widest, wording)} wide`;
	}
}
