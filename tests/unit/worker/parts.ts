import { Engine } from '#lib/worker/engine.ts';
import type { FromWorker, ToWorker } from '#lib/worker/protocol.ts';
import type { WorkerPort } from '#lib/worker/client.ts';
import { after, blackBoxBench, command, requestFor } from '../bench/examples.ts';
import type { PictureRequest } from '#lib/bench/simulation.ts';

/**
 * An engine in a thread made by hand: its clock moves on by `tick` ms whenever it is looked at, and work goes on
 * only when the test lets it out of a pause.
 */
export function threadOf(tick: number) {
	let time = 0;
	let resume: (() => void) | null = null;
	const posted: FromWorker[] = [];
	const engine = new Engine({
		post: (message) => posted.push(message),
		pause: () => new Promise((resolve) => (resume = resolve)),
		now: () => (time += tick)
	});
	/** Lets the work go on to its next pause, or to its end; false if it was not in a pause. */
	const goOn = async (): Promise<boolean> => {
		const waiting = resume;
		resume = null;
		waiting?.();
		await new Promise((resolve) => setImmediate(resolve));
		return waiting !== null;
	};
	return {
		posted,
		send: (message: ToWorker) => engine.receive(message),
		goOn,
		finish: async () => {
			let pauses = 0;
			await goOn();
			while (await goOn()) pauses += 1;
			return pauses;
		}
	};
}

/** A port whose other end the test is. */
export class FakePort implements WorkerPort {
	readonly received: ToWorker[] = [];
	closed = false;
	reply: (message: FromWorker) => void = () => undefined;
	die: (problem: string) => void = () => undefined;

	post(message: ToWorker): void {
		this.received.push(message);
	}

	listen(onMessage: (message: FromWorker) => void, onError: (problem: string) => void): void {
		this.reply = onMessage;
		this.die = onError;
	}

	close(): void {
		this.closed = true;
	}
}

/** A picture of some fifty slices of work: 20 001 points, 250 sweeps. */
export const long: PictureRequest = requestFor(
	after(blackBoxBench, command('set sweep', { points: 20_001 })),
	{
		calibration: null,
		sweeps: 250
	}
);

export const short: PictureRequest = requestFor(blackBoxBench, { sweeps: 3 });

/** The work of a request as it travels. */
export function workOf(request: PictureRequest, revision: number) {
	const { setup, calibration, damage, firstSweep, sweeps } = request;
	return { revision, bench: { setup, calibration, damage }, firstSweep, sweeps };
}
