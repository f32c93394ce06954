import { execute } from '#lib/bench/command.ts';
import type { BenchDocument, CommandRecord } from '#lib/bench/command.ts';
import { commands } from '#lib/bench/commands.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import type { Picture } from '#lib/bench/picture.ts';
import { simulatedBench } from '#lib/bench/session.ts';
import { Simulation } from '#lib/bench/simulation.ts';
import type { PictureRequest } from '#lib/bench/simulation.ts';
import type { Setup } from '#lib/bench/setup.ts';

/** Benches and requests that several tests start from. */

export const command = (name: string, given: Readonly<Record<string, unknown>>): CommandRecord => ({
	name,
	arguments: given
});

/** The document after these commands, one after the other. */
export const after = (document: BenchDocument, ...records: readonly CommandRecord[]): BenchDocument =>
	records.reduce((done, record) => execute(done, record, commands).document, document);

/** The usual bench with the preamp as a black box, which nothing moves: quick, and known from its table. */
export const blackBoxBench: BenchDocument = after(
	defaultBench,
	command('choose device', { device: 'preamp by data sheet' })
);

/** The same with other settings. */
export const benchWith = (changes: Partial<Setup>): BenchDocument => ({
	...blackBoxBench,
	setup: { ...blackBoxBench.setup, ...changes }
});

export const requestFor = (
	document: BenchDocument,
	changes: Partial<PictureRequest> = {}
): PictureRequest => ({
	revision: 1,
	...simulatedBench(document),
	firstSweep: document.history.nextSweep,
	sweeps: document.setup.processing.averages,
	...changes
});

export const pictureOf = (document: BenchDocument, changes: Partial<PictureRequest> = {}): Picture =>
	new Simulation().picture(requestFor(document, changes));

/** As little noise as a bench can have: −174 dBm/Hz in 1 Hz under +10 dBm, and no trace noise. Few points, for speed. */
export const QUIET: Partial<Setup> = {
	sweep: { start: 169.4e6, stop: 169.65e6, points: 21 },
	source: { ...defaultBench.setup.source, level: 10, harmonics: { second: null, third: null } },
	receiver: {
		...defaultBench.setup.receiver,
		floor: -174,
		bandwidth: 1,
		traceNoise: { amplitude: 0, phase: 0, bandwidth: 1000 }
	}
};
