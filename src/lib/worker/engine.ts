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

type Job = Extract<ToWorker, { type: 'job' }>;

/**
 * The simulation behind the messages, the same in a browser's worker and in a Node thread. Work is cut into slices with
 * pauses between; the picture to be shown goes before jobs, and a newer picture replaces an older one at once.
 */
export class Engine {
	readonly #thread: Thread;
	readonly #simulation = new Simulation();
	readonly #jobs: Job[] = [];
	readonly #cancelled = new Set<number>();
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
				this.#cancelled.add(message.id);
				return;
			case 'ping':
				this.#thread.post({ type: 'pong', id: message.id }, []);
				return;
		}
		if (!this.#working) void this.#work();
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
			const picture = await this.#run(slices, () => this.#wanted !== null);
			if (picture) this.#thread.post({ type: 'picture', picture }, transferables(picture));
		} catch (error) {
			this.#thread.post({ type: 'refused', revision, fault: plain(error) }, []);
		}
	}

	async #do({ id, work, deadline }: Job): Promise<void> {
		const start = this.#thread.now();
		const total = work.sweeps * work.bench.setup.sweep.points;
		// a job has a simulation of its own, so that the picture on the screen keeps its stages
		const slices = new Simulation().pictureSlices({ ...work, ...work.bench });
		let reported = start;
		try {
			const picture = await this.#run(slices, (done) => {
				if (this.#cancelled.has(id)) throw faults['worker-cancelled']();
				const now = this.#thread.now();
				if (now - start > deadline) throw faults['worker-late']({ seconds: deadline / 1000 });
				if (now - reported > 200) {
					reported = now;
					this.#thread.post({ type: 'progress', id, done: Math.min(done, total), total }, []);
				}
				return false;
			});
			if (picture) this.#thread.post({ type: 'finished', id, picture }, transferables(picture));
		} catch (error) {
			this.#thread.post({ type: 'failed', id, fault: plain(error) }, []);
		}
		this.#cancelled.delete(id);
	}

	/** Runs slices to their end; null if `superseded` says, between two slices, that they are no longer wanted. */
	async #run(
		slices: Generator<void, Picture, undefined>,
		superseded: (readingsDone: number) => boolean
	): Promise<Picture | null> {
		let resumed = this.#thread.now();
		let count = 0;
		let step = slices.next();
		while (!step.done) {
			count += 1;
			if (this.#thread.now() - resumed > PATIENCE) {
				await this.#thread.pause();
				resumed = this.#thread.now();
				if (superseded(count * 100_000)) return null;
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
