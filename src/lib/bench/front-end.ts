import { complex, complexArray, magnitude, put, subtract } from '#lib/numeric/complex.ts';
import { dbFromRatio, ratioFromDb } from '#lib/numeric/decibel.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import type { ConvergedPoint, DrivenPoint } from '#lib/circuit/driven-point.ts';
import { equationsOf } from '#lib/circuit/equations.ts';
import type { Equations } from '#lib/circuit/equations.ts';
import type { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import { crossings, strains } from '#lib/circuit/limits.ts';
import { operatingPoint } from '#lib/circuit/operating-point.ts';
import { inPositions } from '#lib/circuit/positions.ts';
import { reflectionEnded } from '#lib/circuit/small-signal.ts';
import type { CircuitDevice } from './device-schema.ts';
import { DEVICE } from './history.ts';
import type { Damage } from './history.ts';
import type { DriveCurve, LostPoints } from './picture.ts';
import type { SourceSide } from './source-side.ts';

/** A front end of known circuit at the end of the line: what it presents at rest, driven, and as the level rises. */

/** The equations of a front end with its switches as they stand. */
export const frontEndEquations = ({ circuit, positions }: CircuitDevice): Equations =>
	equationsOf(inPositions(circuit.netlist, positions));

/** What it presents to a level too small to move it. */
export function restGamma(equations: Equations, side: SourceSide): ComplexArray {
	const point = operatingPoint(equations, side.endsAt(0));
	return reflectionEnded(equations, side.frequencies, side.ends(1, side.frequencies[0]), point);
}

/** What a front end does at the present level, a frequency at a time. */
export interface Driven {
	/** NaN where no state was found. */
	readonly gamma: ComplexArray;
	readonly lost: LostPoints | null;
	/** The first limit crossed, in the order of the sweep. */
	readonly damage: Damage | null;
}

/** What a crossed limit of a front end is as an event; without an element named, the first that has a limit breaks. */
function damageOf(device: CircuitDevice, point: ConvergedPoint): Damage | null {
	const crossed = crossings(device.limits, point).at(0);
	if (crossed === undefined) return null;
	const { element, quantity, limit, reached } = crossed;
	return {
		part: DEVICE,
		name: device.name,
		element: element ?? device.limits.junctions.at(0)?.element ?? null,
		crossed: { quantity, limit, reached },
		frequency: point.frequency,
		cause: 'source'
	};
}

/** Drives a front end over a sweep with the source set to `level` dBm. Yields after every frequency. */
export function* driven(
	device: CircuitDevice,
	circuit: DrivenCircuit,
	side: SourceSide,
	level: number
): Generator<number, Driven, undefined> {
	const points = yield* circuit.sweepSlices(side.frequencies, side.levels(level));
	return readDriven(device, points);
}

/**
 * Whether a front end stays in the state it was found in at one frequency of the side, with the source set to `level` dBm.
 * True where none was found.
 */
export function staysAt(
	circuit: DrivenCircuit,
	side: SourceSide,
	level: number,
	{ gamma }: Driven,
	k: number
): boolean {
	return Number.isNaN(gamma.re[k]) || circuit.stays(side.frequencies[k], side.levels(level)[k]);
}

/** The same without the states the front end does not stay in. Yields after every frequency; each takes milliseconds. */
export function* withoutUnstable(
	circuit: DrivenCircuit,
	side: SourceSide,
	level: number,
	found: Driven
): Generator<number, Driven, undefined> {
	const gamma = { re: found.gamma.re.slice(), im: found.gamma.im.slice() };
	let { lost } = found;
	for (let k = 0; k < gamma.re.length; k++) {
		yield k;
		if (staysAt(circuit, side, level, found, k)) continue;
		put(gamma, k, complex(NaN, NaN));
		lost = {
			count: (lost?.count ?? 0) + 1,
			frequency: Math.min(lost?.frequency ?? Infinity, side.frequencies[k]),
			reason: 'unstable'
		};
	}
	return { gamma, lost, damage: found.damage };
}

function readDriven(device: CircuitDevice, points: readonly DrivenPoint[]): Driven {
	const gamma = complexArray(points.length);
	let lost: LostPoints | null = null;
	let damage: Damage | null = null;
	points.forEach((point, i) => {
		if (point.converged) {
			put(gamma, i, point.gamma);
			damage ??= damageOf(device, point);
		} else {
			put(gamma, i, complex(NaN, NaN));
			const { frequency, reason } = point;
			lost = lost === null ? { count: 1, frequency, reason } : { ...lost, count: lost.count + 1 };
		}
	});
	return { gamma, lost, damage };
}

/** Levels of a drive curve at the device, dBm: coarse where next to nothing moves yet, and as far as this at most. */
const LEVELS = [...range(-76, -44, 4), ...range(-40, 26, 2)];
/** A block of levels is solved between two pauses. */
const BLOCK = 8;
const GAIN_LOST = 1;

function range(from: number, to: number, step: number): number[] {
	return Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);
}

