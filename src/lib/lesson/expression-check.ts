import { Fault } from '#lib/fault.ts';
import { parseExpression } from './conditions.ts';
import { faults } from './faults.ts';
import { kindOf, named, plain } from './kinds.ts';
import type { LessonBench } from './lesson-bench.ts';
import { kindAsked } from './answer.ts';
import { expressionsOf, type Path, type PlacedExpression } from './parts.ts';
import { questionOf, type LessonContent } from './schema.ts';
import type { ValueKind } from './value.ts';
import { answerKind, vocabulary } from './vocabulary.ts';
import { passedBefore } from './way-check.ts';

/**
 * Names and kinds in every expression of a lesson: known observables with the right arguments, answers and kept
 * numbers only of steps that every way has passed, quantities of one kind, and what comes out fit for its place.
 */
export function checkExpressions(
	lesson: LessonContent,
	bench: Pick<LessonBench, 'observables'>,
	place: (path: Path) => string
): Fault[] {
	const kept = keptKinds(lesson, bench);
	const passed = passedBefore(lesson);
	return expressionsOf(lesson).flatMap((expression) => {
		const answered = new Map<string, ValueKind>();
		const keptBefore = new Map<string, ValueKind>();
		const at = place(expression.path);
		const here = Math.floor(expression.step);
		lesson.steps.forEach((step, i) => {
			const own = i === here && expression.step > here;
			if (!own && here < lesson.steps.length && !passed[here]?.has(i)) return;
			const kind = caught(() => answerKind(step));
			if (kind && !(kind instanceof Fault)) answered.set(step.id, kind);
			// A step's own answer may be spoken of once it is committed; what it keeps, only after it was left.
			if (own) return;
			for (const name of Object.keys(step.keep))
				if (kept.has(name)) keptBefore.set(name, kept.get(name) ?? 'number');
		});
		const words = vocabulary(bench, answered, keptBefore);
		const source = String(expression.source);
		const kind = caught(() => kindOf(parseExpression(source, at), words, at, source));
		if (kind instanceof Fault) return [kind];
		const wanted = caught(() => expectedKind(lesson, expression, at));
		if (wanted instanceof Fault || wanted === 'any' || wanted === kind) return [];
		return [
			faults['expression-kind']({
				place: at,
				expression: source,
				found: named(kind),
				expected: named(wanted)
			})
		];
	});
}

function expectedKind(
	lesson: LessonContent,
	{ expected, path }: PlacedExpression,
	place: string
): ValueKind | 'any' {
	if (expected !== 'unit') return expected;
	const question = questionOf(lesson.steps[Number(path[1])]);
	return question && 'unit' in question ? plain(kindAsked(question.unit, place)) : 'any';
}

/** The kinds of what steps keep, in order, since one may build on another. */
function keptKinds(lesson: LessonContent, bench: Pick<LessonBench, 'observables'>): Map<string, ValueKind> {
	const kept = new Map<string, ValueKind>();
	const answered = new Map<string, ValueKind>();
	for (const step of lesson.steps) {
		const kind = caught(() => answerKind(step));
		if (kind && !(kind instanceof Fault)) answered.set(step.id, kind);
		for (const [name, source] of Object.entries(step.keep)) {
			const written = String(source);
			const found = caught(() =>
				kindOf(parseExpression(written, name), vocabulary(bench, answered, kept), name, written)
			);
			if (!(found instanceof Fault)) kept.set(name, found);
		}
	}
	return kept;
}

function caught<Value>(work: () => Value): Value | Fault {
	try {
		return work();
	} catch (error) {
		if (error instanceof Fault) return error;
		throw error;
	}
}
