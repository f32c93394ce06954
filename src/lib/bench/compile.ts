import { at, complexArray } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { finished } from '#lib/numeric/slices.ts';
import type { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import { looking } from '#lib/network/two-port.ts';
import type { TwoPort } from '#lib/network/two-port.ts';
import { planeWaves, transmissionBack, transmissionOut } from '#lib/network/waves.ts';
import type { PlaneWaves } from '#lib/network/waves.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import type { ErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { extensionFactor } from '#lib/reflectometer/plane.ts';
import type { CircuitDevice } from './device-schema.ts';
import { burntPower, firstOver } from './dissipation.ts';
import { driveCurve } from './front-end.ts';
import type { Damage } from './history.ts';
import type { Part } from './part-schema.ts';
import type { DriveCurve, Silence } from './picture.ts';
import { partsTwoPort, partTwoPort, planeDelays, sweepFrequencies } from './plant.ts';
import { floorShares, rawReading, sourceLevels, sourceWaves } from './reflectometer.ts';
import { DeviceStages, known } from './presented.ts';
import type { Presented } from './presented.ts';
import type { Port, Processing, Receiver, Setup, Sweep } from './setup.ts';
import { SlicedStage, Stage } from './stage.ts';
import { isTransmitting, transmission } from './transmit.ts';

/** The circuit of the bench over its sweep, without noise. */
export interface Plant {
	readonly frequencies: Reals;
	/** What the device presents at its own connector. */
	readonly device: Presented;
	readonly silence: Silence | null;
	/** What breaks as the bench is set. */
	readonly damage: Damage | null;
	/** The noiseless raw reading. */
	readonly raw: ComplexArray;
	/** Floor noise of every reading as a share of `receiverNoise`; null where it is 1. */
	readonly floor: Reals | null;
	readonly extension: ComplexArray;
	readonly planeDelays: readonly number[];
	/** The same circuit at the three markers only, with the waves at every plane. */
	readonly markers: MarkerPlant;
}

export interface MarkerPlant {
	readonly frequencies: Reals;
	readonly device: Presented;
	/** How it answers as the level rises; null for a device of which no circuit is known. */
	readonly drive: readonly DriveCurve[] | null;
	/** Where no state of the device was found, as with a matched one. */
	readonly waves: readonly PlaneWaves[];
	/** |S21| from plane k to the device and |S12| from plane k to the receiver, by plane, a marker an element. */
	readonly toDevice: readonly Reals[];
	readonly toReceiver: readonly Reals[];
}

/** The raw reading of a bench that has none. */
function nothing(length: number): ComplexArray {
	const raw = complexArray(length);
	raw.re.fill(NaN);
	raw.im.fill(NaN);
	return raw;
}

function* driveCurves(
	device: CircuitDevice,
	circuit: DrivenCircuit,
	rest: ComplexArray,
	frequencies: Reals
): Generator<number, readonly DriveCurve[], undefined> {
	const curves: DriveCurve[] = [];
	for (let k = 0; k < frequencies.length; k++) {
		// with a single frequency all three markers stand there
		const same = k > 0 && frequencies[k] === frequencies[k - 1];
		curves.push(same ? curves[k - 1] : yield* driveCurve(device, circuit, frequencies[k], at(rest, k)));
	}
	return curves;
}

/** The frequencies of the three markers: low edge, centre, high edge. */
export const markerFrequencies = ({ start, stop, points }: Sweep): Reals =>
	points === 1 ? Float64Array.of(start, start, start) : Float64Array.of(start, (start + stop) / 2, stop);

/**
 * Turns a setup into a plant, in stages. Each stage remembers its last answer and the slice of the setup that led to
 * it, so that a change works out only what depends on it: averages solve nothing again, moving the reference plane
 * cascades nothing again.
 */
export class Compiler {
	readonly #frequencies = new Stage('frequencies', (sweep: Sweep) => sweepFrequencies(sweep));
	readonly #chain = new Stage('chain', partsTwoPort);
	readonly #device = new DeviceStages('sweep');
	readonly #port = new Stage('port', (port: Port, frequencies: Reals) => portErrorTerms(port, frequencies));
	readonly #levels = new Stage('source levels', sourceLevels);
	readonly #raw = new Stage(
		'raw reading',
		(
			port: ErrorTerms,
			leakage: Receiver['leakage'],
			compression: Receiver['compression'],
			levels: Reals | null,
			chain: TwoPort,
			gamma: ComplexArray,
			frequencies: Reals,
			silent: boolean
		) =>
			silent
				? nothing(gamma.re.length)
				: rawReading(port, leakage, compression, levels, looking(chain, gamma), frequencies)
	);
	readonly #floor = new Stage('floor', floorShares);
	readonly #markerLevels = new Stage('marker source levels', sourceLevels);
	readonly #extension = new Stage(
		'extension',
		(extension: Processing['extension'], frequencies: Reals): ComplexArray =>
			extensionFactor(extension.delay, extension.loss, frequencies)
	);
	readonly #delays = new Stage('delays', (parts: readonly Part[]) => planeDelays(parts));
	readonly #markerFrequencies = new Stage('marker frequencies', (sweep: Sweep) => markerFrequencies(sweep));
	readonly #markerParts = new Stage('marker parts', (parts: readonly Part[], frequencies: Reals) => {
		const solved = parts.map((p) => partTwoPort(p, frequencies));
		const planes = Array.from({ length: parts.length + 1 }, (_, k) => k);
		return {
			solved,
			toDevice: planes.map((k) => transmissionOut(solved, k, parts.length, frequencies.length)),
			toReceiver: planes.map((k) => transmissionBack(solved, k, 0, frequencies.length))
		};
	});
	readonly #markerDevice = new DeviceStages('markers');
	readonly #drive = new SlicedStage('drive curves', driveCurves);
	readonly #transmission = new Stage(
		'transmitter',
		(device: Setup['device'], parts: Setup['parts'], port: Port, sweep: Sweep) =>
			transmission({ device, parts, port, sweep })
	);
	readonly #waves = new Stage(
		'waves',
		(parts: readonly TwoPort[], gamma: ComplexArray, port: Port, frequencies: Reals, levels: Reals) =>
			planeWaves(parts, {
				source: sourceWaves(levels),
				sourceGamma: portErrorTerms(port, frequencies).sourceMatch,
				endGamma: known(gamma)
			})
	);

	/** How often each stage has run, for the tests that watch it. */
	get runs(): Readonly<Record<string, number>> {
		const stages = [
			this.#frequencies,
			this.#chain,
			...this.#device.stages,
			this.#port,
			this.#levels,
			this.#raw,
			this.#floor,
			this.#markerLevels,
			this.#extension,
			this.#delays,
			this.#markerFrequencies,
			this.#markerParts,
			...this.#markerDevice.stages,
			this.#drive,
			this.#transmission,
			this.#waves
		];
		return Object.fromEntries(stages.map((stage) => [stage.name, stage.runs]));
	}

	/** `compileSlices` run to its end. */
	compile(setup: Setup): Plant {
		return finished(this.compileSlices(setup));
	}

	/** `unknown`: the device is broken and what it presents is not known. Yields every few milliseconds. */
	*compileSlices(setup: Setup, unknown = false): Generator<number, Plant, undefined> {
		const { seed, sweep, parts, device, port, source, receiver, processing } = setup;
		const frequencies = this.#frequencies.of(sweep);
		// only a ripple is drawn from the seed
		const drawn = source.flatness === 0 ? 0 : seed;
		const levels = this.#levels.of(source, drawn, frequencies);
		const presented = yield* this.#device.present(setup, frequencies, levels);
		const marked = this.#markerFrequencies.of(sweep);
		const markerLevels = this.#markerLevels.of(source, drawn, marked);
		const markerParts = this.#markerParts.of(parts, marked);
		const markerDevice = yield* this.#markerDevice.present(
			setup,
			marked,
			markerLevels,
			presented.lost?.reason === 'unstable'
		);
		let drive: readonly DriveCurve[] | null = null;
		if (device.kind === 'circuit') {
			const { circuit, rest } = this.#markerDevice.frontEnd(setup, device, marked);
			drive = yield* this.#drive.of(device, circuit, rest, marked);
		}
		const transmitted = isTransmitting(device) ? this.#transmission.of(device, parts, port, sweep) : null;
		const waves = this.#waves.of(markerParts.solved, markerDevice.gamma, port, marked, markerLevels);
		const silence: Silence | null = unknown
			? { kind: 'broken' }
			: transmitted
				? { kind: 'transmitting', level: transmitted.level }
				: presented.growth && { kind: 'oscillating', frequency: presented.growth.frequency };
		const raw = this.#raw.of(
			this.#port.of(port, frequencies),
			receiver.leakage,
			receiver.compression,
			receiver.compression === null ? null : levels,
			this.#chain.of(parts, frequencies),
			presented.gamma,
			frequencies,
			silence !== null
		);
		return {
			frequencies,
			device: presented,
			silence,
			damage: transmitted
				? transmitted.damage
				: // the pad comes before the device, and what is gone cannot break
					(firstOver(parts, burntPower(waves, 1), marked[1], 'source') ??
					(unknown ? null : presented.damage)),
			raw,
			floor: this.#floor.of(receiver.floor, receiver.referenceFloor, source.level, levels, raw),
			extension: this.#extension.of(processing.extension, frequencies),
			planeDelays: this.#delays.of(parts),
			markers: {
				frequencies: marked,
				device: markerDevice,
				drive,
				waves,
				toDevice: markerParts.toDevice,
				toReceiver: markerParts.toReceiver
			}
		};
	}
}
