import { Fault } from '#lib/fault.ts';
import { faults } from './faults.ts';
import { commandRecord, isAnswer, questionOf, type Lesson, type Step, type WalkEntry } from './schema.ts';
import type { OpenBench, LessonBench } from './lesson-bench.ts';
import { LessonRunner, SWEEPS_HELD } from './runner.ts';

/** What came of a walk: everything that was not as it should be, and the steps it went through. */
export interface WalkResult {
	readonly findings: readonly Fault[];
	readonly visited: ReadonlySet<string>;
}

/**
 * Walks a lesson both ways on fresh benches. The right walk: before a step's walk its condition is false, after it true,
 * and its answers are graded right. Each wrong walk: it stops at the step it names, not before and not later, and some
 * answer of it shows the misconception. Steps that no walk passes are found too.
 */
export function walkLesson(lesson: Lesson, openBench: OpenBench): Fault[] {
	const right = new Walk(lesson, openBench, 'right walk').through();
	const wrong = lesson['wrong walks'].map((_, i) => walkWrongly(lesson, openBench, i));
	const visited = new Set([right, ...wrong].flatMap((result) => [...result.visited]));
	const missed = lesson.steps.filter((step) => !visited.has(step.id));
	return [
		...[right, ...wrong].flatMap((result) => result.findings),
		...missed.map((step) =>
			finding(
				`step "${step.id}"`,
				'No walk passes this step.',
				'Add a wrong walk whose answer leads here, or remove the step.'
			)
		)
	];
}

/** The right walk alone. */
export const walkRightly = (lesson: Lesson, openBench: OpenBench): WalkResult =>
	new Walk(lesson, openBench, 'right walk').through();

/** One wrong walk alone, counted from 0. */
function walkWrongly(lesson: Lesson, openBench: OpenBench, index: number): WalkResult {
	const walk = lesson['wrong walks'][index];
	return new Walk(lesson, openBench, `wrong walk ${index + 1} (${walk.misconception})`).until(walk);
}

const finding = (place: string, found: string, remedy: string): Fault =>
	faults['check-finding']({ place, found, remedy });

type WrongWalk = Lesson['wrong walks'][number];

class Walk {
	readonly #lesson: Lesson;
	readonly #open: OpenBench;
	readonly #name: string;
	readonly #findings: Fault[] = [];
	readonly #visited = new Set<string>();
	readonly #shown = new Set<string>();

	constructor(lesson: Lesson, open: OpenBench, name: string) {
		this.#lesson = lesson;
		this.#open = open;
		this.#name = name;
	}

