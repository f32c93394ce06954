import { kindAsked, type Answer } from './answer.ts';
import type { ReadObservable } from './evaluate.ts';
import type { Observable } from './expression.ts';
import { faults } from './faults.ts';
import type { Vocabulary } from './kinds.ts';
import type { LessonBench, ObservableDescription, ObservableValue } from './lesson-bench.ts';
import { stepProgress, type Progress } from './progress.ts';
import { questionOf, type LessonContent, type Step } from './schema.ts';
import type { ValueKind } from './value.ts';

/** The kind `answer("step")` has: numbers keep the unit of their question, all else is a text. */
export function answerKind(step: Step): ValueKind | undefined {
	const question = questionOf(step);
	if (!question) return undefined;
	return question.kind === 'number' ? kindAsked(question.unit, step.id) : 'text';
}

/**
 * What expressions of a lesson may speak of: the observables of the bench, the answers of the steps given, and what
 * was kept under the kinds given.
 */
export function vocabulary(
	bench: Pick<LessonBench, 'observables'>,
	answered: ReadonlyMap<string, ValueKind>,
	kept: ReadonlyMap<string, ValueKind>
): Vocabulary {
	const text = (name: string, kind: ValueKind): ObservableDescription => ({
		name,
		kind,
		arguments: [],
		meaning: 'A value of this lesson.'
	});
	return {
		names: [
			...bench.observables.keys(),
			...[...answered.keys()].map((id) => `answer("${id}")`),
			...[...kept.keys()].map((name) => `kept.${name}`)
		],
		describe(observable: Observable) {
			const { name } = observable;
			if (name === 'answer') {
				const kind = answered.get(String(observable.arguments[0]?.value));
				return kind && { ...text(name, kind), arguments: [{ name: 'step', kind: 'text' }] };
			}
			if (name.startsWith('kept.')) {
				const kind = kept.get(name.slice('kept.'.length));
				return kind && text(name, kind);
			}
			return bench.observables.get(name);
		}
	};
}

/** Reads observables of the bench, and answers and kept numbers out of the learner's progress. */
export function reader(lesson: LessonContent, bench: LessonBench, progress: () => Progress): ReadObservable {
	return (name, args): ObservableValue => {
		if (name === 'answer') return lastAnswer(String(args[0]), progress());
		if (!name.startsWith('kept.')) return bench.read(name, args);
		const { kept } = progress();
		const key = name.slice('kept.'.length);
		if (Object.hasOwn(kept, key)) return kept[key].value ?? Number.NaN;
		throw faults['lesson-observable-unknown']({
			place: `lesson "${lesson.title}"`,
			found: name,
			suggestion: 'It is kept only by a step that was passed.'
		});
	};
}

function lastAnswer(step: string, progress: Progress): ObservableValue {
	const commitment = stepProgress(progress, step).ink.at(-1);
	return commitment === undefined ? Number.NaN : plainAnswer(commitment.answer);
}

/** An answer as something to compare with: a number, or its words. */
function plainAnswer(answer: Answer): number | string {
	switch (answer.kind) {
		case 'number':
			return answer.value;
		case 'choice':
			return answer.choice;
		case 'order':
			return answer.order.join(', ');
		case 'point':
			return `${answer.re}, ${answer.im}`;
		case 'interval':
			return `${answer.low}, ${answer.high}`;
	}
}
