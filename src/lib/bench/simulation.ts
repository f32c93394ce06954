import { at } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { finished } from '#lib/numeric/slices.ts';
import { effectiveNumber, keptFraction, nextWeight, NO_WEIGHT } from '#lib/reflectometer/averaging.ts';
import type { AverageWeight } from '#lib/reflectometer/averaging.ts';
import { interpolateTerms } from '#lib/reflectometer/error-terms.ts';
import type { TermsFit } from '#lib/reflectometer/error-terms.ts';
import type { ErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { loadRows, means, newPace, restart, sweepRows, takeSweepSlices } from '#lib/reflectometer/sweep.ts';
import type { SweepRows } from '#lib/reflectometer/sweep.ts';
import { solveCalibration } from './calibrate.ts';
import { receiverNoise } from './reflectometer.ts';
import type { SolvedCalibration } from './calibrate.ts';
import { asItStands, isUnknown } from './damage.ts';
import { Compiler } from './compile.ts';
import type { Plant } from './compile.ts';
import { keepIdentity } from './identity.ts';
import { levelDiagram } from './levels.ts';
import { Marker } from './marker.ts';
import type { Calibration } from './calibrations.ts';
import type { Damage } from './history.ts';
import type { CorrectionState, MarkerPlace, Picture, PictureMarker } from './picture.ts';
import type { Setup } from './setup.ts';
import { Stage } from './stage.ts';

/** A bench to be simulated. */
export interface SimulatedBench {
	readonly setup: Setup;
	/** The calibration in use. */
	readonly calibration: Calibration | null;
	/** What of it is broken. */
	readonly damage: readonly Damage[];
}

/** What is to be shown: a bench, and which sweeps have been taken with it. */
export interface PictureRequest extends SimulatedBench {
	readonly revision: number;
	readonly firstSweep: number;
	readonly sweeps: number;
}

const PLACES: readonly MarkerPlace[] = ['low', 'centre', 'high'];

/**
 * Works out pictures of a bench: compiles the setup, takes the sweeps asked for, and averages them. It keeps what it has:
 * the same setup with more sweeps goes on where it was, another setup begins anew, and only the stages that depend on
 * what changed are worked out again.
 */
export class Simulation {
	readonly #compiler = new Compiler();
	readonly #fitted = new Stage(
		'calibration fit',
		(solved: SolvedCalibration, frequencies: Plant['frequencies']) =>
			interpolateTerms(solved.terms, solved.frequencies, frequencies)
	);
	readonly #rows = new Stage(
		'correction',
		(
			raw: ComplexArray,
			terms: ErrorTerms | null,
			extension: ComplexArray,
			floor: Reals | null
		): SweepRows => {
			const rows = sweepRows(raw.re.length);
			loadRows(rows, raw, terms, extension, floor);
			return rows;
		}
	);
	#setup: Setup | null = null;
	#calibration: Calibration | null = null;
	#solved: { calibration: Calibration; solved: SolvedCalibration } | null = null;
	#calibrationsSolved = 0;
	/** What the sums belong to, and how far they have come. */
	#run: {
		rows: SweepRows;
		noise: unknown[];
		taken: number;
		weight: AverageWeight;
		markers: Marker[];
	} | null = null;

	/** How often each stage has run. */
	get runs(): Readonly<Record<string, number>> {
		return {
			...this.#compiler.runs,
			'calibration fit': this.#fitted.runs,
			correction: this.#rows.runs,
			calibration: this.#calibrationsSolved
		};
	}

	/**
	 * Works out one picture. It yields every few milliseconds how many readings of the sweeps asked for are taken.
	 * @throws Fault if the calibration cannot be solved.
	 */
	*pictureSlices(request: PictureRequest): Generator<number, Picture, undefined> {
		const setup = (this.#setup = keepIdentity(this.#setup, asItStands(request.setup, request.damage)));
		const calibration = (this.#calibration = keepIdentity(this.#calibration, request.calibration));
		const plant = yield* this.#compiler.compileSlices(setup, isUnknown(setup.device, request.damage));
		yield 0;
		const { terms, correction } = yield* this.#correction(plant, setup, calibration);
		yield 0;
		const rows = this.#rows.of(plant.raw, terms, plant.extension, plant.floor);
		// what breaks, breaks in the first sweep, and the readings after it are those of another bench
		const sweeps = plant.damage === null ? request.sweeps : Math.min(1, request.sweeps);
		yield* this.#takeSweeps(rows, setup, { ...request, sweeps });
		return this.#picture(plant, setup, request, correction);
	}

	/** `pictureSlices` run to its end. */
	picture(request: PictureRequest): Picture {
		return finished(this.pictureSlices(request));
	}

	*#correction(
		plant: Plant,
		setup: Setup,
		calibration: Calibration | null
	): Generator<number, { terms: ErrorTerms | null; correction: CorrectionState }, undefined> {
		if (calibration === null) return { terms: null, correction: { kind: 'none' } };
		if (this.#solved?.calibration !== calibration) {
			const slices = solveCalibration(calibration);
			let step = slices.next();
			while (!step.done) {
				yield 0;
				step = slices.next();
			}
			this.#solved = { calibration, solved: step.value };
			this.#calibrationsSolved += 1;
		}
		const { terms, fit }: { terms: ErrorTerms; fit: TermsFit } = this.#fitted.of(
			this.#solved.solved,
			plant.frequencies
		);
		const { id, plane } = calibration;
		return {
			terms,
			correction: { kind: 'calibration', id, plane, lineChanged: lineChanged(setup, calibration), fit }
		};
	}

	*#takeSweeps(rows: SweepRows, setup: Setup, request: PictureRequest): Generator<number, void, undefined> {
		const noise = receiverNoise(setup);
		const averages = setup.processing.averages;
		const identity = [rows, ...Object.values(noise), averages, request.firstSweep];
		let run = this.#run;
		const same = run !== null && run.noise.every((value, i) => Object.is(value, identity[i]));
		if (run === null || !same || run.taken > request.sweeps) {
			restart(rows);
			const last = rows.points - 1;
			const markers = [0, last / 2, last].map((position) => new Marker(position));
			run = this.#run = { rows, noise: identity, taken: 0, weight: NO_WEIGHT, markers };
		}
		const pace = newPace();
		while (run.taken < request.sweeps) {
			const kept = keptFraction(run.taken, averages);
			const options = { ...noise, sweep: request.firstSweep + run.taken, kept };
			// a sweep that is interrupted must not be taken twice: until it is whole the run does not exist
			this.#run = null;
			for (const points of takeSweepSlices(rows, options, pace)) yield run.taken * rows.points + points;
			for (const marker of run.markers) marker.follow(rows, kept);
			run.weight = nextWeight(run.weight, averages);
			run.taken += 1;
			this.#run = run;
		}
	}

	#picture(plant: Plant, setup: Setup, request: PictureRequest, correction: CorrectionState): Picture {
		if (this.#run === null) throw new Error('no sweeps were taken');
		const { rows, weight, taken, markers } = this.#run;
		const effective = taken === 0 ? 0 : effectiveNumber(weight);
		const marked = PLACES.map((place, k): PictureMarker => {
			const { frequencies, device, drive } = plant.markers;
			const exact = { truth: at(device.rest, k), driven: at(device.gamma, k) };
			const reading = markers[k].reading(rows, weight, place, frequencies[k], exact);
			const levels = levelDiagram(plant.markers, k, setup, Math.max(1, effective));
			return { reading, levels, drive: drive?.[k] ?? null };
		});
		return {
			revision: request.revision,
			frequencies: plant.frequencies.slice(),
			displayed: means(rows, weight),
			expected: { re: rows.referenceRe.slice(), im: rows.referenceIm.slice() },
			truth: copied(plant.device.rest),
			driven: copied(plant.device.gamma),
			lost: plant.device.lost,
			silence: plant.silence,
			damage: plant.damage,
			markers: [marked[0], marked[1], marked[2]],
			planeDelays: plant.planeDelays,
			correction,
			firstSweep: request.firstSweep,
			sweepsTaken: taken,
			effectiveAverages: effective,
			deviceOutsideBand: plant.device.outside
		};
	}
}

const copied = ({ re, im }: ComplexArray): ComplexArray => ({ re: re.slice(), im: im.slice() });

/** Whether what a calibration was made through is no longer what it was. */
function lineChanged(setup: Setup, { plane, setup: then }: Calibration): boolean {
	const now = { port: setup.port, standards: setup.standards, parts: setup.parts.slice(0, plane) };
	const before = { port: then.port, standards: then.standards, parts: then.parts };
	return keepIdentity(before, now) !== before;
}
