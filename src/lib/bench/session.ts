import { commands } from './commands.ts';
import { execute } from './command.ts';
import type { BenchDocument, CommandRecord } from './command.ts';
import { defaultBench } from './default-bench.ts';
import { calibrations, withSweeps } from './history.ts';
import type { Calibration } from './history.ts';
import { observables, readObservable } from './observables.ts';
import type { Picture } from './picture.ts';
import { Simulation } from './simulation.ts';
import { viewCommands } from './view-commands.ts';

/** The calibration a document's setup uses, or null. */
export function calibrationInUse({ setup, history }: BenchDocument): Calibration | null {
	const id = setup.processing.calibration;
	return id === null ? null : (calibrations(history).find((c) => c.id === id) ?? null);
}

interface Moment {
	readonly document: BenchDocument;
	readonly revealed: boolean;
}

/**
 * A bench that answers at once, without a worker: for the command line and for walking lessons. After each command it
 * shows the reading with all its averages taken.
 */
export class BenchSession {
	readonly observables = observables;
	readonly commands: ReadonlySet<string> = new Set([...commands.keys(), ...viewCommands]);
	#simulation = new Simulation();
	#moment: Moment;
	#picture: Picture | null = null;
	#revision = 0;

	constructor(document: BenchDocument = defaultBench) {
		this.#moment = { document, revealed: false };
	}

	get document(): BenchDocument {
		return this.#moment.document;
	}

	/** @throws Fault; the bench is then unchanged. */
	run(command: CommandRecord): void {
		if (viewCommands.includes(command.name)) {
			this.#moment = { ...this.#moment, revealed: command.name === 'reveal truth' };
			return;
		}
		const before = this.#moment.document;
		// the sweeps of the reading that was shown are history before the command adds to it
		const history = withSweeps(before.history, before.setup, before.setup.processing.averages);
		const { document } = execute({ ...before, history }, command, commands);
		this.#revision += 1;
		this.#picture = null;
		this.#moment = { ...this.#moment, document };
	}

	/** The reading of this moment. `sweeps` defaults to the averages set. */
	picture(sweeps = this.document.setup.processing.averages): Picture {
		if (this.#picture?.sweepsTaken === sweeps) return this.#picture;
		this.#picture = this.#simulation.picture({
			revision: this.#revision,
			setup: this.document.setup,
			calibration: calibrationInUse(this.document),
			firstSweep: this.document.history.nextSweep,
			sweeps
		});
		return this.#picture;
	}

	read(name: string, args: readonly (number | string | boolean)[] = []): number | boolean | string {
		const { document, revealed } = this.#moment;
		return readObservable({ ...document, picture: this.picture(), revealed }, name, args);
	}

	snapshot(): unknown {
		return this.#moment;
	}

	restore(snapshot: unknown): void {
		this.#moment = snapshot as Moment;
		this.#revision += 1;
		this.#picture = null;
	}
}
