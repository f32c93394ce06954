import { Fault } from '#lib/fault.ts';
import type { PictureRequest } from '#lib/bench/simulation.ts';
import type { Picture } from '#lib/bench/picture.ts';
import { faults } from './faults.ts';
import type { FromWorker, PlainFault, ToWorker, Work } from './protocol.ts';

/** A worker, whatever kind of thread it is. */
export interface WorkerPort {
	post(message: ToWorker): void;
	listen(onMessage: (message: FromWorker) => void, onError: (problem: string) => void): void;
	close(): void;
}

export interface Listener {
	onPicture(picture: Picture): void;
	/** The request of this revision cannot be shown, or the worker has had to be started again. */
	onFault(fault: Fault): void;
}

/** How often the worker is asked whether it is there, ms, and how many questions in a row it may leave unanswered. */
const ASK_EVERY = 1000;
const MOST_UNANSWERED = 6;
/** How many workers in a row may end without having worked anything out, before no other is started unasked. */
const MOST_DEATHS = 3;

interface WaitingJob {
	readonly resolve: (picture: Picture) => void;
	readonly reject: (fault: Fault) => void;
	readonly onProgress: (done: number, total: number) => void;
}

/**
 * The page's end of the line to the simulation worker. It sends a setup only when it is another object than last time,
 * drops replies that are out of date, and starts the worker again if it dies or falls silent. If workers keep dying it waits
 * for the next request before it tries once more.
 */
export class SimulationClient {
	readonly #open: () => WorkerPort;
	readonly #listener: Listener;
	readonly #jobs = new Map<number, WaitingJob>();
	#port: WorkerPort | null;
	#latest: PictureRequest | null = null;
	#sent: Work['bench'] | null = null;
	#nextId = 1;
	/** Counted, not timed: a computer that was asleep for an hour has asked nothing meanwhile. */
	#unanswered = 0;
	#deaths = 0;
	readonly #clock: ReturnType<typeof setInterval>;

	constructor(open: () => WorkerPort, listener: Listener) {
		this.#open = open;
		this.#listener = listener;
		this.#port = this.#start();
		this.#clock = setInterval(() => this.#ask(), ASK_EVERY);
	}

	/** Asks for a picture to show. Only the latest request is answered for certain. */
	show(request: PictureRequest): void {
		this.#latest = request;
		const { revision, setup, calibration, damage, firstSweep, sweeps } = request;
		const port = this.#alive();
		const sent = this.#sent;
		const same = sent?.setup === setup && sent.calibration === calibration && sent.damage === damage;
		const bench = same ? undefined : { setup, calibration, damage };
		if (bench) this.#sent = bench;
		port.post({ type: 'show', work: { revision, ...(bench ? { bench } : {}), firstSweep, sweeps } });
	}

	/** Work done to its end. Rejects with a Fault when it fails, is cancelled or passes `deadline` ms. */
	job(
		request: PictureRequest,
		deadline: number,
		onProgress: (done: number, total: number) => void = () => undefined
	): { result: Promise<Picture>; cancel: () => void } {
		const id = this.#nextId++;
		const { setup, calibration, damage, ...rest } = request;
		const result = new Promise<Picture>((resolve, reject) =>
			this.#jobs.set(id, { resolve, reject, onProgress })
		);
		this.#alive().post({
			type: 'job',
			id,
			work: { ...rest, bench: { setup, calibration, damage } },
			deadline
		});
		return { result, cancel: () => this.#port?.post({ type: 'cancel', id }) };
	}

	close(): void {
		clearInterval(this.#clock);
		this.#port?.close();
		this.#failJobs(faults['worker-cancelled']());
	}

	#alive(): WorkerPort {
		return (this.#port ??= this.#start());
	}

	#start(): WorkerPort {
		const port = this.#open();
		this.#unanswered = 0;
		port.listen(
			(message) => {
				if (port === this.#port) this.#receive(message);
			},
			(problem) => {
				if (port === this.#port) this.#again(faults['worker-failed']({ problem }));
			}
		);
		return port;
	}

	#receive(message: FromWorker): void {
		this.#unanswered = 0;
		if (message.type !== 'pong' && message.type !== 'progress') this.#deaths = 0;
		switch (message.type) {
			case 'picture':
				if (message.picture.revision === this.#latest?.revision) this.#listener.onPicture(message.picture);
				break;
			case 'refused':
				if (message.revision === this.#latest?.revision) this.#listener.onFault(revived(message.fault));
				break;
			case 'progress':
				this.#jobs.get(message.id)?.onProgress(message.done, message.total);
				break;
			case 'finished':
				this.#jobs.get(message.id)?.resolve(message.picture);
				this.#jobs.delete(message.id);
				break;
			case 'failed':
				this.#jobs.get(message.id)?.reject(revived(message.fault));
				this.#jobs.delete(message.id);
				break;
			case 'pong':
				break;
		}
	}

	#ask(): void {
		if (this.#port === null) return;
		if (this.#unanswered >= MOST_UNANSWERED) {
			this.#again(faults['worker-silent']({ seconds: (MOST_UNANSWERED * ASK_EVERY) / 1000 }));
			return;
		}
		this.#unanswered += 1;
		this.#port.post({ type: 'ping', id: this.#nextId++ });
	}

	/** Starts another worker in place of this one and asks it for the latest picture. */
	#again(fault: Fault): void {
		this.#port?.close();
		this.#failJobs(fault);
		this.#sent = null;
		this.#port = null;
		this.#deaths += 1;
		if (this.#deaths >= MOST_DEATHS) {
			this.#listener.onFault(faults['worker-given-up']({ times: this.#deaths, problem: fault.finding }));
			return;
		}
		this.#port = this.#start();
		this.#listener.onFault(fault);
		if (this.#latest) this.show(this.#latest);
	}

	#failJobs(fault: Fault): void {
		for (const job of this.#jobs.values()) job.reject(fault);
		this.#jobs.clear();
	}
}

const revived = ({ code, place, finding, remedy }: PlainFault): Fault =>
	new Fault(code, place, finding, remedy);
