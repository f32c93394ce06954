import type { ComplexArray } from '#lib/numeric/complex.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { chainOf, looking } from '#lib/network/two-port.ts';
import type { TwoPort } from '#lib/network/two-port.ts';
import { planeWaves, transmissionBack, transmissionOut } from '#lib/network/waves.ts';
import type { PlaneWaves } from '#lib/network/waves.ts';
import { rawFromGamma } from '#lib/reflectometer/correction.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import type { ErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { extensionFactor } from '#lib/reflectometer/plane.ts';
import type { Device, Termination } from './device-schema.ts';
import type { Part } from './part-schema.ts';
import { partTwoPort, planeDelays, presentedGamma, sourceWave, sweepFrequencies } from './plant.ts';
import type { PresentedGamma } from './plant.ts';
import type { Port, Processing, Setup, Sweep } from './setup.ts';
import { Stage } from './stage.ts';

/** The circuit of the bench over its sweep, without noise. */
export interface Plant {
	readonly frequencies: Reals;
	/** The device's reflection at its own connector. */
	readonly device: PresentedGamma;
	/** The noiseless raw reading. */
	readonly raw: ComplexArray;
	readonly extension: ComplexArray;
	readonly planeDelays: readonly number[];
	/** The same circuit at the three markers only, with the waves at every plane. */
	readonly markers: MarkerPlant;
}

export interface MarkerPlant {
	readonly frequencies: Reals;
	readonly device: PresentedGamma;
	readonly waves: readonly PlaneWaves[];
	/** |S21| from plane k to the device and |S12| from plane k to the receiver, by plane, a marker an element. */
	readonly toDevice: readonly Reals[];
	readonly toReceiver: readonly Reals[];
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
	readonly #chain = new Stage('chain', (parts: readonly Part[], frequencies: Reals) =>
		chainOf(
			parts.map((p) => partTwoPort(p, frequencies)),
			frequencies.length
		)
	);
	readonly #device = new Stage('device', (device: Device, output: Termination, frequencies: Reals) =>
		presentedGamma(device, output, frequencies)
	);
	readonly #port = new Stage('port', (port: Port, frequencies: Reals) => portErrorTerms(port, frequencies));
	readonly #raw = new Stage('raw reading', (port: ErrorTerms, chain: TwoPort, device: PresentedGamma) =>
		rawFromGamma(port, looking(chain, device.gamma))
	);
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
	readonly #markerDevice = new Stage(
		'marker device',
		(device: Device, output: Termination, frequencies: Reals) => presentedGamma(device, output, frequencies)
	);
	readonly #waves = new Stage(
		'waves',
		(parts: readonly TwoPort[], device: PresentedGamma, port: Port, frequencies: Reals, level: number) =>
			planeWaves(parts, {
				source: sourceWave(level, frequencies.length),
				sourceGamma: portErrorTerms(port, frequencies).sourceMatch,
				endGamma: device.gamma
			})
	);

	/** How often each stage has run, for the tests that watch it. */
	get runs(): Readonly<Record<string, number>> {
		const stages = [
			this.#frequencies,
			this.#chain,
			this.#device,
			this.#port,
			this.#raw,
			this.#extension,
			this.#delays,
			this.#markerFrequencies,
			this.#markerParts,
			this.#markerDevice,
			this.#waves
		];
		return Object.fromEntries(stages.map((stage) => [stage.name, stage.runs]));
	}

	compile(setup: Setup): Plant {
		const { sweep, parts, device, output, port, source, processing } = setup;
		const frequencies = this.#frequencies.of(sweep);
		const presented = this.#device.of(device, output, frequencies);
		const at = this.#markerFrequencies.of(sweep);
		const markerParts = this.#markerParts.of(parts, at);
		const markerDevice = this.#markerDevice.of(device, output, at);
		return {
			frequencies,
			device: presented,
			raw: this.#raw.of(this.#port.of(port, frequencies), this.#chain.of(parts, frequencies), presented),
			extension: this.#extension.of(processing.extension, frequencies),
			planeDelays: this.#delays.of(parts),
			markers: {
				frequencies: at,
				device: markerDevice,
				waves: this.#waves.of(markerParts.solved, markerDevice, port, at, source.level),
				toDevice: markerParts.toDevice,
				toReceiver: markerParts.toReceiver
			}
		};
	}
}
