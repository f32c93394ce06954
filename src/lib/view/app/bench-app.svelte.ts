import { Fault } from '#lib/fault.ts';
import { execute } from '#lib/bench/command.ts';
import type { BenchDocument, CommandRecord } from '#lib/bench/command.ts';
import { commands } from '#lib/bench/commands.ts';
import { brokenOn, damageOf } from '#lib/bench/damage.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { calibrations } from '#lib/bench/calibrations.ts';
import { withSweeps } from '#lib/bench/history.ts';
import type { Calibration } from '#lib/bench/calibrations.ts';
import type { Damage, DamageEvent } from '#lib/bench/history.ts';
import { keepIdentity } from '#lib/bench/identity.ts';
import type { Picture } from '#lib/bench/picture.ts';
import { afterDamage, calibrationInUse } from '#lib/bench/session.ts';
import type { PictureRequest } from '#lib/bench/simulation.ts';
import {
	bail,
	clearMark,
	EMPTY_UNDO,
	nextRedo,
	nextUndo,
	redo,
	remember,
	setMark,
	undo
} from '#lib/bench/undo.ts';
import type { UndoList } from '#lib/bench/undo.ts';
import { isTransmitting } from '#lib/bench/transmit.ts';
import { viewCommands } from '#lib/bench/view-commands.ts';
import { openBrowserPort } from '#lib/worker/browser-port.ts';
import { SimulationClient } from '#lib/worker/client.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { selectedPart } from '#lib/view/selection.ts';
import type { Selection } from '#lib/view/selection.ts';
import { faults } from './faults.ts';

/** Something to tell the user: a fault, or good news; perhaps with one thing to do about it. */
export interface Message {
	readonly kind: 'fault' | 'word';
	readonly place: string;
	readonly finding: string;
	readonly remedy: string;
	readonly action?: { readonly label: string; readonly perform: () => void };
}

/** How often a running bench takes sweeps, ms, and how many: numbers change at most four times a second. */
const TICK = 250;
const SWEEPS_A_TICK = 2;

/** A picture on its way is given so long, ms, before one of a newer bench takes its place. */
const PATIENCE = 600;

/** A picture of the bench as it was may stand so long, ms, before that is said. */
const LATE = 300;

/** The selection after a change: a part that was swapped hands it on, one that was removed ends it. */
function followed(selected: Selection | null, before: Setup, after: Setup): Selection | null {
	const place = before.parts.findIndex(({ id }) => id === selectedPart(selected));
	if (place < 0 || after.parts.some(({ id }) => id === before.parts[place].id)) return selected;
	return after.parts.length === before.parts.length ? `part:${after.parts[place].id}` : null;
}

/**
 * The bench on the screen: the document and its undo list, what is selected and seen, and the line to the simulation
 * worker. Everything here is immutable data that is replaced, never changed in place.
 */
export class BenchApp {
	document: BenchDocument = $state.raw(defaultBench);
	undoList: UndoList = $state.raw(EMPTY_UNDO);
	picture: Picture | null = $state.raw(null);
	/** Sweeps of the present run. */
	sweeps = $state(defaultBench.setup.processing.averages);
	/** Whether the picture shown is still of the bench as it was, and has been for a while. */
	stale = $state(false);
	running = $state(true);
	dragging = $state(false);
	revealed = $state(false);
	selected: Selection | null = $state(null);
	adding: number | null = $state(null);
	calibrating = $state(false);
	marker: 0 | 1 | 2 = $state(1);
	message: Message | null = $state.raw(null);
	/** Called after every change of the document, and for every new picture. */
	onchange: () => void = () => undefined;
	onpicture: (picture: Picture) => void = () => undefined;

	readonly setup = $derived(this.document.setup);
	/** What is broken on the bench, oldest first. */
	readonly damage = $derived(brokenOn(this.document));
	readonly calibrations = $derived(calibrations(this.document.history));
	readonly undoLabel = $derived(nextUndo(this.undoList));
	readonly redoLabel = $derived(nextRedo(this.undoList));

