import { equationsOf } from '#lib/circuit/equations.ts';
import { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import type { Netlist } from '#lib/circuit/netlist.ts';
import { dbmFromWatts, wattsFromDbm } from '#lib/numeric/decibel.ts';
import { interpolateTable } from '#lib/numeric/interpolation.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { detectorCircuit } from './detector-circuit.ts';

/**
 * A diode detector: one direct voltage for all that arrives. It cannot see phase, nor at which frequency the power is. At
 * low level its voltage is proportional to the power (square law), at high level to the amplitude: that of
 * `detectorCircuit` at 169.5 MHz leaves the square law by 0.1 dB at −25 dBm and by 1 dB at −14 dBm.
 *
 * The law is that of one tone. At low level the powers of several tones add, whatever their phases. At high level the
 * voltage depends on how their peaks fall together; that is left out, and they count as one tone of their total power.
 */
export interface DetectorLaw {
	/** Levels of the 50 Ω source that drives the detector, strictly rising, dBm. */
	readonly levels: Reals;
	/** ln of the detected volts per available watt at each. */
	readonly responsivities: Reals;
}

const LOWEST = -50;
const HIGHEST = 20;
const STEP = 2;
const LEVELS = Array.from({ length: (HIGHEST - LOWEST) / STEP + 1 }, (_, k) => LOWEST + STEP * k);

/**
 * The law of a detector `circuit` at `frequency` Hz, by harmonic balance at every level of the table. The voltage is that of
 * its first probe. The table ends before the first level that has no steady state or no higher voltage than the one
 * before; if that is the lowest, −50 dBm, every voltage is NaN. Throws the faults of `checkNetlist`, `DrivenCircuit`.
 */
export function detectorLaw(frequency: number, circuit: Netlist = detectorCircuit): DetectorLaw {
	const probe = circuit.probes[0].name;
	const levels: number[] = [];
	const responsivities: number[] = [];
	let before = 0;
	for (const point of new DrivenCircuit(equationsOf(circuit)).rising(frequency, LEVELS)) {
		const volts = point.converged ? point.probes[probe] : 0;
		if (!(volts > before)) break;
		levels.push(point.dbm);
		responsivities.push(Math.log(volts / wattsFromDbm(point.dbm)));
		before = volts;
	}
	return { levels: Float64Array.from(levels), responsivities: Float64Array.from(responsivities) };
}

/** dB in a factor of e of a power. */
const NEPER = 10 / Math.LN10;

const place = new Float64Array(1);
const found = [new Float64Array(1)];

/** ln of volts per watt: constant below the table; above it the voltage goes on as the amplitude. */
function responsivityAt(law: DetectorLaw, dbm: number): number {
	if (law.levels.length === 0) return NaN;
	place[0] = dbm;
	interpolateTable(law.levels, law.responsivities, 1, place, found);
	return found[0][0] - Math.max(0, dbm - law.levels[law.levels.length - 1]) / (2 * NEPER);
}

/** The direct voltage at a level of `dbm`; −Infinity gives 0. */
export const detectedVolts = (law: DetectorLaw, dbm: number): number =>
	dbm === -Infinity ? 0 : wattsFromDbm(dbm) * Math.exp(responsivityAt(law, dbm));

/** What a meter makes of a detected voltage: a level in dBm. Noise may make a voltage 0 or negative: −Infinity. */
export type Meter = (law: DetectorLaw, volts: number) => number;

/** A meter that takes the detector for a square-law one at every level. */
export const squareLawLevel: Meter = (law, volts) =>
	dbmFromWatts(Math.max(0, volts) / Math.exp(responsivityAt(law, -Infinity)));

/** ln of the detected voltage at row k of the table. */
const knot = (law: DetectorLaw, k: number): number =>
	Math.log(wattsFromDbm(law.levels[k])) + law.responsivities[k];

/** Steps that leave less than rounding does of the narrow, almost straight pieces of the table. */
const CHORDS = 12;

/** A meter that knows the law: the inverse of `detectedVolts`. */
export const trueLevel: Meter = (law, volts) => {
	if (!(volts > 0)) return volts <= 0 ? -Infinity : NaN;
	const { levels } = law;
	const wanted = Math.log(volts);
	let [low, high] = [0, levels.length - 1];
	if (!(wanted > knot(law, low))) return squareLawLevel(law, volts);
	if (wanted >= knot(law, high)) return levels[high] + 2 * NEPER * (wanted - knot(law, high));
	while (high - low > 1) {
		const middle = (low + high) >> 1;
		if (knot(law, middle) <= wanted) low = middle;
		else high = middle;
	}
	// the rule of false position in ln volts over dBm
	let [from, to, below, above] = [levels[low], levels[high], knot(law, low), knot(law, high)];
	let dbm = from;
	for (let k = 0; k < CHORDS; k++) {
		dbm = from + ((to - from) * (wanted - below)) / (above - below);
		const reached = Math.log(wattsFromDbm(dbm)) + responsivityAt(law, dbm);
		if (reached === wanted) break;
		if (reached < wanted) [from, below] = [dbm, reached];
		else [to, above] = [dbm, reached];
	}
	return dbm;
};

/** What a square-law meter shows less the true level `dbm`, dB. Far below the table it is 0. */
export const squareLawErrorDb = (law: DetectorLaw, dbm: number): number =>
	squareLawLevel(law, detectedVolts(law, dbm)) - dbm;

/** dB to which an end of the square-law range is found. */
const FINE = 1e-6;

/**
 * The level in dBm up to which a square-law meter is nowhere wrong by more than `db` (> 0): the end of the square-law range.
 * Infinity if the table does not reach so far.
 */
export function squareLawEnd(law: DetectorLaw, db: number): number {
	const beyond = (dbm: number): boolean => Math.abs(squareLawErrorDb(law, dbm)) > db;
	const first = law.levels.findIndex(beyond);
	if (first < 1) return Infinity;
	let [from, to] = [law.levels[first - 1], law.levels[first]];
	while (to - from > FINE) {
		const middle = (from + to) / 2;
		if (beyond(middle)) to = middle;
		else from = middle;
	}
	return from;
}

/** Detected voltages of powers in W at the detector, written to `out`, which may be `watts`. */
export function detect(law: DetectorLaw, watts: Reals, out: Reals = new Float64Array(watts.length)): Reals {
	for (let i = 0; i < watts.length; i++) out[i] = detectedVolts(law, dbmFromWatts(watts[i]));
	return out;
}

/** The levels in dBm that a meter shows for detected voltages, written to `out`, which may be `volts`. */
export function metered(
	law: DetectorLaw,
	meter: Meter,
	volts: Reals,
	out: Reals = new Float64Array(volts.length)
): Reals {
	for (let i = 0; i < volts.length; i++) out[i] = meter(law, volts[i]);
	return out;
}
