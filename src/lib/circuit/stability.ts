import { determinantAngle } from '#lib/numeric/dense.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import type { HarmonicSystem, Problem } from './harmonic-system.ts';
import { spectrum } from './harmonic-tables.ts';
import type { HarmonicNetwork } from './reduced-network.ts';

/** The linear part at a multiple of the fundamental, any number from 0 up. */
export type NetworkAt = (multiple: number) => Pick<HarmonicNetwork, 'impedance'>;

/** Harmonics whose neighbourhood is looked at; a growing disturbance of the drive lives at the low ones. */
const MOST_HARMONICS = 7;

/** As a multiple of the drive's frequency: `growingDisturbances` does not see what happens above. */
export const highestSeen = ({ tables }: HarmonicSystem): number =>
	Math.min(tables.harmonics, MOST_HARMONICS) + 0.5;

/** Lowest offset from the harmonics that is looked at, as a share of the fundamental, and places a decade from there. */
const LOWEST = 1e-7;
const A_DECADE = 3;
/** Places along the upper, straight part of the band of offsets. */
const EVENLY = 10;
/** Radians between two neighbouring places, and off the straight line half-way, more than which it is looked closer. */
const COARSE = 0.8;
const STRAIGHT = 0.02;
const MOST_HALVINGS = 12;
/** Places looked at in all; some hundred are usual. A circuit so nearly without loss that it takes more is not followed. */
const MOST_PLACES = 4000;

/** Mean of g·e^(−jdωt) of every device derivative for d = 0 … 2H. */
interface Conversion {
	readonly row: number;
	readonly column: number;
	readonly conductance: { readonly cosine: Reals; readonly sine: Reals };
	readonly capacitance: { readonly cosine: Reals; readonly sine: Reals };
}

function conversionsOf({ tables, laws, evaluations }: HarmonicSystem): readonly Conversion[] {
	const read = (samples: Reals): Conversion['conductance'] => {
		const out = {
			cosine: new Float64Array(tables.coefficients),
			sine: new Float64Array(tables.coefficients)
		};
		spectrum(tables, samples, out.cosine, out.sine);
		return out;
	};
	let first = 0;
	return laws.flatMap(({ ports }, d) => {
		const n = ports.length;
		const start = first;
		first += n;
		return evaluations[d].conductance.map((g, place) => ({
			row: start + Math.floor(place / n),
			column: start + (place % n),
			conductance: read(g),
			capacitance: read(evaluations[d].capacitance[place])
		}));
	});
}

/** Angle of det(1 + Z·(Y − g)) for small waves at the harmonics −H … H of the drive, `offset` Hz above it. */
function angleAt(
	system: HarmonicSystem,
	problem: Problem,
	network: NetworkAt,
	conversions: readonly Conversion[],
	offset: number
): number {
	const harmonics = Math.min(system.tables.harmonics, MOST_HARMONICS);
	const ports = system.ports.length;
	const bands = 2 * harmonics + 1;
	const size = bands * ports;
	const yr = new Float64Array(size * size);
	const yi = new Float64Array(size * size);
	for (let k = 0; k < bands; k++) {
		const omega = 2 * Math.PI * ((k - harmonics) * problem.frequency + offset);
		for (const { row, column, conductance, capacitance } of conversions)
			for (let l = 0; l < bands; l++) {
				const d = Math.abs(k - l);
				const sign = k >= l ? -1 : 1;
				const place = (k * ports + row) * size + l * ports + column;
				yr[place] = conductance.cosine[d] - omega * sign * capacitance.sine[d];
				yi[place] = sign * conductance.sine[d] + omega * capacitance.cosine[d];
				if (k === l && row === column) yr[place] -= system.ports[row].reference;
			}
	}
	const dr = new Float64Array(size * size);
	const di = new Float64Array(size * size);
	for (let k = 0; k < bands; k++) {
		const multiple = k - harmonics + offset / problem.frequency;
		const { impedance } = network(Math.abs(multiple));
		for (let p = 0; p < ports; p++)
			for (let q = 0; q < ports; q++) {
				const zr = impedance.re[p * ports + q];
				const zi = multiple < 0 ? -impedance.im[p * ports + q] : impedance.im[p * ports + q];
				const to = (k * ports + p) * size;
				const from = (k * ports + q) * size;
				for (let c = 0; c < size; c++) {
					dr[to + c] += zr * yr[from + c] - zi * yi[from + c];
					di[to + c] += zr * yi[from + c] + zi * yr[from + c];
				}
			}
	}
	for (let i = 0; i < size; i++) dr[i * size + i] += 1;
	return determinantAngle(dr, di, size);
}

/** Mean capacitance of a port by its own voltage, F; 0 for one that is negative. */
const meanCapacitance = (conversions: readonly Conversion[], port: number): number =>
	Math.max(0, conversions.find(({ row, column }) => row === port && column === port)!.capacitance.cosine[0]);

