import { readLink, isLink, writeLink } from '#lib/files/share-link.ts';
import { writeBench } from '#lib/files/bench-file.ts';
import { Fault } from '#lib/fault.ts';
import type { CommandRecord } from '#lib/bench/command.ts';
import { deviceCatalogue } from '#lib/bench/device-catalogue.ts';
import { withSweeps } from '#lib/bench/history.ts';
import { formatQuantity } from '#lib/bench/quantity.ts';
import { frequency } from '#lib/view/numbers.ts';
import { BenchApp } from './bench-app.svelte.ts';
import type { Message } from './bench-app.svelte.ts';
import { openFile, saveText } from './bench-files.ts';
import type { Band } from './bench-files.ts';
import { keep, keptWork } from './keeping.ts';
import { LessonApp } from './lesson-app.svelte.ts';
import { withNote } from './notes.ts';
import type { Note } from './notes.ts';

/** Wait after the last change before the work is kept, ms. */
const CALM = 400;

/** Beyond this many sweeps a link would keep the bench busy for long. */
const MOST_LINKED_SWEEPS = 100_000;

/** A link's bench, and how many sweeps its run had taken; without that, or if it is no such number, undefined. */
function linkParts(fragment: string): { bench: string; sweeps: number | undefined } {
	const [bench, rest] = fragment.split('&sweeps=', 2);
	const sweeps = /^[0-9]{1,6}$/.test(rest ?? '') ? Number(rest) : 0;
	return { bench, sweeps: sweeps >= 1 && sweeps <= MOST_LINKED_SWEEPS ? sweeps : undefined };
}

/** The whole page: bench, lesson and notebook, and what is kept between visits. */
export class PageApp {
	readonly bench = new BenchApp();
	readonly lesson = new LessonApp(this.bench);
	notes: readonly Note[] = $state.raw([]);
	/** What the notebook shows when no lesson is open. */
	page: 'first visit' | 'lessons' = $state('first visit');
	folded: boolean | null = $state(null);
	theme: 'light' | 'projector' = $state('light');
	/** A line of state under the run words, such as that the work cannot be kept. */
	status: string | undefined = $state();
	share: { readonly link: string } | { readonly refused: string } | null = $state.raw(null);
	/** The words about the band of the device that was chosen last. */
	#offer: Message | null = null;
	#timer: ReturnType<typeof setTimeout> | undefined;
	#ready = false;

	/** Brings back the work kept last, opens a link, starts the bench. Returns what ends it. */
	start(): () => void {
		this.bench.onpicture = () => this.lesson.sweep();
		this.bench.onchange = () => this.#keepSoon();
		this.lesson.onchange = () => this.#keepSoon();
		const end = this.bench.start();
		void this.#restore();
		const flush = () => document.hidden && this.#ready && void this.#keepNow();
		document.addEventListener('visibilitychange', flush);
		return () => {
			document.removeEventListener('visibilitychange', flush);
			clearTimeout(this.#timer);
			end();
		};
	}

	/** Runs a command. With a device of the catalogue comes the way to sweep where it is meant to be measured. */
	run(command: CommandRecord): void {
		this.bench.run(command);
		if (command.name === 'choose device') this.#offerBand(command.arguments.device);
	}

	#offerBand(name: unknown): void {
		if (this.bench.message === this.#offer) this.bench.message = null;
		const chosen = deviceCatalogue.find((entry) => entry.name === name);
		const { sweep } = this.bench.setup;
		if (chosen?.band === undefined || chosen.label !== this.bench.setup.device.name) return;
		const { start, stop } = chosen.band;
		if (start <= sweep.stop && stop >= sweep.start) return;
		this.#offer = {
			kind: 'word',
			place: chosen.label,
			finding: `It is meant to be measured from ${frequency(start)} to ${frequency(stop)}.`,
			remedy: 'The sweep that is set lies elsewhere.',
			...this.#sweepBand(chosen.band)
		};
		this.bench.message = this.#offer;
	}

