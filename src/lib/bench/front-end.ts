import { complex, complexArray, magnitude, put, subtract } from '#lib/numeric/complex.ts';
import { dbFromRatio, ratioFromDb } from '#lib/numeric/decibel.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import type { ConvergedPoint, DrivenPoint } from '#lib/circuit/driven-point.ts';
import { equationsOf } from '#lib/circuit/equations.ts';
import type { Equations } from '#lib/circuit/equations.ts';
import type { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import { crossings, limitsIn, strains } from '#lib/circuit/limits.ts';
import type { Limits, Strain } from '#lib/circuit/limits.ts';
import { operatingPoint } from '#lib/circuit/operating-point.ts';
import { inPositions } from '#lib/circuit/positions.ts';
import { reflectionEnded } from '#lib/circuit/small-signal.ts';
import type { CircuitDevice } from './device-schema.ts';
import { DEVICE } from './history.ts';
import type { Damage } from './history.ts';
import type { DriveCurve, LostPoints } from './picture.ts';
import type { SourceSide } from './source-side.ts';
import { positionsOf } from './switches.ts';

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

/** A front end with what its data sheet allows as its switches stand. */
const limitsOf = (device: CircuitDevice): Limits => limitsIn(device.limits, positionsOf(device));

/** A crossed limit as an event; where no element is named, the first that has a limit breaks. */
function eventOf(
	{ name, limits }: CircuitDevice,
	frequency: number,
	{ element, quantity, limit, reached }: Omit<Strain, 'port'>
): Damage {
	return {
		part: DEVICE,
		name,
		element: element ?? limits.junctions.at(0)?.element ?? null,
		crossed: { quantity, limit, reached },
		frequency,
		cause: 'source'
	};
}

/**
 * What a point breaks. Of a lost one it is only known that the wave incident on a passive front end is at least that into
 * 50 Ω, less what the end of the line sends back once more.
 */
function damageAt(
	device: CircuitDevice,
	limits: Limits,
	point: DrivenPoint,
	side: SourceSide
): Damage | null {
	if (point.converged) {
		const crossed = crossings(limits, point).at(0);
		return crossed ? eventOf(device, point.frequency, crossed) : null;
	}
	const limit = limits.inputPower;
	if (limit === null) return null;
	const incident = point.dbm - dbFromRatio(1 + magnitude(side.ends(1, point.frequency)[0]));
	if (incident <= limit) return null;
	return eventOf(device, point.frequency, {
		element: null,
		quantity: 'input power',
		limit,
		reached: incident
	});
}

/** Drives a front end over a sweep for the levels in dBm that the source sends. Yields after every frequency. */
export function* driven(
	device: CircuitDevice,
	circuit: DrivenCircuit,
	side: SourceSide,
	sent: Reals
): Generator<number, Driven, undefined> {
	const points = yield* circuit.sweepSlices(side.frequencies, side.levels(sent));
	return readDriven(device, points, side);
}

/**
 * Whether a front end stays in the state it was found in at one frequency of the side, for the levels in dBm that the source sends.
 * True where none was found.
 */
export function staysAt(
	circuit: DrivenCircuit,
	side: SourceSide,
	sent: Reals,
	found: Driven,
	k: number
): boolean {
	return stays(circuit, side.frequencies[k], side.levels(sent)[k], found.gamma.re[k]);
}

/** A state that was not found is none to leave. */
const stays = (circuit: DrivenCircuit, frequency: number, level: number, found: number): boolean =>
	Number.isNaN(found) || circuit.stays(frequency, level);

/** The same without the states the front end does not stay in. Yields after every frequency; each takes milliseconds. */
export function* withoutUnstable(
	circuit: DrivenCircuit,
	side: SourceSide,
	sent: Reals,
	found: Driven
): Generator<number, Driven, undefined> {
	const gamma = { re: found.gamma.re.slice(), im: found.gamma.im.slice() };
	const levels = side.levels(sent);
	let { lost } = found;
	for (let k = 0; k < gamma.re.length; k++) {
		yield k;
		if (stays(circuit, side.frequencies[k], levels[k], gamma.re[k])) continue;
		put(gamma, k, complex(NaN, NaN));
		lost = {
			count: (lost?.count ?? 0) + 1,
			frequency: Math.min(lost?.frequency ?? Infinity, side.frequencies[k]),
			reason: 'unstable'
		};
	}
	return { gamma, lost, damage: found.damage };
}

function readDriven(device: CircuitDevice, points: readonly DrivenPoint[], side: SourceSide): Driven {
	const gamma = complexArray(points.length);
	const limits = limitsOf(device);
	let lost: LostPoints | null = null;
	let damage: Damage | null = null;
	points.forEach((point, i) => {
		damage ??= damageAt(device, limits, point, side);
		if (point.converged) put(gamma, i, point.gamma);
		else {
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
/** So many levels in a row without a state end a curve. */
const MOST_LOST = 3;
const GAIN_LOST = 1;
/** A change of Γ that is rounding. */
const LEAST_MOVE = 1e-12;

function range(from: number, to: number, step: number): number[] {
	return Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);
}

/** Where the values first rise to `wanted`: before which of them, and the share of the way to it; null if they do not. */
function firstReached(values: readonly number[], wanted: number): { before: number; share: number } | null {
	const before = values.findIndex((value, i) => i > 0 && value >= wanted && values[i - 1] < wanted);
	if (before < 0) return null;
	return { before, share: (wanted - values[before - 1]) / (values[before] - values[before - 1]) };
}

const between = (a: number, b: number, share: number): number => a + share * (b - a);

/**
 * The incident level at which a value that rises with the level reaches `wanted`: on a straight line between two points,
 * then on one through the point solved there. Null if it does not reach it.
 */
function levelReached(
	circuit: DrivenCircuit,
	points: readonly ConvergedPoint[],
	value: (point: ConvergedPoint) => number,
	wanted: number
): number | null {
	const found = firstReached(points.map(value), wanted);
	if (found === null) return null;
	const [low, high] = [points[found.before - 1], points[found.before]];
	const [near] = circuit.levels(low.frequency, [between(low.dbm, high.dbm, found.share)]);
	if (!near.converged) return between(low.incidentDbm, high.incidentDbm, found.share);
	const closer = firstReached([low, near, high].map(value), wanted);
	if (closer === null) return near.incidentDbm;
	const [a, b] = closer.before === 1 ? [low, near] : [near, high];
	return between(a.incidentDbm, b.incidentDbm, closer.share);
}

/** The lowest incident level at which a limit is reached: the curve ends with the first point past one. */
function breakingLevel(limits: Limits, points: readonly ConvergedPoint[]): number | null {
	// voltages and currents grow as the wave does, so they are looked for against it
	const waves = points.map((point) => ratioFromDb(point.incidentDbm));
	const strained = points.map((point) => strains(limits, point));
	const found = (strained.at(-1) ?? []).flatMap(({ quantity, limit }, k) => {
		const place = firstReached(
			strained.map((strain) => strain[k].reached),
			limit
		);
		if (place === null) return [];
		if (quantity === 'input power') return [limit];
		return [dbFromRatio(between(waves[place.before - 1], waves[place.before], place.share))];
	});
	// where no state leads up to it, the input power still breaks it
	if (found.length === 0) return limits.inputPower;
	return Math.min(...found);
}

/**
 * How a front end answers at one frequency as the level rises from rest, until something breaks or no state is found any
 * more. Yields between blocks of levels.
 */
export function* driveCurve(
	device: CircuitDevice,
	circuit: DrivenCircuit,
	frequency: number,
	rest: Complex
): Generator<number, DriveCurve, undefined> {
	const limits = limitsOf(device);
	const points: ConvergedPoint[] = [];
	let lost = 0;
	let done = 0;
	for (const point of circuit.rising(frequency, LEVELS)) {
		done++;
		if (point.converged) points.push(point);
		lost = point.converged ? 0 : lost + 1;
		if (lost === MOST_LOST || (point.converged && crossings(limits, point).length > 0)) break;
		if (done % BLOCK === 0) yield done;
	}
	const gamma = complexArray(points.length);
	points.forEach((point, i) => put(gamma, i, point.gamma));
	const gainOf = (point: ConvergedPoint): number => point.outputDbm[0] - point.incidentDbm;
	const hasGain = points.length > 0 && points[0].outputDbm.length > 0;
	// |ΔΓ| grows as a power of the level: on a logarithmic scale almost a straight line
	const moved = (point: ConvergedPoint): number =>
		Math.log(Math.max(magnitude(subtract(point.gamma, rest)), LEAST_MOVE));
	return {
		levels: Float64Array.from(points, (point) => point.incidentDbm),
		gamma,
		gainDb: hasGain ? Float64Array.from(points, gainOf) : null,
		rest,
		ceiling: levelReached(circuit, points, moved, Math.log(device.ceilingChange)),
		compression: hasGain
			? levelReached(circuit, points, (point) => gainOf(points[0]) - gainOf(point), GAIN_LOST)
			: null,
		breaking: breakingLevel(limits, points),
		followed: lost < MOST_LOST
	};
}
