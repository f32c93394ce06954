import { expect, test } from 'vitest';
import { readReferenceForm } from '#lib/circuit/reference-form.ts';
import { runAnalyses } from '#lib/circuit/results.ts';

/**
 * Every analysis of the reference circuits against the answers of an independent circuit simulator, within the tolerances
 * of the README beside the data.
 */

type Pair = readonly [number, number];
interface Point {
	readonly freq_hz: number;
	readonly dbm: number;
	readonly s11: Pair;
	readonly s21?: Pair;
	readonly zin: Pair;
	readonly gain_db?: number;
	readonly harmonics?: number;
	readonly [probe: string]: unknown;
}
interface Circuit {
	readonly id: string;
	readonly elements: unknown;
	readonly probes?: readonly { readonly name: string }[];
	readonly analyses: readonly { readonly name: string; readonly type: string }[];
	readonly results: Readonly<Record<string, unknown>>;
}

const files = import.meta.glob<Circuit>('./data/circuits/*.json', { eager: true, import: 'default' });
const circuits = Object.values(files);
const driven = circuits.filter(({ analyses }) => analyses.some(({ type }) => type === 'tran'));

/** The circuit as a user would hand it in: without the stored results. */
const solved = (circuit: Circuit, harmonics?: number): Readonly<Record<string, unknown>> =>
	runAnalyses(readReferenceForm({ ...circuit, results: undefined }), {
		harmonics,
		stability: harmonics === undefined
	});

const apart = (a: Pair, b: Pair): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

test('all circuits are there', () => {
	expect(circuits).toHaveLength(21);
});

test.each(circuits.map((circuit) => [circuit.id, circuit] as const))('%s, small signal', (_, circuit) => {
	const results = solved(circuit);
	for (const { name, type } of circuit.analyses) {
		if (type !== 'ac') continue;
		const ours = results[name] as Record<string, Pair[]>;
		const theirs = circuit.results[name] as Record<string, Pair[]>;
		expect(Object.keys(ours).sort()).toEqual(Object.keys(theirs).sort());
		for (const [key, list] of Object.entries(theirs)) {
			if (key === 'bias') continue;
			expect(ours[key]).toHaveLength(list.length);
			if (key.startsWith('s'))
				list.forEach((value, i) => {
					const where = `${circuit.id} ${name} ${key} point ${i}`;
					expect(apart(ours[key][i], value), where).toBeLessThan(1e-9);
				});
		}
		const bias = theirs.bias as unknown as Record<string, number> | undefined;
		for (const [probe, value] of Object.entries(bias ?? {})) {
			const own = (ours.bias as unknown as Record<string, number>)[probe];
			expect(Math.abs(own - value), `${circuit.id} ${name} ${probe}`).toBeLessThan(1e-9);
		}
	}
});

interface Limits {
	readonly s11: number;
	readonly s21: number;
	readonly zin: number;
	readonly gain: number;
	readonly amperes: number;
	readonly volts: number;
}

const quiet: Limits = { s11: 1e-5, s21: 2e-5, zin: 2e-5, gain: 1e-4, amperes: 1e-7, volts: 1e-6 };
const seven: Limits = { s11: 1e-3, s21: 2e-3, zin: 2e-3, gain: 0.03, amperes: 1e-5, volts: 6e-3 };
const nine: Limits = { s11: 3e-4, s21: 1.5e-3, zin: 6e-4, gain: 0.01, amperes: 5e-6, volts: 3e-3 };
/** With 24 harmonics “1.2e-5 or better at every point” in S11; the other limits as for nine. */
const twentyFour: Limits = { ...nine, s11: 1.25e-5 };

/** The column of the table for a number of harmonics. */
function limitsFor(harmonics: number): Limits {
	if (harmonics >= 24) return twentyFour;
	return harmonics >= 9 ? nine : seven;
}

function comparePoint(circuit: Circuit, name: string, ours: Point, theirs: Point): void {
	const limits = theirs.dbm <= -40 ? quiet : limitsFor(ours.harmonics!);
	const where = `${circuit.id} ${name} ${theirs.freq_hz} Hz ${theirs.dbm} dBm`;
	expect(ours.converged, where).toBe(true);
	expect([ours.freq_hz, ours.dbm]).toEqual([theirs.freq_hz, theirs.dbm]);
	expect(apart(ours.s11, theirs.s11), `${where} s11`).toBeLessThan(limits.s11);
	expect(apart(ours.zin, theirs.zin) / Math.hypot(...theirs.zin), `${where} zin`).toBeLessThan(limits.zin);
	if (theirs.s21 && theirs.gain_db !== undefined) {
		expect(apart(ours.s21!, theirs.s21), `${where} s21`).toBeLessThan(limits.s21);
		expect(Math.abs(ours.gain_db! - theirs.gain_db), `${where} gain`).toBeLessThan(limits.gain);
	}
	for (const { name: probe } of circuit.probes ?? []) {
		const limit = probe.endsWith('_a') ? limits.amperes : limits.volts;
		expect(Math.abs((ours[probe] as number) - (theirs[probe] as number)), `${where} ${probe}`).toBeLessThan(
			limit
		);
	}
}

test.each(
	driven.flatMap((circuit) =>
		[7, 9, 24, undefined].map(
			(harmonics) => [circuit.id, harmonics ?? 'as many as needed', circuit, harmonics] as const
		)
	)
)(
	'%s, driven, harmonics: %s',
	(_, __, circuit, harmonics) => {
		const results = solved(circuit, harmonics);
		for (const { name, type } of circuit.analyses) {
			if (type !== 'tran') continue;
			const theirs = circuit.results[name] as readonly Point[];
			const ours = results[name] as readonly Point[];
			expect(ours).toHaveLength(theirs.length);
			theirs.forEach((point, i) => comparePoint(circuit, name, ours[i], point));
		}
	},
	60000
);
