import { Fault } from '#lib/fault.ts';
import { readAnswer, type Answer } from './answer.ts';
import { blankExpression, fillBlanks } from './blanks.ts';
import { parseExpression } from './conditions.ts';
import { holds, type ReadObservable } from './evaluate.ts';
import { explanationOf, rightCase, type Explanation } from './explanation.ts';
import { faults } from './faults.ts';
import { consequenceOf, grade, type Grade } from './grading.ts';
import type { LessonBench } from './lesson-bench.ts';
import { advance, progressOf, stepProgress, type Progress, type StepProgress } from './progress.ts';
import {
	RECORD_VERSION,
	readSavedLesson,
	type LearnerRecord,
	type RecordEntry,
	type SavedLesson
} from './record.ts';
import { rightAnswer } from './right-answer.ts';
import { commandRecord, questionOf, type Lesson, type Step, type WrittenAnswer } from './schema.ts';
import { everyInline, inlinesOf, parseText, plainText, type Block, type Inline } from './text.ts';
import { reader } from './vocabulary.ts';
import { inWords, keptNow, type Kept, type Moment } from './wording.ts';

/** A condition must hold for this many sweeps in a row, so that noise never passes or fails a learner. */
export const SWEEPS_HELD = 3;
/** Tries at an observe step before a hint opens; one more, and the answer is shown. */
export const FREE_TRIES = 2;

/**
 * Takes a learner through a lesson on a bench. All it knows is the record, a list that only grows; `progress` follows
 * from it. It holds no clock and no timer: the page calls `sweep()` for every new sweep.
 */
export class LessonRunner {
	readonly lesson: Lesson;
	readonly #bench: LessonBench;
	readonly #read: ReadObservable;
	#record: LearnerRecord = [];
	#progress: Progress = progressOf([]);
	#beginning: unknown;
	/** The present step's text with the bench's numbers as they were when the step began: a task must not move. */
	#stepText: Block[] | undefined;
	/** What that text printed and the step keeps, by its expression: the learner meets one number, not two. */
	#printed: ReadonlyMap<string, Kept> = new Map();
	/** What was said of answers, with the numbers of the moment it was said in, by step and number of answers. */
	readonly #said = new Map<string, Block[]>();
	#held = 0;

	private constructor(lesson: Lesson, bench: LessonBench) {
		this.lesson = lesson;
		this.#bench = bench;
		this.#read = reader(lesson, bench, () => this.#progress);
	}

	/** Begins a lesson on a bench just opened for it. */
	static begin(lesson: Lesson, bench: LessonBench): LessonRunner {
		const runner = new LessonRunner(lesson, bench);
		for (const command of lesson.start) bench.run(commandRecord(command));
		runner.#enter(lesson.steps[0]);
		return runner;
	}

	/** Comes back to the step a saved lesson stands at, the bench as it was. @throws Fault when it does not fit. */
	static resume(lesson: Lesson, bench: LessonBench, data: unknown): LessonRunner {
		const saved = readSavedLesson(data);
		const runner = new LessonRunner(lesson, bench);
		const progress = progressOf(saved.entries);
		const place = `saved lesson "${saved.lesson}"`;
		if (saved.lesson !== lesson.id || !lesson.steps.some((step) => step.id === progress.at))
			throw faults['record-step']({ place, found: progress.at ?? 'none' });
		runner.#record = saved.entries;
		runner.#progress = progress;
		runner.#beginning = saved.beginning;
		bench.restore(saved.beginning);
		void runner.stepText;
		bench.restore(saved.bench);
		return runner;
	}

