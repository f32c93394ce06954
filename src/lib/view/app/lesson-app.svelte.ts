import { Fault } from '#lib/fault.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import type { LessonRunner } from '#lib/lesson/runner.ts';
import type { WrittenAnswer } from '#lib/lesson/schema.ts';
import type { Pencil } from '#lib/view/corridor/pencil.ts';
import type { AskedQuestion, LessonPage } from '#lib/view/notebook/lesson-page.ts';
import type { BenchApp } from './bench-app.svelte.ts';
import { lessonNamed } from './lessons.ts';
import { levelMark, pointMark } from './marks.ts';
import { PageLessonBench } from './page-lesson-bench.ts';

/** The lesson engine, loaded when the first lesson is opened. */
const engine = async () => {
	const [file, runner, open, page] = await Promise.all([
		import('#lib/lesson/lesson-file.ts'),
		import('#lib/lesson/runner.ts'),
		import('#lib/lesson/open-bench.ts'),
		import('#lib/view/notebook/lesson-page.ts')
	]);
	return { ...file, ...runner, ...open, ...page };
};
type Engine = Awaited<ReturnType<typeof engine>>;

/** A lesson in the notebook, running on the bench on the screen. */
export class LessonApp {
	/** The lesson's page as it stands; null without a lesson. */
	page: LessonPage | null = $state.raw(null);
	file: string | null = $state(null);
	/** What was wrong with the answer just given. */
	fault: { readonly finding: string; readonly remedy: string } | null = $state.raw(null);
	/** A point chosen on the chart, for the fields of the open question. */
	placed: Complex | null = $state.raw(null);
	/** The same as a mark in the corridor or on the chart; in ink it stays until the next question has one. */
	mark: Pencil | null = $state.raw(null);
	point: { readonly gamma: Complex; readonly ink: boolean } | null = $state.raw(null);
	finishedFiles: readonly string[] = $state.raw([]);
	onchange: () => void = () => undefined;

	readonly #bench: BenchApp;
	#engine: Engine | null = null;
	#runner: LessonRunner | null = null;

	constructor(bench: BenchApp) {
		this.#bench = bench;
	}

	/** What the present step shows of the screen; null shows everything. */
	get show(): readonly string[] | null {
		return this.page && this.#runner ? this.#runner.show : null;
	}

	/** The question that is open, if any. */
	get asked(): AskedQuestion | undefined {
		return this.page?.steps.find((step) => step.state === 'open')?.question;
	}

	/** Opens a lesson from its beginning, on a bench of its own. */
	async open(file: string): Promise<void> {
		const listed = lessonNamed(file);
		if (!listed) return;
		const { readLesson, LessonRunner, lessonDocument } = (this.#engine ??= await engine());
		const lesson = readLesson(listed.text, `${file}.yaml`);
		this.#bench.revealed = false;
		this.#bench.open(lessonDocument(lesson.bench), lesson.title, 'The lesson has a bench of its own.');
		this.#begin(file, LessonRunner.begin(lesson, new PageLessonBench(this.#bench)));
	}

	/** Comes back to a lesson that was kept. @throws Fault when what was kept does not fit the lesson. */
	async resume(file: string, saved: unknown): Promise<void> {
		const listed = lessonNamed(file);
		if (!listed) return;
		const { readLesson, LessonRunner } = (this.#engine ??= await engine());
		const lesson = readLesson(listed.text, `${file}.yaml`);
		this.#begin(file, LessonRunner.resume(lesson, new PageLessonBench(this.#bench), saved));
	}

	leave(): void {
		this.mark = null;
		this.point = null;
		this.#runner = null;
		this.page = null;
		this.file = null;
		this.fault = null;
		this.onchange();
	}

	/** Everything needed to resume, or null without a lesson. */
	save(): { file: string; saved: unknown } | null {
		return this.#runner && this.file ? { file: this.file, saved: this.#runner.save() } : null;
	}

	commit(written: WrittenAnswer): void {
		this.#act((runner) => {
			this.write(written);
			runner.commitWritten(written);
			if (this.mark) this.mark = { ...this.mark, ink: true };
			if (this.point) this.point = { ...this.point, ink: true };
		});
	}

	hint(): void {
		this.#act((runner) => void runner.openHint());
	}

	next(): void {
		this.#act((runner) => {
			runner.continue();
			this.point = null;
			this.placed = null;
		});
	}

	again(): void {
		this.#act((runner) => runner.again());
	}

	/** The open question's answer as it stands in pencil, and its mark; null when it was rubbed out. */
	write(written: WrittenAnswer | null): void {
		const asked = this.asked;
		if (asked?.kind === 'point') this.point = pointMark(written);
		else if (asked?.kind === 'number' && asked.mark && this.#bench.picture)
			this.mark = levelMark(written, asked.mark, this.#bench.picture);
	}

	/** A point chosen on the chart as the answer in pencil. */
	place(gamma: Complex): void {
		this.placed = gamma;
		this.write({ at: [gamma.re, gamma.im] });
	}

	/** Tells the lesson of a new picture. */
	sweep(): void {
		const runner = this.#runner;
		if (!runner) return;
		runner.sweep();
		this.#turn();
	}

	#begin(file: string, runner: LessonRunner): void {
		this.#runner = runner;
		this.file = file;
		this.fault = null;
		this.mark = null;
		this.point = null;
		this.#turn();
		this.onchange();
	}

	#act(deed: (runner: LessonRunner) => void): void {
		if (!this.#runner) return;
		this.fault = null;
		try {
			deed(this.#runner);
		} catch (problem) {
			if (!(problem instanceof Fault)) throw problem;
			this.fault = { finding: problem.finding, remedy: problem.remedy };
		}
		this.#turn();
		this.onchange();
	}

	/** Turns to the page as it stands; while the bench is another one than its picture, that waits for the next picture. */
	#turn(): void {
		if (!this.#runner || !this.#engine || !this.file || !this.#bench.readable) return;
		this.page = this.#engine.lessonPage(this.#runner);
		if (this.page.finished && !this.finishedFiles.includes(this.file))
			this.finishedFiles = [...this.finishedFiles, this.file];
	}
}