	/** Opens a file of any kind the bench knows. */
	async openFile(file: File): Promise<void> {
		try {
			const opened = await openFile(file);
			if (opened.kind === 'bench') {
				this.lesson.leave();
				this.bench.open(opened.document, file.name, 'It is on the screen now.');
				return;
			}
			this.bench.perform(opened.command);
			this.bench.message = {
				kind: 'word',
				place: file.name,
				finding: 'It is now the device on the bench.',
				remedy: [
					...opened.notes,
					...(opened.band
						? [...this.#beyondBand(opened.band), 'Give its ceiling in the tray, if you know it.']
						: [])
				].join(' '),
				...(opened.band && this.#sweepBand(opened.band))
			};
			this.bench.select('device');
		} catch (fault) {
			this.bench.tell(fault);
		}
	}

	/** Words for data that do not cover the sweep. */
	#beyondBand({ start, stop }: Band): string[] {
		const { sweep } = this.bench.setup;
		if (start <= sweep.start && stop >= sweep.stop) return [];
		return [`Its data run from ${frequency(start)} to ${frequency(stop)} and do not cover the sweep.`];
	}

	/** The way to sweep the data's own band, when they do not cover the sweep that is set. */
	#sweepBand(band: Band): Pick<Message, 'action'> {
		if (this.#beyondBand(band).length === 0) return {};
		const perform = () => {
			this.bench.message = null;
			this.bench.run({
				name: 'set sweep',
				arguments: {
					start: formatQuantity(band.start, 'frequency'),
					stop: formatQuantity(band.stop, 'frequency'),
					...(band.start === band.stop ? { points: 1 } : {})
				}
			});
		};
		return { action: { label: 'Sweep its band', perform } };
	}

	/** Offers the bench as a file. */
	saveFile(): void {
		const name =
			this.bench.setup.name
				.toLowerCase()
				.replace(/[^a-z0-9]+/g, '-')
				.replace(/^-|-$/g, '') || 'bench';
		saveText(writeBench(this.bench.document), `${name}.bench.yaml`, 'application/yaml');
	}

	async makeLink(): Promise<void> {
		try {
			const { document, sweeps } = this.bench;
			const link = await writeLink(document);
			this.share = { link: `${location.origin}${location.pathname}#${link}&sweeps=${sweeps}` };
		} catch (fault) {
			if (!(fault instanceof Fault)) throw fault;
			this.share = { refused: `${fault.finding} ${fault.remedy}` };
		}
	}

	async openLesson(file: string): Promise<void> {
		try {
			await this.lesson.open(file);
		} catch (fault) {
			this.bench.tell(fault);
		}
		this.folded = this.folded === true ? null : this.folded;
	}

	leaveLesson(): void {
		this.lesson.leave();
		this.page = 'lessons';
	}

	note(text: string, own: boolean): void {
		const { history, setup } = this.bench.document;
		this.notes = withNote(this.notes, withSweeps(history, setup, this.bench.sweeps).time, text, own);
		this.#keepSoon();
	}

	setTheme(theme: 'light' | 'projector'): void {
		this.theme = theme;
		document.documentElement.dataset.theme = theme;
		this.#keepSoon();
	}

	fold(folded: boolean): void {
		this.folded = folded;
		this.#keepSoon();
	}

	async #restore(): Promise<void> {
		try {
			const kept = await keptWork();
			if (kept) {
				this.notes = kept.notes;
				this.folded = kept.folded;
				this.lesson.finishedFiles = kept.finished;
				if (kept.visited) this.page = 'lessons';
				this.setTheme(kept.theme);
				this.bench.running = kept.running;
				this.bench.replace(kept.document, kept.sweeps);
				if (kept.lesson) await this.lesson.resume(kept.lesson.file, kept.lesson.saved);
			}
		} catch (problem) {
			if (problem instanceof Fault) this.bench.tell(problem);
			else this.status = 'This browser keeps no work. Save the bench before you leave.';
		}
		this.#ready = true;
		if (!isLink(location.hash)) return;
		try {
			const { bench, sweeps } = linkParts(location.hash);
			const linked = await readLink(bench);
			this.lesson.leave();
			this.bench.open(
				linked,
				linked.setup.name,
				'It came with the link.',
				sweeps ?? linked.setup.processing.averages
			);
			history.replaceState(history.state, '', `${location.pathname}${location.search}`);
		} catch (fault) {
			this.bench.tell(fault);
		}
	}

	#keepSoon(): void {
		if (!this.#ready) return;
		clearTimeout(this.#timer);
		this.#timer = setTimeout(() => void this.#keepNow(), CALM);
	}

	async #keepNow(): Promise<void> {
		const { document, sweeps, running } = this.bench;
		const { notes, folded, theme } = this;
		try {
			await keep({
				document,
				sweeps,
				running,
				notes,
				lesson: this.lesson.save(),
				folded,
				theme,
				finished: this.lesson.finishedFiles,
				visited: true
			});
			this.status = undefined;
		} catch (problem) {
			const full = problem instanceof DOMException && problem.name === 'QuotaExceededError';
			this.status = full
				? 'Not saved: storage is full. Save the bench as a file.'
				: 'Not saved: this browser keeps no work. Save the bench as a file.';
		}
	}
}
