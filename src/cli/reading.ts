import { execute } from '#lib/bench/command.ts';
import type { BenchDocument } from '#lib/bench/command.ts';
import { commands } from '#lib/bench/commands.ts';
import type { Picture } from '#lib/bench/picture.ts';
import { calibrationInUse, simulatedBench } from '#lib/bench/session.ts';
import { Simulation } from '#lib/bench/simulation.ts';

/** A bench with the sweeps and the seed the command line asked for. Its history and its calibrations stay as they are. */
export function withWishes(document: BenchDocument, sweeps?: number, seed?: number): BenchDocument {
	let wished = document;
	if (sweeps !== undefined)
		wished = execute(wished, { name: 'set averages', arguments: { averages: sweeps } }, commands).document;
	if (seed !== undefined)
		wished = execute(wished, { name: 'set seed', arguments: { seed } }, commands).document;
	return wished;
}

/** Readings between two of the simulation's pauses. */
const SLICE = 100_000;
/** Milliseconds between two reports. */
const REPORT = 500;

/**
 * The reading with all its averages taken. `report` is told, about twice a second, how much of the work is done (0 … 1).
 * @throws Fault when the calibration cannot be solved.
 */
export function takeReading(document: BenchDocument, report: (done: number) => void): Picture {
	const { setup, history } = document;
	const calibration = calibrationInUse(document);
	const sweeps = setup.processing.averages;
	const standards = (calibration?.standards ?? []).reduce((sum, { count }) => sum + count, 0);
	const readings = sweeps * setup.sweep.points + standards * (calibration?.setup.sweep.points ?? 0);
	const slices = new Simulation().pictureSlices({
		revision: 0,
		...simulatedBench(document),
		firstSweep: history.nextSweep,
		sweeps
	});
	let reported = performance.now();
	let step = slices.next();
	for (let taken = 0; !step.done; taken += SLICE) {
		if (performance.now() - reported > REPORT) {
			reported = performance.now();
			report(Math.min(taken / readings, 1));
		}
		step = slices.next();
	}
	return step.value;
}