	/** Everything needed to resume, as plain data. */
	save(): SavedLesson {
		return {
			version: RECORD_VERSION,
			lesson: this.lesson.id,
			entries: [...this.#record],
			beginning: this.#beginning,
			bench: this.#bench.snapshot()
		};
	}

	get record(): LearnerRecord {
		return this.#record;
	}

	get progress(): Progress {
		return this.#progress;
	}

	/** The step the learner stands at; the last one when the lesson is finished. */
	get step(): Step {
		return this.#stepNamed(this.#progress.at ?? this.lesson.steps[0].id);
	}

	get stepProgress(): StepProgress {
		return stepProgress(this.#progress, this.step.id);
	}

	/** How many sweeps in a row the condition of the present do step has held, up to three. */
	get sweepsHeld(): number {
		return this.#held;
	}

	/** What is visible at the present step: its own list, or the latest one before it, or the lesson's. */
	get show(): readonly string[] {
		const entered = this.#record.flatMap((entry) =>
			entry.type === 'entered' ? this.lesson.steps.filter((step) => step.id === entry.step) : []
		);
		return entered.findLast((step) => step.show !== undefined)?.show ?? this.lesson.show;
	}

	/** Whether the step is done, so that the learner may go on. A prediction and a decision need only be committed. */
	get canContinue(): boolean {
		const {
			step,
			stepProgress: { ink, met, shown }
		} = this;
		if (this.#progress.finished) return false;
		if (step.kind === 'do') return met;
		if (!questionOf(step)) return true;
		if (step.kind === 'predict' || step.kind === 'decide') return ink.length > 0;
		return shown || ink.some((commitment) => commitment.grade.right);
	}

	/** Tells the runner of a new sweep. @returns whether the step's condition has now been met. */
	sweep(): boolean {
		const { step } = this;
		if (step.kind !== 'do' || this.stepProgress.met || this.#progress.finished) return this.stepProgress.met;
		this.#held = this.#holdsNow(step.until) ? this.#held + 1 : 0;
		if (this.#held >= SWEEPS_HELD) this.#add({ type: 'met', step: step.id });
		return this.stepProgress.met;
	}

	/** Reads an answer as typed, with the unit of the question understood, and commits it. */
	commitWritten(written: WrittenAnswer): Grade {
		return this.commit(readAnswer(this.#question(), written, `step "${this.step.id}"`));
	}

	/**
	 * Puts an answer in ink. At an observe step a second wrong answer opens a hint and a third shows the right answer;
	 * both are recorded. @throws Fault when the step asks nothing or its answer stands already.
	 */
	commit(answer: Answer): Grade {
		const { step } = this;
		const place = `step "${step.id}"`;
		const question = this.#question();
		if (this.canContinue || this.#progress.finished) throw faults['answer-ink']({ place });
		const graded = grade(question, answer, this.#read, place);
		for (const command of consequenceOf(question, graded.met).commands ?? [])
			this.#bench.run(commandRecord(command));
		this.#add({ type: 'committed', step: step.id, answer, grade: graded });
		if (!this.canContinue) {
			const tries = this.stepProgress.ink.length;
			if (tries > FREE_TRIES) this.#add({ type: 'shown', step: step.id });
			else if (tries === FREE_TRIES && this.stepProgress.hints < step.hints.length) this.openHint();
		}
		return graded;
	}

	/** Opens the next hint and records it. @returns its Markdown. */
	openHint(): string {
		const {
			step,
			stepProgress: { hints }
		} = this;
		if (hints >= step.hints.length) throw faults['hint-none']({ place: `step "${step.id}"` });
		this.#add({ type: 'hint', step: step.id, hint: hints });
		return step.hints[hints];
	}

	/** Begins the present step again on the bench as it was then. Ink, tries and hints stay. */
	again(): void {
		if (this.#progress.finished)
			throw faults['step-waiting']({ place: 'lesson', remedy: 'The lesson is finished.' });
		this.#bench.restore(this.#beginning);
		this.#held = 0;
		this.#add({ type: 'again', step: this.step.id });
	}

	/** Leaves the step, keeping what it says to keep, and enters the next. @throws Fault while it is not done. */
	continue(): void {
		const { step } = this;
		if (!this.canContinue)
			throw faults['step-waiting']({ place: `step "${step.id}"`, remedy: 'Do what it asks, then go on.' });
		const next = this.#following(step);
		const kept = Object.fromEntries(
			Object.entries(step.keep).map(([name, source]) => [
				name,
				this.#printed.get(String(source)) ?? keptNow(String(source), this.#moment)
			])
		);
		this.#add({ type: 'left', step: step.id, kept });
		if (next === undefined) this.#add({ type: 'finished' });
		else this.#enter(next);
	}

	/** What may be said of the last answer to a step: for a prediction only once the step that explains it is reached. */
	explanation(id: string): Explanation | undefined {
		const step = this.#stepNamed(id);
		const { ink } = stepProgress(this.#progress, id);
		const commitment = ink.at(-1);
		if (!commitment) return undefined;
		if (step.kind === 'predict' && !this.#revealed(id)) return undefined;
		return explanationOf(this.lesson, step, commitment);
	}

	/** The right answer of the present step, once it has been shown. */
	get shownExplanation(): string | undefined {
		const question = questionOf(this.step);
		const right = rightCase(this.step);
		return this.stepProgress.shown && question && right !== undefined
			? consequenceOf(question, right).explain
			: undefined;
	}

	/** What that answer is, in words: the right option, value, point, order or interval. */
	get shownAnswer(): string | undefined {
		const question = questionOf(this.step);
		const right = rightCase(this.step);
		return this.stepProgress.shown && question && right !== undefined
			? rightAnswer(question, right, {
					written: (source) => this.written(source),
					plain: (markdown) => plainText(this.text(markdown))
				})
			: undefined;
	}

	/** The text of the present step, with the numbers of the moment it is first asked for: the step's beginning. */
	get stepText(): Block[] | undefined {
		const { text } = this.step;
		if (this.#stepText !== undefined || text === undefined) return this.#stepText;
		this.#printed = this.#printedBy(this.step);
		return (this.#stepText = this.text(text));
	}

	/** The text of `explanation(id)`, its numbers those of the moment it was first asked for. */
	explanationText(id: string): Block[] | undefined {
		const explanation = this.explanation(id);
		if (!explanation) return undefined;
		const key = `${id} ${stepProgress(this.#progress, id).ink.length}`;
		const text = this.#said.get(key) ?? this.text(explanation.text);
		this.#said.set(key, text);
		return text;
	}

	/** A text of the lesson as a tree, its blanks filled with what the bench shows now and the learner's own answers. */
	text(markdown: string): Block[] {
		return fillBlanks(parseText(markdown), (source) => inWords(source, this.#moment));
	}

	/** The same for one line: the words of a choice, of an item to be ordered, of an answer in ink. */
	line(markdown: string): Inline[] {
		return inlinesOf(this.text(markdown));
	}

	/** An expression of the lesson, such as `observed:`, as a reader sees it. */
	written(source: string | number): string {
		return inWords(blankExpression(String(source)), this.#moment);
	}

	/** What the text of a step prints now and the step keeps. A do step keeps what was reached in it. */
	#printedBy({ kind, text = '', keep }: Step): ReadonlyMap<string, Kept> {
		if (kind === 'do') return new Map();
		const kept = new Set(Object.values(keep).map(String));
		const blanks = [...everyInline(parseText(text))].flatMap((inline) =>
			inline.type === 'blank' && kept.has(inline.source) ? [inline.source] : []
		);
		const values = blanks.flatMap((source): [string, Kept][] => {
			try {
				return [[source, keptNow(source, this.#moment)]];
			} catch (fault) {
				if (fault instanceof Fault) return [];
				throw fault;
			}
		});
		return new Map(values.filter(([, { value }]) => value !== null));
	}

	/** What cannot be read now, such as a value outside the sweep, does not hold. */
	#holdsNow(until: string | number): boolean {
		try {
			return holds(parseExpression(until, this.step.id), this.#read);
		} catch (fault) {
			if (fault instanceof Fault) return false;
			throw fault;
		}
	}

	#revealed(id: string): boolean {
		return this.lesson.steps.some(
			(step) => step.kind === 'explain' && step.of === id && Object.hasOwn(this.#progress.steps, step.id)
		);
	}

	get #moment(): Moment {
		return { lesson: this.lesson, bench: this.#bench, progress: this.#progress, read: this.#read };
	}

	#question() {
		const question = questionOf(this.step);
		if (!question) throw faults['answer-none']({ place: `step "${this.step.id}"` });
		return question;
	}

	/** The step that the answer, else the step, leads to, else the one written next; undefined at the end. */
	#following(step: Step): Step | undefined {
		const question = questionOf(step);
		const met = this.stepProgress.ink.at(-1)?.grade.met;
		const next = (question && met !== undefined ? consequenceOf(question, met).next : undefined) ?? step.next;
		if (next === 'end') return undefined;
		return next === undefined
			? this.lesson.steps[this.lesson.steps.indexOf(step) + 1]
			: this.#stepNamed(next);
	}

	#enter(step: Step): void {
		for (const command of step.start) this.#bench.run(commandRecord(command));
		this.#beginning = this.#bench.snapshot();
		this.#held = 0;
		this.#add({ type: 'entered', step: step.id });
		this.#stepText = undefined;
		this.#printed = new Map();
	}

	#stepNamed(id: string): Step {
		const step = this.lesson.steps.find((candidate) => candidate.id === id);
		if (!step) throw faults['record-step']({ place: `lesson "${this.lesson.id}"`, found: id });
		return step;
	}

	#add(entry: RecordEntry): void {
		this.#record = [...this.#record, entry];
		this.#progress = advance(this.#progress, entry);
	}
}
