import { suggestion } from './nearest.ts';
import { consequencesOf, type Path, type Report } from './parts.ts';
import { questionOf, type LessonContent } from './schema.ts';

/**
 * The way through a lesson: ids once each, jumps only forward (so that no lesson runs in a circle and ink is never
 * written twice), no step out of reach, every prediction explained later, every do step with a walk.
 */
export function checkWay(lesson: LessonContent, report: Report): void {
	const passed = passedBefore(lesson);
	const ids = lesson.steps.map((step) => step.id);
	const known = new Set(ids);
	ids.forEach((id, i) => {
		if (ids.indexOf(id) < i)
			report(['steps', i, 'id'], `The id "${id}" is used twice.`, 'Give each step its own id.');
		if (id === 'end')
			report(
				['steps', i, 'id'],
				'The id "end" is reserved.',
				'Choose another; "next: end" finishes the lesson.'
			);
	});
	lesson.steps.forEach((step, i) => {
		const ways = jumpsOf(lesson, i);
		for (const { to, path } of ways) {
			if (to === 'end') continue;
			if (!known.has(to)) report(path, `There is no step "${to}".`, suggestion(to, known));
			else if (ids.indexOf(to) <= i)
				report(
					path,
					`"next" leads back to "${to}".`,
					'Only a later step may follow; "Begin this step again" is always there.'
				);
		}
		if (passed[i] === undefined)
			report(['steps', i], 'No step leads here.', 'Lead to it with "next", or remove it.');
		if (step.kind === 'do' && step.walk.length === 0 && !step['starts true'])
			report(['steps', i], 'The step has no walk.', 'List under "walk:" what a learner would do.');
		if (
			step.kind === 'predict' &&
			!lesson.steps.slice(i + 1).some((other) => other.kind === 'explain' && other.of === step.id)
		)
			report(
				['steps', i],
				'No later step explains this prediction.',
				`Add an explain step with "of: ${step.id}".`
			);
		if (step.kind === 'explain') checkExplained(lesson, i, report);
	});
	lesson['wrong walks'].forEach((walk, i) => {
		const path = ['wrong walks', i];
		for (const id of [...Object.keys(walk.follow), walk['stops at']])
			if (!known.has(id)) report(path, `There is no step "${id}".`, suggestion(id, known));
	});
}

function checkExplained(lesson: LessonContent, index: number, report: Report): void {
	const step = lesson.steps[index];
	if (step.kind !== 'explain') return;
	const path: Path = ['steps', index];
	if (step.of === undefined) {
		if (step.text === undefined) report(path, 'There is nothing to read.', 'Give it a "text:" or an "of:".');
		return;
	}
	const explained = lesson.steps.slice(0, index).find((other) => other.id === step.of);
	if (explained?.kind !== 'predict')
		report(
			[...path, 'of'],
			`"${step.of}" is no prediction before this step.`,
			'Name an earlier predict step.'
		);
}

function jumpsOf(lesson: LessonContent, index: number): { to: string; path: Path }[] {
	const step = lesson.steps[index];
	const path = ['steps', index];
	const question = questionOf(step);
	const ways = question
		? consequencesOf(question, [...path, 'question']).map(({ consequence, path: at }) => ({
				to: consequence.next,
				path: [...at, 'next']
			}))
		: [];
	return [...ways, { to: step.next, path: [...path, 'next'] }].flatMap(({ to, path: at }) =>
		to === undefined ? [] : [{ to, path: at }]
	);
}

/** The steps that may follow; the one written next counts unless every answer, or the step, leads elsewhere. */
function followers(lesson: LessonContent, index: number): number[] {
	const step = lesson.steps[index];
	const question = questionOf(step);
	const jumps = jumpsOf(lesson, index).map(({ to }) => lesson.steps.findIndex((other) => other.id === to));
	const falls =
		step.next === undefined &&
		(!question || consequencesOf(question, []).some(({ consequence }) => consequence.next === undefined));
	return [...jumps, ...(falls ? [index + 1] : [])].filter((i) => i > index);
}

/**
 * For each step the steps that every way to it has passed; undefined for one that no way reaches. Ways lead forward
 * only, so one pass in order is enough.
 */
export function passedBefore(lesson: LessonContent): (ReadonlySet<number> | undefined)[] {
	const passed: (Set<number> | undefined)[] = lesson.steps.map((_, i) =>
		i === 0 ? new Set<number>() : undefined
	);
	lesson.steps.forEach((_, i) => {
		const here = passed[i];
		if (here === undefined) return;
		const way = new Set([...here, i]);
		for (const next of followers(lesson, i)) {
			const before = passed[next];
			if (next < passed.length)
				passed[next] = before ? new Set([...before].filter((step) => way.has(step))) : way;
		}
	});
	return passed;
}
