import { consequencesOf, type Path } from './parts.ts';
import { questionOf, type LessonContent, type Step } from './schema.ts';
import { parseText, plainText } from './text.ts';

/** What a learner can be asked to read: words before something to do, words in a sentence, minutes a step. */
const limits = {
	wordsBeforeDoing: 70,
	wordsInSentence: 22,
	minutesPerStep: [1.5, 4.5]
} as const;

export interface ReadingFinding {
	readonly path: Path;
	readonly found: string;
	readonly remedy: string;
}

/** Words that are read, a formula or a blank counting as one. */
export function countWords(markdown: string): number {
	return plainText(parseText(markdown))
		.split(/\s+/)
		.filter((word) => /[\p{L}\p{N}]/u.test(word)).length;
}

/** The sentences of a text; a point inside a number or after a single letter ends none. */
export function sentencesOf(markdown: string): string[] {
	return plainText(parseText(markdown))
		.split(/(?<=[.!?:;])\s+|\n+/)
		.map((sentence) => sentence.trim())
		.filter((sentence) => sentence !== '');
}

export function longSentences(markdown: string, path: Path): ReadingFinding[] {
	return sentencesOf(markdown)
		.filter((sentence) => countWords(sentence) > limits.wordsInSentence)
		.map((sentence) => ({
			path,
			found: `A sentence has ${countWords(sentence)} words: "${sentence.slice(0, 40)}…".`,
			remedy: 'Make two of it; about 20 words are allowed.'
		}));
}

/** Words pile up from the last thing done to the next thing to do; the longest explanation counts with its step. */
export function longReads(lesson: LessonContent): ReadingFinding[] {
	let words = 0;
	const found: ReadingFinding[] = [];
	lesson.steps.forEach((step, i) => {
		if (step.kind === 'explain' && step.of !== undefined)
			words += longestExplanation(lesson.steps.find((other) => other.id === step.of));
		words += countWords(step.text ?? '') + countWords(questionOf(step)?.ask ?? '');
		if (words > limits.wordsBeforeDoing)
			found.push({
				path: ['steps', i],
				found: `There are ${words} words to read before something to do; ${limits.wordsBeforeDoing} are allowed.`,
				remedy: 'Shorten the text, or give the learner something to do earlier.'
			});
		if (step.kind === 'do' || questionOf(step))
			words = step.kind === 'predict' ? 0 : longestExplanation(step);
	});
	return found;
}

function longestExplanation(step: Step | undefined): number {
	const question = step && questionOf(step);
	if (!question) return 0;
	return Math.max(...consequencesOf(question, []).map(({ consequence }) => countWords(consequence.explain)));
}

export function wrongMinutes(lesson: LessonContent): ReadingFinding[] {
	const each = lesson.minutes / lesson.steps.length;
	const [least, most] = limits.minutesPerStep;
	if (each >= least && each <= most) return [];
	return [
		{
			path: ['minutes'],
			found: `${lesson.minutes} minutes for ${lesson.steps.length} steps are ${each.toFixed(1)} minutes a step.`,
			remedy: 'About 3 minutes a step are right; change the minutes or the number of steps.'
		}
	];
}