	#client: SimulationClient | null = null;
	#clock: ReturnType<typeof setInterval> | undefined;
	#revision = 0;
	#calibration: Calibration | null = null;
	#damage: readonly DamageEvent[] = [];
	/** What the picture that was asked for last is of, when that was, and what the one on the screen is of. */
	#asked: { readonly setup: Setup; readonly damage: readonly DamageEvent[] } | null = null;
	#askedAt = 0;
	#pictured: { readonly setup: Setup; readonly damage: readonly DamageEvent[] } | null = null;
	/** The end of the patience with a picture on its way, while another one is wanted after it. */
	#waiting: ReturnType<typeof setTimeout> | undefined;
	/** Runs while the picture shown is of the bench as it was. */
	#lateness: ReturnType<typeof setTimeout> | undefined;

	/** Starts the worker and the run. Returns what ends both. */
	start(): () => void {
		this.#client = new SimulationClient(openBrowserPort, {
			onPicture: (picture) => {
				this.picture = picture;
				this.#pictured = this.#asked;
				// one that lags a little behind a slider is not late
				clearTimeout(this.#lateness);
				this.#lateness = undefined;
				this.#watch();
				if (this.#waiting !== undefined) this.#ask();
				// a level that is only tried out while dragging breaks nothing
				if (picture.damage !== null && !this.dragging && this.current) this.#break(picture.damage);
				else this.onpicture(picture);
			},
			onFault: (fault) => {
				this.tell(fault);
				if (this.#waiting !== undefined) this.#ask();
			}
		});
		this.#clock = setInterval(() => this.#tick(), TICK);
		this.#show();
		return () => {
			clearInterval(this.#clock);
			clearTimeout(this.#waiting);
			clearTimeout(this.#lateness);
			this.#client?.close();
			this.#client = null;
		};
	}

	/** What would be asked of the simulation now. */
	get request(): PictureRequest {
		this.#calibration = keepIdentity(this.#calibration, calibrationInUse(this.document));
		this.#damage = keepIdentity(this.#damage, damageOf(this.document.history.events));
		return {
			revision: this.#revision,
			setup: this.document.setup,
			calibration: this.#calibration,
			damage: this.#damage,
			firstSweep: this.document.history.nextSweep,
			sweeps: this.sweeps
		};
	}

	/** Runs a command for good. A fault is told, and the bench stays as it is. */
	run(command: CommandRecord): void {
		try {
			this.perform(command);
		} catch (fault) {
			this.tell(fault);
		}
	}

	/** The same, but the fault is thrown. */
	perform(command: CommandRecord): void {
		if (viewCommands.includes(command.name)) {
			this.revealed = command.name === 'reveal truth';
			return;
		}
		// nothing has changed yet if the command is refused, so that the reading runs on
		const outcome = execute(this.#withRunClosed(), command, commands);
		this.undoList = remember(this.undoList, outcome);
		const selected = followed(this.selected, this.document.setup, outcome.document.setup);
		this.#put(outcome.document);
		this.selected = selected;
	}

	/** A step of a drag: seen at once, but one step to undo, and no sweeps of it are history. */
	drag(command: CommandRecord): void {
		if (!this.dragging) {
			this.document = this.#withRunClosed();
			this.dragging = true;
			this.undoList = setMark(this.undoList);
		}
		try {
			const outcome = execute(this.document, command, commands);
			this.undoList = remember(this.undoList, outcome);
			this.#put(outcome.document);
		} catch (fault) {
			this.tell(fault);
		}
	}

	drop(): void {
		if (!this.dragging) return;
		this.dragging = false;
		this.undoList = clearMark(this.undoList);
		// what was only tried out is now done
		if (this.picture?.damage) this.#show();
		this.onchange();
	}

	bail(): void {
		if (!this.dragging) return;
		this.dragging = false;
		this.#travel(bail);
	}

	undo(): void {
		if (!this.dragging) this.#travel(undo);
	}

	redo(): void {
		if (!this.dragging) this.#travel(redo);
	}

	/** Puts another bench in place of this one and says how to come back. */
	open(
		document: BenchDocument,
		place: string,
		words: string,
		sweeps = document.setup.processing.averages
	): void {
		const { document: before, undoList, sweeps: sweepsBefore } = this;
		this.replace(document, sweeps);
		this.message = {
			kind: 'word',
			place,
			finding: words,
			remedy: 'The bench before is kept until the next one is opened.',
			action: {
				label: 'Back to the bench before',
				perform: () => {
					this.replace(before, sweepsBefore);
					this.undoList = undoList;
					this.message = null;
				}
			}
		};
	}

	/** Another bench, with nothing to undo. */
	replace(document: BenchDocument, sweeps = document.setup.processing.averages): void {
		this.undoList = EMPTY_UNDO;
		this.selected = null;
		this.adding = null;
		this.dragging = false;
		this.#put(document, sweeps);
	}

	/** Runs or pauses, and it is kept which. */
	setRunning(running: boolean): void {
		this.running = running;
		this.onchange();
	}

	select(selection: Selection | null): void {
		this.selected = selection;
		this.adding = null;
		this.calibrating = false;
	}

	/** Tells a fault; what is no Fault is a mistake of ours and is told as one. */
	tell(problem: unknown): void {
		if (!(problem instanceof Fault)) throw problem;
		const { place, finding, remedy } = problem;
		this.message = { kind: 'fault', place, finding, remedy };
	}

	#travel(
		way: (list: UndoList, setup: BenchDocument['setup']) => { list: UndoList; setup: BenchDocument['setup'] }
	): void {
		const document = this.#withRunClosed();
		const { list, setup } = way(this.undoList, document.setup);
		if (isTransmitting(setup.device) && !isTransmitting(document.setup.device)) {
			this.tell(faults['transmitter-asked']());
			return;
		}
		this.undoList = list;
		this.#put({ ...document, setup });
	}

	/** The document with the sweeps that were shown in its history; those of a drag are not. */
	#withRunClosed(): BenchDocument {
		if (this.dragging) return this.document;
		const { setup, history } = this.document;
		return { setup, history: withSweeps(history, setup, this.picture ? this.sweeps : 0) };
	}

	#put(document: BenchDocument, sweeps = document.setup.processing.averages): void {
		this.document = document;
		this.sweeps = sweeps;
		this.#show();
		this.onchange();
	}

	/** The sweep that was just shown has broken something: that is history, and the bench is another one since. */
	#break(damage: Damage): void {
		this.document = afterDamage(this.document, damage);
		this.#show();
		this.onchange();
	}

	/**
	 * Asks for a picture of the bench as it is. One that is on its way is waited for, unless it takes long: under a slider
	 * that moves, the bench shall be seen to follow.
	 */
	#show(): void {
		if (this.#waiting !== undefined) return;
		const onItsWay =
			this.#client !== null && this.picture?.revision !== this.#revision && this.#asked !== null;
		const patience = onItsWay ? this.#askedAt + PATIENCE - performance.now() : 0;
		if (patience > 0) this.#waiting = setTimeout(() => this.#ask(), patience);
		else this.#ask();
		this.#watch();
	}

	/** Waits for a picture of the bench as it is, and tells when none comes. */
	#watch(): void {
		if (!this.readable) {
			this.#lateness ??= setTimeout(() => (this.stale = true), LATE);
			return;
		}
		clearTimeout(this.#lateness);
		this.#lateness = undefined;
		this.stale = false;
	}

	#ask(): void {
		clearTimeout(this.#waiting);
		this.#waiting = undefined;
		this.#revision += 1;
		this.#askedAt = performance.now();
		const { request } = this;
		this.#asked = { setup: request.setup, damage: this.#damage };
		this.#client?.show(request);
	}

	/** Whether the picture shown is of the bench as it is, perhaps with fewer sweeps than by now. */
	get readable(): boolean {
		return this.#pictured?.setup === this.document.setup && this.#pictured.damage === this.#damage;
	}

	/** Whether the picture shown is that of the present request. */
	get current(): boolean {
		return this.#waiting === undefined && this.picture?.revision === this.#revision;
	}

	#tick(): void {
		// while a picture is being worked out no other is asked for, or a slow one would never be finished
		if (!this.running || this.dragging || !this.current || document.hidden) return;
		this.sweeps += SWEEPS_A_TICK;
		this.#show();
	}
}
