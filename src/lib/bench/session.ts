import { commands } from './commands.ts';
import { execute } from './command.ts';
import type { BenchDocument, CommandRecord } from './command.ts';
import { defaultBench } from './default-bench.ts';
import { damageOf } from './damage.ts';
import { calibrations } from './calibrations.ts';
import { withDamage, withSweeps } from './history.ts';
import type { Calibration } from './calibrations.ts';
import type { Damage } from './history.ts';
import { observables, readObservable } from './observables.ts';
import type { Picture } from './picture.ts';
import { Simulation } from './simulation.ts';
import type { PictureRequest, SimulatedBench } from './simulation.ts';
import { viewCommands } from './view-commands.ts';

/** The calibration a document's setup uses, or null. */
export function calibrationInUse({ setup, history }: BenchDocument): Calibration | null {
	const id = setup.processing.calibration;
	return id === null ? null : (calibrations(history).find((c) => c.id === id) ?? null);
}

/** What the simulation has to know of a document. */
export const simulatedBench = (document: BenchDocument): SimulatedBench => ({
	setup: document.setup,
	calibration: calibrationInUse(document),
	damage: damageOf(document.history.events)
});

/** The document after the sweep in which something broke. */
export const afterDamage = ({ setup, history }: BenchDocument, damage: Damage): BenchDocument => ({
	setup,
	history: withDamage(withSweeps(history, setup, 1), damage)
});

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
		let picture = this.#simulation.picture(this.#request(sweeps));
		// what a sweep breaks is broken in the next one, which may break more
		while (picture.damage !== null && sweeps > 0) {
			const { document } = this.#moment;
			this.#moment = { ...this.#moment, document: afterDamage(document, picture.damage) };
			this.#revision += 1;
			picture = this.#simulation.picture(this.#request(sweeps));
		}
		return (this.#picture = picture);
	}

	#request(sweeps: number): PictureRequest {
		const { document } = this;
		return {
			revision: this.#revision,
			...simulatedBench(document),
			firstSweep: document.history.nextSweep,
			sweeps
		};
	}

	read(name: string, args: readonly (number | string | boolean)[] = []): number | boolean | string {
		// a picture in which something breaks adds to the history
		const picture = this.picture();
		const { document, revealed } = this.#moment;
		return readObservable({ ...document, picture, revealed }, name, args);
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