/**
 * Angle of the same determinant with nothing but the mean capacitance of every port for the devices. Such a circuit is as
 * passive as the linear part, and near it at high frequencies: taken off, the angle there comes to rest.
 */
function angleOfCapacitances(
	system: HarmonicSystem,
	problem: Problem,
	network: NetworkAt,
	conversions: readonly Conversion[],
	offset: number
): number {
	const harmonics = Math.min(system.tables.harmonics, MOST_HARMONICS);
	const ports = system.ports.length;
	const means = system.ports.map((_, p) => meanCapacitance(conversions, p));
	if (means.every((mean) => mean === 0)) return 0;
	const dr = new Float64Array(ports * ports);
	const di = new Float64Array(ports * ports);
	let angle = 0;
	for (let k = -harmonics; k <= harmonics; k++) {
		const multiple = k + offset / problem.frequency;
		const { impedance } = network(Math.abs(multiple));
		const omega = 2 * Math.PI * Math.abs(multiple) * problem.frequency;
		for (let place = 0; place < ports * ports; place++) {
			const b = omega * means[place % ports];
			dr[place] = -b * impedance.im[place];
			di[place] = b * impedance.re[place];
		}
		for (let p = 0; p < ports; p++) dr[p * ports + p] += 1;
		angle += (multiple < 0 ? -1 : 1) * determinantAngle(dr, di, ports);
	}
	return angle;
}

const wrapped = (angle: number): number => angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));

/** Offsets in Hz from near a harmonic to half-way to the next: evenly in decades, and evenly. */
function offsetsUpTo(half: number): readonly number[] {
	const lowest = 2 * half * LOWEST;
	const decades = Math.ceil(Math.log10(half / lowest) * A_DECADE);
	const rising = Array.from({ length: decades }, (_, i) => lowest * 10 ** (i / A_DECADE));
	const even = Array.from({ length: EVENLY }, (_, i) => (half * (i + 1)) / EVENLY);
	return [...rising.filter((offset) => offset < half), ...even].sort((a, b) => a - b);
}

/**
 * How many ways a small disturbance of a solved drive can grow, 0 for a state that stays. A disturbance e^(st) of a driven
 * circuit lives at s and at s ± every multiple of the drive; it is free where det(1 + Z·(Y − g)) of the conversion
 * matrices is zero (Maas, *Nonlinear Microwave and RF Circuits*, 2nd ed., 2003, section 3.4, for the matrices), and the
 * zeros with growing s are counted by Nyquist's criterion from the angle of the determinant along s = jΩ, Ω from zero to
 * half the drive's frequency. The angle is taken relative to that of the linear part with the same mean capacitances, so
 * that it closes at the highest harmonic. A resonance narrower than some hundredth of its offset from a harmonic can be
 * missed.
 *
 * Infinity where a circuit nearly without loss takes too many places to be followed.
 *
 * `system` stands evaluated at its solution; without drive the count is that of the operating point up to half of
 * `problem.frequency`. `linearModes` tells how many modes of that linear part grow (`growingLinearModes`), given the mean
 * capacitance of every port: the ratio has a pole for each, which hides a zero from the angle. None do if it is left out,
 * as in a circuit without controlled sources.
 */
export function growingDisturbances(
	system: HarmonicSystem,
	problem: Problem,
	network: NetworkAt,
	linearModes: (capacitances: readonly number[]) => number = () => 0
): number {
	if (system.ports.length === 0) return linearModes([]);
	const conversions = conversionsOf(system);
	let places = 0;
	const angle = (offset: number): number => {
		places++;
		return (
			angleAt(system, problem, network, conversions, offset) -
			angleOfCapacitances(system, problem, network, conversions, offset)
		);
	};
	const change = (from: number, a: number, to: number, b: number, depth: number): number => {
		const step = wrapped(b - a);
		if (depth === 0 || places > MOST_PLACES) return step;
		const between = (from + to) / 2;
		const middle = angle(between);
		if (Math.abs(step) < COARSE && Math.abs(wrapped(middle - a) - step / 2) < STRAIGHT) return step;
		return change(from, a, between, middle, depth - 1) + change(between, middle, to, b, depth - 1);
	};
	const offsets = offsetsUpTo(problem.frequency / 2);
	let before = 0;
	let at = angle(0);
	let turned = 0;
	for (const offset of offsets) {
		const here = angle(offset);
		turned += change(before, at, offset, here, MOST_HALVINGS);
		before = offset;
		at = here;
	}
	// what could not be followed is not known to stay
	if (places > MOST_PLACES) return Infinity;
	const capacitances = system.ports.map((_, p) => meanCapacitance(conversions, p));
	return Math.max(0, Math.round(-turned / Math.PI) + linearModes(capacitances));
}
