import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'vite';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { at, complexArray, put } from '#lib/numeric/complex.ts';
import { fillNormals, streamOf } from '#lib/numeric/random.ts';
import { finished } from '#lib/numeric/slices.ts';
import { solveCalibration } from '#lib/bench/calibrate.ts';
import { receiverNoise } from '#lib/bench/reflectometer.ts';
import { Compiler } from '#lib/bench/compile.ts';
import { Simulation } from '#lib/bench/simulation.ts';
import { readBench, writeBench } from '#lib/files/bench-file.ts';
import { keptFraction } from '#lib/reflectometer/averaging.ts';
import { interpolateTerms } from '#lib/reflectometer/error-terms.ts';
import { loadRows, means, sweepRows, takeSweep } from '#lib/reflectometer/sweep.ts';
import { SimulationClient } from '#lib/worker/client.ts';
import { openNodePort } from '#lib/worker/node-port.ts';
import { distance, document, request, summary } from './determinism-example.ts';
import type { Summary } from './determinism-example.ts';

/**
 * Written by `WRITE_EXPECTED=1 npx vitest run tests/reference/determinism.test.ts` and compared ever since, here and in the
 * browser. Readings may differ by 1e-9 between engines (their sines and logarithms do), draws not at all.
 */
const FILE = new URL('data/determinism.json', import.meta.url);

interface Expected extends Summary {
	/** The bench file to open, and the sweeps to take of it. */
	readonly bench: string;
	readonly sweeps: number;
	readonly draws: readonly number[];
}

/** Normals of the receiver's stream, at the beginning and far into it. */
function draws(): number[] {
	const rows = [0, 1, 2, 3].map(() => new Float64Array(6));
	const places = [
		[0, 0],
		[3, 7],
		[99_994, 4294967295]
	];
	return places.flatMap(([point, sweep]) => {
		fillNormals(
			rows[0],
			rows[1],
			rows[2],
			rows[3],
			point,
			6,
			sweep,
			streamOf('receiver'),
			document.setup.seed
		);
		return rows.flatMap((row) => [...row]);
	});
}

const here = summary(new Simulation().picture(request));
if (process.env.WRITE_EXPECTED === '1')
	writeFileSync(
		FILE,
		`${JSON.stringify({ bench: writeBench(document), sweeps: request.sweeps, ...here, draws: draws() }, null, '\t')}\n`
	);
const expected = JSON.parse(readFileSync(FILE, 'utf8')) as Expected;

test('draws are those written down, to the last bit', () => {
	expect(draws()).toEqual(expected.draws);
});

test('readings are those written down, within 1e-9', () => {
	expect(distance(here, expected)).toBeLessThan(1e-9);
});

test('the bench of the file reads the same', () => {
	const read = readBench(expected.bench, 'determinism.json');
	expect(read).toEqual(document);
	expect(expected.sweeps).toBe(request.sweeps);
	expect(summary(new Simulation().picture({ ...request, setup: read.setup }))).toEqual(here);
});

let folder = '';
beforeAll(async () => {
	folder = mkdtempSync(join(tmpdir(), 'faint-echo-'));
	// the worker as the set-up builds it for the command line
	await build({
		configFile: 'vite.cli.config.ts',
		logLevel: 'error',
		build: { outDir: folder, emptyOutDir: true }
	});
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test(
	'a Node thread gives the identical readings, as a picture and as a job',
	{ timeout: 60_000 },
	async () => {
		const file = pathToFileURL(join(folder, 'worker.js'));
		const shown = await new Promise<Summary>((resolve, reject) => {
			const client = new SimulationClient(() => openNodePort(file), {
				onPicture: (picture) => {
					const { result } = client.job(request, 30_000);
					result
						.then((done) => expect(summary(done)).toEqual(summary(picture)))
						.then(() => resolve(summary(picture)))
						.catch(reject)
						.finally(() => client.close());
				},
				onFault: (fault) => {
					client.close();
					reject(fault);
				}
			});
			client.show(request);
		});
		// the same engine in another thread: not a bit may differ
		expect(shown).toEqual(here);
	}
);

test('a Node thread that cannot start is told of, not waited for', { timeout: 60_000 }, async () => {
	const told: string[] = [];
	await new Promise<void>((resolve) => {
		const client = new SimulationClient(() => openNodePort(pathToFileURL(join(folder, 'nowhere.js'))), {
			onPicture: () => undefined,
			onFault: (fault) => {
				told.push(fault.code);
				if (fault.code !== 'worker-given-up') return;
				client.close();
				resolve();
			}
		});
		client.show(request);
	});
	expect(told).toEqual(['worker-failed', 'worker-failed', 'worker-given-up']);
});

/** The readings of the request with every sweep taken in pieces, in the order given. */
function inPieces(order: (points: number) => readonly (readonly [number, number])[]) {
	const plant = new Compiler().compile(request.setup);
	if (request.calibration === null) throw new Error('it is calibrated');
	const solved = finished(solveCalibration(request.calibration));
	const { terms } = interpolateTerms(solved.terms, solved.frequencies, plant.frequencies);
	const rows = sweepRows(plant.frequencies.length);
	loadRows(rows, plant.raw, terms, plant.extension);
	const noise = receiverNoise(request.setup);
	const { averages } = request.setup.processing;
	for (let taken = 0; taken < request.sweeps; taken++)
		for (const [first, count] of order(rows.points))
			takeSweep(
				rows,
				{ ...noise, sweep: request.firstSweep + taken, kept: keptFraction(taken, averages) },
				first,
				count
			);
	const { re, im } = means(rows, { sum: averages, squares: 1 });
	return { re: [...re], im: [...im] };
}

const single = (points: number): [number, number][] => Array.from({ length: points }, (_, i) => [i, 1]);

test('points worked out in reverse order, or in odd pieces, are the same to the last bit', () => {
	expect(inPieces((points) => single(points).reverse())).toEqual(here.displayed);
	expect(inPieces(() => [[30, 21], [0, 13], [13, 17]])).toEqual(here.displayed); // prettier-ignore
});

test('sweeps are the same whichever was taken first', () => {
	const plant = new Compiler().compile(request.setup);
	const noise = receiverNoise(request.setup);
	const readings = (order: readonly number[]) => {
		const rows = sweepRows(plant.frequencies.length);
		const out = complexArray(order.length);
		for (const sweep of order) {
			loadRows(rows, plant.raw, null, null);
			takeSweep(rows, { ...noise, sweep, kept: 1 });
			put(out, sweep, at({ re: rows.latestRe, im: rows.latestIm }, 25));
		}
		return out;
	};
	expect(readings([3, 0, 2, 1])).toEqual(readings([0, 1, 2, 3]));
});
