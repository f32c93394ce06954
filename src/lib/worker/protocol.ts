import type { Fault } from '#lib/fault.ts';
import type { Picture } from '#lib/bench/picture.ts';
import type { SimulatedBench } from '#lib/bench/simulation.ts';

/**
 * What page (or command line) and simulation worker say to each other. The page owns all state. A setup travels only when
 * it is another one than last time; every reply names the request it answers.
 */

/** What to work out: a picture of the setup sent last, or of the one sent along. */
export interface Work {
	readonly revision: number;
	/** Left out when it is the one sent last. */
	readonly bench?: SimulatedBench;
	readonly firstSweep: number;
	readonly sweeps: number;
}

export type ToWorker =
	/** The picture to show. A newer one takes the place of one that is still being worked out. */
	| { readonly type: 'show'; readonly work: Work }
	/** Work that is done to its end, unless cancelled or late; `deadline` in ms from its start. */
	| { readonly type: 'job'; readonly id: number; readonly work: Required<Work>; readonly deadline: number }
	| { readonly type: 'cancel'; readonly id: number }
	| { readonly type: 'ping'; readonly id: number };

/** A fault as plain data, since class and prototype do not travel. */
export type PlainFault = Pick<Fault, 'code' | 'place' | 'finding' | 'remedy'>;

export type FromWorker =
	| { readonly type: 'picture'; readonly picture: Picture }
	| { readonly type: 'refused'; readonly revision: number; readonly fault: PlainFault }
	| { readonly type: 'progress'; readonly id: number; readonly done: number; readonly total: number }
	| { readonly type: 'finished'; readonly id: number; readonly picture: Picture }
	| { readonly type: 'failed'; readonly id: number; readonly fault: PlainFault }
	| { readonly type: 'pong'; readonly id: number };

/** The buffers of a picture that may change hands instead of being copied. */
export function transferables(picture: Picture): ArrayBuffer[] {
	const { frequencies, displayed, expected, truth, driven, markers } = picture;
	const arrays = [displayed, expected, truth, driven, ...markers.map((m) => m.reading.cloud)];
	return [...new Set([frequencies, ...arrays.flatMap(({ re, im }) => [re, im])].map((a) => a.buffer))];
}
