import type { Fault } from '#lib/fault.ts';
import { faults } from './faults.ts';
import { glossary } from './glossary.ts';
import { checkExpressions } from './expression-check.ts';
import type { LessonBench, OpenBench } from './lesson-bench.ts';
import type { LessonScript } from './lesson-file.ts';
import { suggestion } from './nearest.ts';
import { consequencesOf, textsOf, type Path, type Report } from './parts.ts';
import { longReads, longSentences, wrongMinutes } from './reading-limits.ts';
import { checkQuestion } from './question-check.ts';
import { commandRecord, isAnswer, questionOf, type WalkEntry } from './schema.ts';
import { everyInline, parseText } from './text.ts';
import { walkLesson } from './walk.ts';
import { checkWay } from './way-check.ts';

/** What a lesson is checked against. */
export interface Surroundings {
	readonly bench: Pick<LessonBench, 'observables' | 'commands'>;
	/** What `show:` may name. */
	readonly views: ReadonlySet<string>;
	readonly terms?: ReadonlySet<string>;
}

/**
 * Everything to be found in a lesson without a bench that runs: ids and ways, questions, misconceptions, names and
 * kinds in expressions, commands, links and terms, and how much there is to read. An empty list means none.
 */
export function checkScript({ lesson, place }: LessonScript, { bench, views, terms }: Surroundings): Fault[] {
	const found: Fault[] = [];
	const report: Report = (path, finding, remedy) =>
		void found.push(faults['check-finding']({ place: place(path), found: finding, remedy }));
	checkWay(lesson, report);
	checkMisconceptions(lesson, report);
	lesson.steps.forEach((step, i) => {
		const question = questionOf(step);
		if (question) checkQuestion(step, question, ['steps', i, 'question'], report);
		if (step.kind === 'observe' && step.hints.length === 0)
			report(
				['steps', i],
				'An observe step has no hint.',
				'Add "hints:"; the first opens after two wrong tries.'
			);
		step.hints.forEach((hint, j) => {
			if (hint.trim() === '')
				report(['steps', i, 'hints', j], 'The hint is empty.', 'Write it or remove it.');
		});
		step.show?.forEach((name, j) =>
			checkName(name, views, ['steps', i, 'show', j], 'part of the screen', report)
		);
	});
	lesson.show.forEach((name, i) => checkName(name, views, ['show', i], 'part of the screen', report));
	for (const { command, path } of commandsOf(lesson))
		if (!bench.commands.has(command))
			found.push(
				faults['lesson-command-unknown']({
					place: place(path),
					found: command,
					suggestion: suggestion(command, bench.commands)
				})
			);
	found.push(...checkExpressions(lesson, bench, place));
	checkTexts(lesson, terms ?? new Set(glossary.keys()), report);
	for (const { path, found: finding, remedy } of [...longReads(lesson), ...wrongMinutes(lesson)])
		report(path, finding, remedy);
	return found;
}

/** The whole check: the script, and when nothing is wrong with it, its walks on benches opened for them. */
export function checkLesson(script: LessonScript, openBench: OpenBench, views: ReadonlySet<string>): Fault[] {
	const found = checkScript(script, { bench: openBench(script.lesson.bench), views });
	return found.length > 0 ? found : walkLesson(script.lesson, openBench);
}

function checkName(name: string, known: ReadonlySet<string>, path: Path, what: string, report: Report): void {
	if (!known.has(name)) report(path, `There is no ${what} "${name}".`, suggestion(name, known));
}

type Lesson = LessonScript['lesson'];

function checkMisconceptions(lesson: Lesson, report: Report): void {
	const known = new Set(Object.keys(lesson.misconceptions));
	const walked = new Set(lesson['wrong walks'].map((walk) => walk.misconception));
	for (const name of known)
		if (!walked.has(name))
			report(
				['misconceptions', name],
				`No wrong walk shows the misconception "${name}".`,
				'Add one under "wrong walks:".'
			);
	const check = (name: string | undefined, path: Path) => {
		if (name !== undefined) checkName(name, known, path, 'misconception', report);
	};
	lesson['wrong walks'].forEach((walk, i) => check(walk.misconception, ['wrong walks', i, 'misconception']));
	lesson.teacher?.questions.forEach((asked, i) =>
		asked.expect.forEach((e, j) =>
			check(e.misconception, ['teacher', 'questions', i, 'expect', j, 'misconception'])
		)
	);
	lesson.steps.forEach((step, i) => {
		const question = questionOf(step);
		if (question)
			for (const { consequence, path } of consequencesOf(question, ['steps', i, 'question']))
				check(consequence.misconception, [...path, 'misconception']);
	});
}

/** Every command a script would run, by name. */
function commandsOf(lesson: Lesson): { command: string; path: Path }[] {
	const found: { command: string; path: Path }[] = [];
	const add = (entries: readonly WalkEntry[] | undefined, path: Path) =>
		entries?.forEach((entry, i) => {
			if (!isAnswer(entry)) found.push({ command: commandRecord(entry).name, path: [...path, i] });
		});
	add(lesson.start, ['start']);
	lesson.steps.forEach((step, i) => {
		add(step.start, ['steps', i, 'start']);
		add(step.walk, ['steps', i, 'walk']);
		const question = questionOf(step);
		if (question)
			for (const { consequence, path } of consequencesOf(question, ['steps', i, 'question']))
				add(consequence.commands, [...path, 'commands']);
	});
	lesson['wrong walks'].forEach((wrong, i) => {
		for (const [id, entries] of Object.entries(wrong.follow)) add(entries, ['wrong walks', i, 'follow', id]);
	});
	return found;
}

function checkTexts(lesson: Lesson, terms: ReadonlySet<string>, report: Report): void {
	const ids = new Set(lesson.steps.map((step) => step.id));
	for (const { source, path } of textsOf(lesson)) {
		for (const inline of everyInline(parseText(source))) {
			if (inline.type === 'term') checkName(inline.term, terms, path, 'glossary term', report);
			if (inline.type === 'link' && inline.address.startsWith('#'))
				checkName(inline.address.slice(1), ids, path, 'step', report);
			if (inline.type === 'text' && /\[[^\]]+\]\([^)]*\)/.test(inline.text))
				report(
					path,
					`The link "${inline.text.slice(0, 40)}" leads nowhere allowed.`,
					'Use http, https, mailto, glossary:term or #step.'
				);
			if (inline.type === 'text' && /\{\{|\}\}/.test(inline.text))
				report(path, 'A blank is not closed.', 'Write it as {{expression}} on one line.');
		}
		for (const { found, remedy } of longSentences(source, path)) report(path, found, remedy);
	}
}