/** Where `value` first rises to `wanted`, in `levels`, on a straight line; null if it does not. */
function firstReached(levels: readonly number[], values: readonly number[], wanted: number): number | null {
	for (let i = 1; i < levels.length; i++)
		if (values[i] >= wanted && values[i - 1] < wanted) {
			const share = (wanted - values[i - 1]) / (values[i] - values[i - 1]);
			return levels[i - 1] + share * (levels[i] - levels[i - 1]);
		}
	return null;
}

/** The lowest level at which a limit is reached; the curve ends with the first point past one. */
function breakingLevel(device: CircuitDevice, points: readonly ConvergedPoint[]): number | null {
	const levels = points.map((point) => point.incidentDbm);
	const strained = points.map((point) => strains(device.limits, point));
	const found = (strained.at(-1) ?? []).flatMap(({ quantity, limit }, k) => {
		const reached = strained.map((strain) => strain[k].reached);
		// voltages and currents grow as the wave does, so they are looked for against it
		const against = quantity === 'input power' ? levels : levels.map((dbm) => ratioFromDb(dbm));
		const place = firstReached(against, reached, limit);
		return place === null ? [] : [quantity === 'input power' ? place : dbFromRatio(place)];
	});
	return found.length === 0 ? null : Math.min(...found);
}

/**
 * How a front end answers at one frequency as the level rises from rest, until something breaks or no state is found.
 * Yields between blocks of levels.
 */
export function* driveCurve(
	device: CircuitDevice,
	circuit: DrivenCircuit,
	frequency: number,
	rest: Complex
): Generator<number, DriveCurve, undefined> {
	const points: ConvergedPoint[] = [];
	for (const point of circuit.rising(frequency, LEVELS)) {
		if (!point.converged) break;
		points.push(point);
		if (damageOf(device, point) !== null) break;
		if (points.length % BLOCK === 0) yield points.length;
	}
	const gamma = complexArray(points.length);
	points.forEach((point, i) => put(gamma, i, point.gamma));
	const levels = points.map((point) => point.incidentDbm);
	// |ΔΓ| grows as a power of the level: on a logarithmic scale almost a straight line
	const moved = points.map((point) => Math.log(magnitude(subtract(point.gamma, rest))));
	const gains =
		points[0]?.outputDbm.length > 0 ? points.map((point) => point.outputDbm[0] - point.dbm) : null;
	const lostGain = gains?.map((gain) => gains[0] - gain);
	return {
		levels: Float64Array.from(levels),
		gamma,
		gainDb: gains && Float64Array.from(gains),
		rest,
		ceiling: firstReached(levels, moved, Math.log(device.ceilingChange)),
		compression: lostGain ? firstReached(levels, lostGain, GAIN_LOST) : null,
		breaking: breakingLevel(device, points)
	};
}
