import type { BenchDocument, CommandRecord } from '#lib/bench/command.ts';
import { commands } from '#lib/bench/commands.ts';
import { observables, readObservable } from '#lib/bench/observables.ts';
import { Simulation } from '#lib/bench/simulation.ts';
import { viewCommands } from '#lib/bench/view-commands.ts';
import type { LessonBench, ObservableArgument, ObservableValue } from '#lib/lesson/lesson-bench.ts';
import type { BenchApp } from './bench-app.svelte.ts';

interface Moment {
	readonly document: BenchDocument;
	readonly sweeps: number;
	readonly revealed: boolean;
}

/** The bench on the screen as a lesson sees it. */
export class PageLessonBench implements LessonBench {
	readonly observables = observables;
	readonly commands: ReadonlySet<string> = new Set([...commands.keys(), ...viewCommands]);
	readonly #app: BenchApp;
	/** Answers where the picture of the bench as it is has not come yet; both come to the same reading. */
	readonly #simulation = new Simulation();

	constructor(app: BenchApp) {
		this.#app = app;
	}

	run(command: CommandRecord): void {
		this.#app.perform(command);
	}

	read(name: string, args: readonly ObservableArgument[]): ObservableValue {
		const { document, picture, revealed, readable, request } = this.#app;
		const shown = readable && picture ? picture : this.#simulation.picture(request);
		return readObservable({ ...document, picture: shown, revealed }, name, args);
	}

	snapshot(): Moment {
		const { document, sweeps, revealed } = this.#app;
		return { document, sweeps, revealed };
	}

	restore(snapshot: unknown): void {
		const { document, sweeps, revealed } = snapshot as Moment;
		this.#app.revealed = revealed;
		this.#app.replace(document, sweeps);
	}
}
