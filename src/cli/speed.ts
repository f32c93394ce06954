import { Compiler } from '#lib/bench/compile.ts';
import { receiverNoise } from '#lib/bench/reflectometer.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { newPart } from '#lib/bench/part-catalogue.ts';
import type { Part } from '#lib/bench/part-schema.ts';
import { equationsOf } from '#lib/circuit/equations.ts';
import { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import { mastPreamp } from '#lib/circuit/mast-preamp.ts';
import { drivenJob } from '#lib/circuit/speed.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { loadRows, sweepRows, takeSweep } from '#lib/reflectometer/sweep.ts';
import { OK } from './command.ts';
import type { Command } from './command.ts';

/** Work of a fixed size: a run of it makes so many units. */
interface Job {
	/** Of the rate in the JSON object. */
	readonly key: string;
	readonly title: string;
	readonly units: number;
	readonly run: () => void;
}

/** 100 corrected and averaged noisy sweeps of 1601 points, behind a chain of eight parts. */
function readingsJob(): Job {
	const sweeps = 100;
	const kinds = ['cable', 'pad', 'adapter', 'cable', 'adapter', 'cable', 'adapter', 'cable'] as const;
	const parts: Part[] = [];
	for (const kind of kinds)
		parts.push(
			newPart(
				kind,
				parts.map(({ id }) => id)
			)
		);
	const setup = { ...defaultBench.setup, parts, sweep: { ...defaultBench.setup.sweep, points: 1601 } };
	const { raw, frequencies, extension } = new Compiler().compile(setup);
	const rows = sweepRows(raw.re.length);
	loadRows(rows, raw, portErrorTerms(setup.port, frequencies), extension);
	const noise = receiverNoise(setup);
	return {
		key: 'w1_readings_per_cpu_s',
		title: 'readings, noisy, corrected and averaged (1601 points, 100 sweeps)',
		units: rows.points * sweeps,
		run: () => {
			for (let sweep = 0; sweep < sweeps; sweep++) takeSweep(rows, { ...noise, sweep, kept: 1 });
		}
	};
}

function drivenPointsJob(): Job {
	const { points, run } = drivenJob();
	return {
		key: 'w2_points_per_cpu_s',
		title: 'driven points of two junctions from rest (201 frequencies, 5 Newton steps)',
		units: points,
		run
	};
}

const LEVEL = -20;
const grid = (start: number, stop: number, points: number): readonly number[] =>
	Array.from({ length: points }, (_, i) => start + ((stop - start) * i) / (points - 1));

/** A new circuit every time, so that nothing solved before helps. */
const preamp = (): DrivenCircuit => new DrivenCircuit(equationsOf(mastPreamp));

function preampSweepJob(): Job {
	const frequencies = grid(160e6, 180e6, 201);
	return {
		key: 'preamp_sweep_points_per_cpu_s',
		title: `driven points of the mast preamp (201 frequencies at ${LEVEL} dBm)`,
		units: frequencies.length,
		run: () => void preamp().sweep(frequencies, LEVEL)
	};
}

function preampLevelsJob(): Job {
	const frequencies = grid(160e6, 180e6, 21);
	const levels = grid(-60, 0, 41);
	return {
		key: 'preamp_levels_points_per_cpu_s',
		title: 'driven points of the mast preamp (41 levels from -60 to 0 dBm at 21 frequencies)',
		units: frequencies.length * levels.length,
		run: () => {
			const circuit = preamp();
			for (const frequency of frequencies) circuit.levels(frequency, levels);
		}
	};
}

/** CPU milliseconds of the whole process. */
function cpuTime(): number {
	const { user, system } = process.cpuUsage();
	return (user + system) / 1000;
}

const WARM_UP = 700;
/** CPU milliseconds of a measurement, and how many are taken. */
const LONG_ENOUGH = 200;
const MEASUREMENTS = 7;

/** Units per second of CPU time: runs until what is measured is warm, then takes the median. */
function rateOf({ run, units }: Job): number {
	for (const began = cpuTime(); cpuTime() - began < WARM_UP;) run();
	const rates = Array.from({ length: MEASUREMENTS }, () => {
		const began = cpuTime();
		let runs = 0;
		for (; cpuTime() - began < LONG_ENOUGH; runs++) run();
		return (1000 * runs * units) / (cpuTime() - began);
	});
	return rates.sort((a, b) => a - b)[MEASUREMENTS >> 1];
}

export const speed: Command = {
	name: 'speed',
	takes: '',
	summary: 'measures how fast this machine takes readings and solves driven circuits',
	details: [
		'Every job runs through the functions the bench itself uses, warmed up, and is counted by CPU time: the median of',
		`${MEASUREMENTS} measurements. With --json the last line is one object of rates.`
	],
	options: [],
	async perform({ options }, terminal) {
		const jobs = [readingsJob(), drivenPointsJob(), preampSweepJob(), preampLevelsJob()];
		const rates = jobs.map((job) => {
			terminal.note(`measuring ${job.title}`);
			return { ...job, rate: rateOf(job) };
		});
		terminal.print(
			options.has('json')
				? JSON.stringify(Object.fromEntries(rates.map(({ key, rate }) => [key, rate])))
				: rates
						.map(({ title, rate }) => `${Math.round(rate).toString().padStart(10)} per CPU second: ${title}`)
						.join('\n')
		);
		return OK;
	}
};
