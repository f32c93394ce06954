import { complexArray } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import type { Equations } from '#lib/circuit/equations.ts';
import { growingModes } from '#lib/circuit/rest-stability.ts';
import type { Growth } from '#lib/circuit/rest-stability.ts';
import { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import { deviceGamma, onePortAt, twoPortAt } from '#lib/network/device.ts';
import type { CircuitDevice, Device, TabulatedDevice, Termination } from './device-schema.ts';
import { driven, frontEndEquations, restGamma, staysAt, withoutUnstable } from './front-end.ts';
import type { Driven } from './front-end.ts';
import { DEVICE } from './history.ts';
import type { Damage } from './history.ts';
import type { LostPoints } from './picture.ts';
import { terminationGamma } from './plant.ts';
import type { Setup } from './setup.ts';
import { SourceSide } from './source-side.ts';
import { SlicedStage, Stage } from './stage.ts';

/** What a device presents at its connector over some frequencies. */
export interface Presented {
	/** At the present level; NaN where no state of the device was found. */
	readonly gamma: ComplexArray;
	/** At a level too small to move it; the same array where drive does not move it. */
	readonly rest: ComplexArray;
	/** Whether its data had to be held at the edge of their band. */
	readonly outside: boolean;
	readonly lost: LostPoints | null;
	/** What the present level breaks, at the first frequency of the sweep where it does. */
	readonly damage: Damage | null;
	/** How it and what is connected to it swing by themselves; null if they stay at rest. */
	readonly growth: Growth | null;
}

interface Answer {
	readonly gamma: ComplexArray;
	readonly outside: boolean;
}

/** Reflection of a device that drive does not move. */
export function linearGamma(
	device: Exclude<Device, CircuitDevice>,
	output: Termination,
	frequencies: Reals
): Answer {
	if (device.kind !== 'tabulated')
		return { gamma: terminationGamma(device, frequencies.length), outside: false };
	if (device.data.ports === 1) return onePortAt(device.data, frequencies);
	const { twoPort, outside } = twoPortAt(device.data, frequencies);
	return { gamma: deviceGamma(twoPort, terminationGamma(output, frequencies.length)), outside };
}

/** A black box breaks where the level incident passes its absolute maximum. */
function blackBoxDamage(
	{ name, absoluteMaximum }: TabulatedDevice,
	gamma: ComplexArray,
	side: SourceSide,
	sent: Reals
): Damage | null {
	if (absoluteMaximum === null) return null;
	const levels = side.incident(sent, gamma);
	const over = levels.findIndex((incident) => incident > absoluteMaximum);
	if (over < 0) return null;
	return {
		part: DEVICE,
		name,
		element: null,
		crossed: { quantity: 'input power', limit: absoluteMaximum, reached: levels[over] },
		frequency: side.frequencies[over],
		cause: 'source'
	};
}

/** The stages that lead from a setup to what its device presents, remembered as those of `Compiler` are. */
export class DeviceStages {
	readonly stages: readonly { readonly name: string; readonly runs: number }[];
	readonly #linear = new Stage('device', linearGamma);
	readonly #equations = new Stage('circuit', (device: CircuitDevice) => frontEndEquations(device));
	readonly #side = new Stage(
		'source side',
		(
			parts: Setup['parts'],
			port: Setup['port'],
			output: Termination,
			harmonics: Setup['source']['harmonics'],
			ports: number,
			frequencies: Reals
		) => new SourceSide(parts, port, output, harmonics, ports, frequencies)
	);
	readonly #rest = new Stage('device at rest', (equations: Equations, side: SourceSide) =>
		restGamma(equations, side)
	);
	readonly #growth = new Stage('stability', (equations: Equations, side: SourceSide) =>
		growingModes(equations, { ends: side.endsAt })
	);
	readonly #circuit = new Stage(
		'linear part',
		(equations: Equations, side: SourceSide) => new DrivenCircuit(equations, { around: side })
	);
	readonly #driven = new SlicedStage('driven device', driven);
	readonly #stays = new Stage('driven stability', staysAt);
	readonly #withoutUnstable = new SlicedStage('without unstable states', withoutUnstable);
	readonly #blackBox = new Stage('black box', blackBoxDamage);

	/** Whether what happens to the whole bench is looked at: that it swings, or that something breaks. */
	readonly #watched: boolean;

	/** Over the sweep the whole bench is looked at too, at the markers only the device. */
	constructor(at: 'sweep' | 'markers') {
		this.#watched = at === 'sweep';
		const all = [
			this.#linear,
			this.#equations,
			this.#side,
			this.#rest,
			this.#growth,
			this.#circuit,
			this.#driven,
			this.#stays,
			this.#withoutUnstable,
			this.#blackBox
		];
		this.stages = all.map((stage) => ({
			name: at === 'markers' ? `marker ${stage.name}` : stage.name,
			get runs() {
				return stage.runs;
			}
		}));
	}

	/** The circuit of a front end and the line that drives it. */
	frontEnd(
		setup: Setup,
		device: CircuitDevice,
		frequencies: Reals
	): {
		readonly equations: Equations;
		readonly side: SourceSide;
		readonly circuit: DrivenCircuit;
		readonly rest: ComplexArray;
	} {
		const equations = this.#equations.of(device);
		const side = this.#sideOf(setup, device.circuit.portNames.length, frequencies);
		return {
			equations,
			side,
			circuit: this.#circuit.of(equations, side),
			rest: this.#rest.of(equations, side)
		};
	}

	/** `sent`: level of the source at every frequency, dBm; `suspect`: whether states must be looked at for being stable. Yields every few milliseconds. */
	*present(
		setup: Setup,
		frequencies: Reals,
		sent: Reals,
		suspect = false
	): Generator<number, Presented, undefined> {
		const { device, output } = setup;
		if (device.kind !== 'circuit') {
			const { gamma, outside } = this.#linear.of(device, output, frequencies);
			const damage =
				device.kind === 'tabulated' && this.#watched
					? this.#blackBox.of(device, gamma, this.#sideOf(setup, 1, frequencies), sent)
					: null;
			return { gamma, rest: gamma, outside, lost: null, damage, growth: null };
		}
		const { equations, side, circuit, rest } = this.frontEnd(setup, device, frequencies);
		const growth = this.#watched ? this.#growth.of(equations, side) : null;
		yield 0;
		let answer: Driven = yield* this.#driven.of(device, circuit, side, sent);
		// a look at the middle of the band is quick; only where it warns is every frequency looked at
		const middle = Math.floor(frequencies.length / 2);
		if (suspect || (this.#watched && !this.#stays.of(circuit, side, sent, answer, middle)))
			answer = yield* this.#withoutUnstable.of(circuit, side, sent, answer);
		return { ...answer, rest, outside: false, growth };
	}

	#sideOf({ parts, port, output, source }: Setup, ports: number, frequencies: Reals): SourceSide {
		return this.#side.of(parts, port, output, source.harmonics, ports, frequencies);
	}
}

/** The same with 0 in place of what was not found, for the waves along the line. */
export function known(gamma: ComplexArray): ComplexArray {
	if (gamma.re.every((value) => !Number.isNaN(value))) return gamma;
	const out = complexArray(gamma.re.length);
	gamma.re.forEach((value, i) => {
		if (Number.isNaN(value)) return;
		out.re[i] = value;
		out.im[i] = gamma.im[i];
	});
	return out;
}
