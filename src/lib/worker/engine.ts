import { Fault } from '#lib/fault.ts';
import type { Picture } from '#lib/bench/picture.ts';
import { Simulation } from '#lib/bench/simulation.ts';
import { faults } from './faults.ts';
import { transferables } from './protocol.ts';
import type { FromWorker, PlainFault, ToWorker, Work } from './protocol.ts';

/** What an engine needs of the thread it runs in. */
export interface Thread {
	post(message: FromWorker, transfer: ArrayBuffer[]): void;
	/** Lets messages in, then resolves. */
	pause(): Promise<void>;
	/** Milliseconds on a clock that never goes back. Only deadlines and pauses use it, never a reading. */
	now(): number;
}

/** Longest time, in ms, between two pauses in which messages are let in. */
const PATIENCE = 5;
/** How often a job says how far it has come, ms. */
const REPORT_EVERY = 200;

type Job = Extract<ToWorker, { type: 'job' }>;

/**
 * The simulation behind the messages, the same in a browser's worker and in a Node thread. Work is cut into slices with
 * pauses between; the picture to be shown goes before jobs, even one already begun, and a newer picture replaces an older
 * one at once.
 */
export class Engine {
	readonly #thread: Thread;
	readonly #simulation = new Simulation();
	#jobs: Job[] = [];
	/** The job being worked on, and whether it is still wanted. */
	#doing: { readonly id: number; cancelled: boolean } | null = null;
	#bench: NonNullable<Work['bench']> | null = null;
	#wanted: Work | null = null;
	#working = false;

	constructor(thread: Thread) {
		this.#thread = thread;
	}

	receive(message: ToWorker): void {
		switch (message.type) {
			case 'show':
				this.#bench = message.work.bench ?? this.#bench;
				this.#wanted = message.work;
				break;
			case 'job':
				this.#jobs.push(message);
				break;
			case 'cancel':
				this.#cancel(message.id);
				return;
			case 'ping':
				this.#thread.post({ type: 'pong', id: message.id }, []);
				return;
		}
		if (!this.#working) void this.#work();
	}

	#cancel(id: number): void {
		if (this.#doing?.id === id) this.#doing.cancelled = true;
		if (!this.#jobs.some((job) => job.id === id)) return;
		this.#jobs = this.#jobs.filter((job) => job.id !== id);
		this.#thread.post({ type: 'failed', id, fault: plain(faults['worker-cancelled']()) }, []);
	}

	async #work(): Promise<void> {
		this.#working = true;
		for (;;) {
			if (this.#wanted) await this.#show(this.#wanted);
			else if (this.#jobs.length > 0) await this.#do(this.#jobs.shift() as Job);
			else break;
		}
		this.#working = false;
	}

	async #show(work: Work): Promise<void> {
		this.#wanted = null;
		const { revision, firstSweep, sweeps } = work;
		const bench = this.#bench;
		if (bench === null) return;
		try {
			const slices = this.#simulation.pictureSlices({ revision, ...bench, firstSweep, sweeps });
			const picture = await this.#run(slices, () => Promise.resolve(this.#wanted !== null));
			if (picture) this.#thread.post({ type: 'picture', picture }, transferables(picture));
		} catch (error) {
			this.#thread.post({ type: 'refused', revision, fault: plain(error) }, []);
		}
	}

	async #do({ id, work, deadline }: Job): Promise<void> {
		const doing = (this.#doing = { id, cancelled: false });
		const start = this.#thread.now();
		const total = work.sweeps * work.bench.setup.sweep.points;
		// a job has a simulation of its own, so that the picture on the screen keeps its stages
		const slices = new Simulation().pictureSlices({ ...work, ...work.bench });
		let reported = start;
		try {
			const picture = await this.#run(slices, async (done) => {
				if (doing.cancelled) throw faults['worker-cancelled']();
				if (this.#thread.now() - start > deadline) throw faults['worker-late']({ seconds: deadline / 1000 });
				if (this.#thread.now() - reported > REPORT_EVERY) {
					reported = this.#thread.now();
					this.#thread.post({ type: 'progress', id, done, total }, []);
				}
				while (this.#wanted) await this.#show(this.#wanted);
				return false;
			});
			if (picture) this.#thread.post({ type: 'finished', id, picture }, transferables(picture));
		} catch (error) {
			this.#thread.post({ type: 'failed', id, fault: plain(error) }, []);
		}
		this.#doing = null;
	}

	/** Runs slices to their end; null if `superseded` says, between two slices, that they are no longer wanted. */
	async #run(
		slices: Generator<number, Picture, undefined>,
		superseded: (readingsDone: number) => Promise<boolean>
	): Promise<Picture | null> {
		let resumed = this.#thread.now();
		let step = slices.next();
		while (!step.done) {
			if (this.#thread.now() - resumed > PATIENCE) {
				await this.#thread.pause();
				if (await superseded(step.value)) return null;
				resumed = this.#thread.now();
			}
			step = slices.next();
		}
		return step.value;
	}
}

function plain(error: unknown): PlainFault {
	const fault =
		error instanceof Fault
			? error
			: faults['worker-failed']({ problem: error instanceof Error ? error.message : String(error) });
	const { code, place, finding, remedy } = fault;
	return { code, place, finding, remedy };
}
