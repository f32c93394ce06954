import { Fault } from '#lib/fault.ts';

/** The fault that `run` throws; anything else that is thrown goes on its way. */
export function faultOf(run: () => unknown): Fault {
	try {
		run();
	} catch (fault) {
		if (fault instanceof Fault) return fault;
		throw fault;
	}
	throw new Error('no fault was thrown');
}
