import { blankExpression } from './blanks.ts';
import type { Consequence, Question } from './question-schema.ts';
import { questionOf, type LessonContent, type Step } from './schema.ts';
import { everyInline, parseText } from './text.ts';
import type { ValueKind } from './value.ts';

/** The way to a part of a script: keys and indexes from the top. */
export type Path = readonly (string | number)[];

/** Takes a finding: where, what, and how to mend it. */
export type Report = (path: Path, found: string, remedy: string) => void;

/** An expression of a lesson, where it stands and what must come out of it. */
export interface PlacedExpression {
	readonly source: string | number;
	readonly path: Path;
	/** The step it belongs to; names of earlier steps may be used in it. */
	readonly step: number;
	/** `unit`: the kind of the question's unit; `any`: whatever it is. */
	readonly expected: ValueKind | 'unit' | 'any';
}

export interface PlacedText {
	readonly source: string;
	readonly path: Path;
	readonly step: number;
}

export interface PlacedConsequence {
	readonly consequence: Consequence & { readonly text?: string };
	readonly path: Path;
}

/** What follows on each answer, `otherwise` last. */
export function consequencesOf(question: Question, path: Path): PlacedConsequence[] {
	const listed = question.answers.map((consequence, i) => ({ consequence, path: [...path, 'answers', i] }));
	return 'otherwise' in question
		? [...listed, { consequence: question.otherwise, path: [...path, 'otherwise'] }]
		: listed;
}

/** Every text of a lesson that a learner or a teacher may read. */
export function textsOf(lesson: LessonContent): PlacedText[] {
	const texts: PlacedText[] = [];
	const last = lesson.steps.length;
	const add = (source: string | undefined, path: Path, step: number) => {
		if (source !== undefined) texts.push({ source, path, step });
	};
	add(lesson.objective, ['objective'], -1);
	lesson.steps.forEach((step, i) => {
		const path = ['steps', i];
		add(step.text, [...path, 'text'], i);
		step.hints.forEach((hint, j) => add(hint, [...path, 'hints', j], i));
		add(step.teacher, [...path, 'teacher'], last);
		const question = questionOf(step);
		if (!question) return;
		add(question.ask, [...path, 'question', 'ask'], i);
		if (question.kind === 'order')
			question.items.forEach((item, j) => add(item.text, [...path, 'question', 'items', j, 'text'], i));
		for (const { consequence, path: at } of consequencesOf(question, [...path, 'question'])) {
			add(consequence.text, [...at, 'text'], i);
			add(consequence.explain, [...at, 'explain'], revealedAt(lesson, step, i));
		}
	});
	add(lesson.teacher?.notes, ['teacher', 'notes'], last);
	lesson.teacher?.questions.forEach((asked, i) => {
		add(asked.ask, ['teacher', 'questions', i, 'ask'], last);
		asked.expect.forEach((e, j) => add(e.answer, ['teacher', 'questions', i, 'expect', j, 'answer'], last));
	});
	return texts;
}

/** The step at which an explanation is read: for a prediction, the one that explains it; its own answer is known there. */
function revealedAt(lesson: LessonContent, step: Step, index: number): number {
	const explaining = lesson.steps.findIndex((s) => s.kind === 'explain' && s.of === step.id);
	return Math.max(explaining, index + 0.5);
}

/** Every expression of a lesson, those in blanks included. */
export function expressionsOf(lesson: LessonContent): PlacedExpression[] {
	const found: PlacedExpression[] = [];
	lesson.steps.forEach((step, i) => {
		const path = ['steps', i];
		const add = (source: string | number, at: Path, expected: PlacedExpression['expected'], when = i) =>
			found.push({ source, path: [...path, ...at], step: when, expected });
		for (const [name, source] of Object.entries(step.keep)) add(source, ['keep', name], 'any', i + 0.5);
		if (step.kind === 'do') add(step.until, ['until'], 'boolean');
		if (step.kind === 'explain' && step.observed !== undefined) add(step.observed, ['observed'], 'any');
		const question = questionOf(step);
		if (question)
			questionExpressions(question, (source, at, expected) => add(source, ['question', ...at], expected));
	});
	for (const { source, path, step } of textsOf(lesson))
		for (const inline of everyInline(parseText(source)))
			if (inline.type === 'blank')
				found.push({ source: blankExpression(inline.source), path, step, expected: 'any' });
	return found;
}

function questionExpressions(
	question: Question,
	add: (source: string | number, at: Path, expected: PlacedExpression['expected']) => void
): void {
	switch (question.kind) {
		case 'number':
			question.answers.forEach((answer, i) => {
				if (answer.is !== undefined) add(answer.is, ['answers', i, 'is'], 'unit');
				answer.between?.forEach((bound, j) => add(bound, ['answers', i, 'between', j], 'unit'));
			});
			return;
		case 'point':
			question.answers.forEach((answer, i) =>
				answer.is.circle?.centre.forEach((part, j) =>
					add(part, ['answers', i, 'is', 'circle', 'centre', j], 'number')
				)
			);
			return;
		case 'interval':
			add(question.holds, ['holds'], 'unit');
			add(question.widest, ['widest'], 'any');
	}
}
