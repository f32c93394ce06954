import { at, complex } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { dbFromRatio } from '#lib/numeric/decibel.ts';
import { gammaFromImpedance } from '#lib/network/impedance.ts';
import type { DrivenPoint } from './driven-point.ts';
import { equationsOf } from './equations.ts';
import type { Equations } from './equations.ts';
import { faults } from './faults.ts';
import { DrivenCircuit } from './harmonic-balance.ts';
import { withSupplies } from './netlist.ts';
import { operatingPoint } from './operating-point.ts';
import type { OperatingPoint } from './operating-point.ts';
import { checkProbeNames } from './reference-form.ts';
import type { Analysis, ReferenceCircuit } from './reference-form.ts';
import { growingModes, growthWords } from './rest-stability.ts';
import { reflectionEnded, smallSignal } from './small-signal.ts';

/** A complex number as it is written in JSON. */
export type Pair = readonly [re: number, im: number];
/** Numbers, pairs and lists of pairs by the names the reference circuits give them. */
export type Row = Readonly<Record<string, number | boolean | string | Pair>>;
export type Table = Readonly<
	Record<string, readonly number[] | readonly Pair[] | Readonly<Record<string, number>>>
>;

/** What every analysis of a circuit gave, by its name: a table over frequency, or a row for each driven point. */
export type Results = Readonly<Record<string, Table | readonly Row[]>>;

type SmallSignalAnalysis = Extract<Analysis, { type: 'ac' }>;

const pair = ({ re, im }: Complex): Pair => [re, im];
const pairs = (array: ComplexArray): readonly Pair[] => Array.from(array.re, (_, i) => pair(at(array, i)));

function gridOf({ start, stop, points }: SmallSignalAnalysis['freqs_hz']): readonly number[] {
	return Array.from({ length: points }, (_, i) =>
		i === 0 ? start : start + ((stop - start) * i) / (points - 1)
	);
}

/** Throws `circuit-oscillates` unless the circuit stays at rest with 50 Ω at port 1 and `end` at the others. */
function staysAtRest(equations: Equations, point: OperatingPoint, end: Complex, words: string): void {
	const ends = equations.ports.map((_, i) => (i === 0 ? complex(0) : end));
	const growth = growingModes(equations, { ends: () => ends, devices: point.devices });
	if (growth !== null) throw faults['circuit-oscillates']({ ends: words, growth: growthWords(growth) });
}

function smallSignalTable(equations: Equations, analysis: SmallSignalAnalysis): Table {
	const frequencies = gridOf(analysis.freqs_hz);
	const point = operatingPoint(equations);
	if (!analysis.terminations_ohm) staysAtRest(equations, point, complex(0), '50 Ω at every port');
	const table: Record<string, Table[string]> = { freqs_hz: frequencies };
	if (analysis.terminations_ohm) {
		for (const [name, ohms] of Object.entries(analysis.terminations_ohm)) {
			const end = gammaFromImpedance(complex(ohms));
			staysAtRest(equations, point, end, `50 Ω at port 1 and the others ended in “${name}” (${ohms} Ω)`);
			const ends = equations.ports.map(() => end);
			table[`s11_output_${name}`] = pairs(reflectionEnded(equations, frequencies, ends, point));
		}
	} else
		smallSignal(equations, frequencies, point).forEach((row, i) =>
			row.forEach((s, j) => (table[`s${i + 1}${j + 1}`] = pairs(s)))
		);
	if (equations.probes.length > 0)
		table.bias = Object.fromEntries(
			equations.probes.map(({ name, unknown }) => [name, unknown < 0 ? 0 : point.unknowns[unknown]])
		);
	return table;
}

function drivenRow(point: DrivenPoint): Row {
	const { frequency, dbm, harmonics, iterations, converged } = point;
	const row = { freq_hz: frequency, dbm, converged, harmonics, iterations };
	if (!point.converged) return { ...row, reason: point.reason };
	const through = point.transmission.at(0);
	const gainDb = through && dbFromRatio(Math.hypot(through.re, through.im));
	return {
		...row,
		s11: pair(point.gamma),
		zin: pair(point.impedance),
		s11_error: point.gammaError,
		...(through && gainDb !== undefined && { s21: pair(through), gain_db: gainDb, pout_dbm: dbm + gainDb }),
		...point.probes
	};
}

export interface RunOptions {
	/** A fixed number of harmonics; chosen point by point if left out. */
	readonly harmonics?: number;
	/** Looks whether the circuit stays in the state of every driven point; true if left out. */
	readonly stability?: boolean;
	/** Told after every analysis, and every frequency of a driven one, which part of its points is done (0 … 1). */
	readonly report?: (analysis: string, done: number) => void;
}

/**
 * Runs every analysis of a circuit in the reference form; the results have the shape of those stored in such a file.
 * A driven point that did not converge, or is not stable, has `converged: false` and a `reason` in place of results.
 * A small-signal analysis of a circuit that does not stay at rest throws `circuit-oscillates`. Throws also the faults of
 * `checkNetlist`, `checkProbeNames`, `operatingPoint` and `smallSignal`.
 */
export function runAnalyses(
	{ netlist, analyses }: ReferenceCircuit,
	{ harmonics, stability = true, report }: RunOptions = {}
): Results {
	checkProbeNames(netlist);
	const results: Record<string, Results[string]> = {};
	for (const analysis of analyses) {
		const equations = equationsOf(withSupplies(netlist, analysis.set));
		if (analysis.type === 'ac') results[analysis.name] = smallSignalTable(equations, analysis);
		else {
			const circuit = new DrivenCircuit(equations, { harmonics, stability });
			const jobs =
				analysis.type === 'tran'
					? analysis.freqs_hz.map((frequency) => ({ frequency, dbms: analysis.dbm }))
					: analysis.points.map(([frequency, dbm]) => ({ frequency, dbms: [dbm] }));
			results[analysis.name] = jobs.flatMap(({ frequency, dbms }, i) => {
				const points = circuit.levels(frequency, dbms).map(drivenRow);
				report?.(analysis.name, (i + 1) / jobs.length);
				return points;
			});
		}
		report?.(analysis.name, 1);
	}
	return results;
}