	through(): WalkResult {
		return this.#guarded((runner, bench) => {
			while (!runner.progress.finished) {
				const { step } = runner;
				this.#before(runner, step);
				this.#perform(runner, bench, step.walk);
				this.#after(runner, step);
				if (!runner.canContinue) return;
				runner.continue();
			}
		});
	}

	until(wrong: WrongWalk): WalkResult {
		return this.#guarded((runner, bench) => {
			while (!runner.progress.finished) {
				const { step } = runner;
				this.#visit(step);
				const follow = Object.hasOwn(wrong.follow, step.id) ? wrong.follow[step.id] : step.walk;
				this.#perform(runner, bench, follow);
				this.#readTexts(runner, step);
				if (stops(runner, step.id === wrong['stops at'])) {
					if (step.id !== wrong['stops at'])
						this.#find(
							step,
							`The walk stops here; it should stop at "${wrong['stops at']}".`,
							'Change the walk or "stops at".'
						);
					else this.#shows(runner, wrong);
					return;
				}
				if (step.id === wrong['stops at']) {
					this.#find(
						step,
						'The walk does not stop here, though it says so.',
						'Tighten the condition, or change the walk.'
					);
					return;
				}
				runner.continue();
			}
			const last = this.#lesson.steps.at(-1);
			if (last)
				this.#find(
					last,
					`The walk reaches the end; it should stop at "${wrong['stops at']}".`,
					'Change the walk or "stops at".'
				);
		});
	}

	/** Runs a walk; a fault on the way is a finding too. */
	#guarded(walk: (runner: LessonRunner, bench: LessonBench) => void): WalkResult {
		try {
			const bench = this.#open(this.#lesson.bench);
			walk(LessonRunner.begin(this.#lesson, bench), bench);
		} catch (error) {
			if (!(error instanceof Fault)) throw error;
			this.#findings.push(
				new Fault(error.code, `${this.#name}, ${error.place}`, error.finding, error.remedy)
			);
		}
		return { findings: this.#findings, visited: this.#visited };
	}

	#visit(step: Step): void {
		this.#visited.add(step.id);
	}

	#before(runner: LessonRunner, step: Step): void {
		this.#visit(step);
		if (step.kind !== 'do') return;
		const met = sweepAWhile(runner);
		if (met && !step['starts true'])
			this.#find(
				step,
				'The condition holds before anything was done.',
				'Tighten "until", change the bench, or say "starts true: true".'
			);
		if (!met && step['starts true'])
			this.#find(step, 'The step says that it starts true, and does not.', 'Remove "starts true".');
	}

	#perform(runner: LessonRunner, bench: LessonBench, entries: readonly WalkEntry[]): void {
		for (const entry of entries) {
			if (isAnswer(entry)) runner.commitWritten(entry.answer);
			else bench.run(commandRecord(entry));
		}
		sweepAWhile(runner);
	}

	#after(runner: LessonRunner, step: Step): void {
		this.#readTexts(runner, step);
		const question = questionOf(step);
		const ink = runner.stepProgress.ink;
		if (step.kind === 'do' && !runner.canContinue)
			this.#find(step, 'After its walk the condition does not hold.', 'Complete the walk, or mend "until".');
		else if (question && ink.length === 0 && step.kind !== 'do')
			this.#find(step, 'Its walk gives no answer.', 'Add "- answer: …" to the walk.');
		else if (question?.answers.some((answer) => answer.right) && !ink.at(-1)?.grade.right)
			this.#find(
				step,
				'The answer of its walk is not graded right.',
				'Change the answer of the walk, or the cases of the question.'
			);
	}

	/** Every text a learner would see here is filled once, so that a blank that cannot be is found. */
	#readTexts(runner: LessonRunner, step: Step): void {
		const texts = [step.text, questionOf(step)?.ask, ...step.hints, runner.explanation(step.id)?.text];
		if (step.kind === 'explain') {
			if (step.of !== undefined) texts.push(runner.explanation(step.of)?.text);
			if (step.observed !== undefined) runner.written(step.observed);
		}
		for (const text of texts) if (text !== undefined) runner.text(text);
	}

	#shows(runner: LessonRunner, wrong: WrongWalk): void {
		const named = this.#lesson.steps.some((step) =>
			questionOf(step)?.answers.some((a) => a.misconception === wrong.misconception)
		);
		const shown = Object.values(runner.progress.steps).some((step) =>
			step.ink.some((commitment) => commitment.grade.misconception === wrong.misconception)
		);
		if (named && !shown)
			this.#find(
				runner.step,
				`No answer of the walk shows the misconception "${wrong.misconception}".`,
				'Let the walk give the answer that names it.'
			);
	}

	#find(step: Step, found: string, remedy: string): void {
		const place = `${this.#name}, step "${step.id}"`;
		if (!this.#shown.has(place + found)) this.#findings.push(finding(place, found, remedy));
		this.#shown.add(place + found);
	}
}

function sweepAWhile(runner: LessonRunner): boolean {
	let met = false;
	for (let i = 0; i < SWEEPS_HELD; i++) met = runner.sweep();
	return met;
}

/** A prediction or a decision stops no learner; it ends a walk only where the walk says so, by being wrong. */
function stops(runner: LessonRunner, named: boolean): boolean {
	if (!runner.canContinue) return true;
	const last = runner.stepProgress.ink.at(-1);
	return named && last !== undefined && !last.grade.right;
}
