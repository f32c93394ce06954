import { expect, test } from 'vitest';
import { equationsOf } from '#lib/circuit/equations.ts';
import { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import type { Netlist } from '#lib/circuit/netlist.ts';
import { detectorCircuit } from '#lib/reflectometer/detector-circuit.ts';
import {
	detect,
	detectedVolts,
	detectorLaw,
	metered,
	squareLawEnd,
	squareLawErrorDb,
	squareLawLevel,
	trueLevel
} from '#lib/reflectometer/diode-detector.ts';

const law = detectorLaw(169.5e6);

test('between the levels of the table the law is that of the circuit to a thousandth of a dB', () => {
	const circuit = new DrivenCircuit(equationsOf(detectorCircuit));
	for (const point of circuit.levels(169.5e6, [-70, -57, -49, -41, -33, -21, -15, -11, -5, 1, 7, 13, 19])) {
		if (!point.converged) throw new Error(`no solution at ${point.dbm} dBm`);
		const shown = trueLevel(law, point.probes['detected voltage']);
		expect(Math.abs(shown - point.dbm), `${point.dbm} dBm`).toBeLessThan(1e-3);
	}
});

test('a level turned into a voltage and back is the same level', () => {
	for (let dbm = -120; dbm < 40; dbm += 0.37)
		expect(trueLevel(law, detectedVolts(law, dbm))).toBeCloseTo(dbm, 9);
});

test('the voltage rises with the level everywhere, beyond the table too', () => {
	for (let dbm = -90; dbm < 40; dbm += 0.1)
		expect(detectedVolts(law, dbm + 0.1), `${dbm} dBm`).toBeGreaterThan(detectedVolts(law, dbm));
});

test('the detector ends a line in nearly 50 Ω at every level', () => {
	const circuit = new DrivenCircuit(equationsOf(detectorCircuit));
	for (const frequency of [50e6, 169.5e6, 500e6])
		for (const point of circuit.levels(frequency, [-50, -20, 0, 15]))
			expect(point.converged && Math.hypot(point.gamma.re, point.gamma.im)).toBeLessThan(0.07);
});

test('a square-law meter is right at low level and shows ever less than the truth at high level', () => {
	let before = Infinity;
	for (let dbm = -44; dbm < 30; dbm += 2) {
		const error = squareLawErrorDb(law, dbm);
		expect(error).toBeLessThan(before);
		before = error;
	}
	expect(Math.abs(squareLawErrorDb(law, -60))).toBeLessThan(1e-9);
	expect(Math.abs(squareLawErrorDb(law, -44))).toBeLessThan(0.002);
});

test('the end of the square-law range is where the error reaches what is allowed', () => {
	for (const db of [0.05, 0.1, 1]) expect(squareLawErrorDb(law, squareLawEnd(law, db))).toBeCloseTo(-db, 4);
	expect(squareLawEnd(law, 100)).toBe(Infinity);
	expect(squareLawEnd(law, 0.1)).toBeCloseTo(-25, 0);
	expect(squareLawEnd(law, 1)).toBeCloseTo(-14, 0);
});

test('no power gives no voltage; no voltage, or a negative one, no level', () => {
	expect(detectedVolts(law, -Infinity)).toBe(0);
	for (const meter of [trueLevel, squareLawLevel]) {
		expect(meter(law, 0)).toBe(-Infinity);
		expect(meter(law, -1e-6)).toBe(-Infinity);
		expect(meter(law, NaN)).toBeNaN();
	}
});

test('whole sweeps, in place too', () => {
	const watts = Float64Array.of(0, 1e-9, 1e-5, 1e-3, 1e-2);
	const volts = detect(law, watts);
	const levels = [-Infinity, -60, -20, 0, 10];
	Array.from(metered(law, trueLevel, volts)).forEach((shown, i) =>
		expect(shown === levels[i] || Math.abs(shown - levels[i]) < 1e-9).toBe(true)
	);
	detect(law, watts, watts);
	expect(watts).toEqual(volts);
	expect(metered(law, squareLawLevel, watts, watts)[1]).toBeCloseTo(-60, 9);
});

test('the table ends where the circuit gives no more voltage; a circuit without any has a law of NaN', () => {
	const [, , , diode] = detectorCircuit.elements;
	const reversed: Netlist = {
		...detectorCircuit,
		elements: detectorCircuit.elements.map((element) =>
			element === diode ? { ...diode, anode: 'k', cathode: 'b' } : element
		) as Netlist['elements']
	};
	const none = detectorLaw(169.5e6, reversed);
	expect(none.levels).toHaveLength(0);
	expect(detectedVolts(none, -20)).toBeNaN();
	expect(trueLevel(none, 1e-3)).toBeNaN();
});
