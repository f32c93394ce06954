import { expect, test } from 'vitest';
import { bipolarLaw } from '#lib/circuit/bipolar.ts';
import { diodeLaw } from '#lib/circuit/diode.ts';
import { fieldEffectLaw } from '#lib/circuit/field-effect.ts';
import { evaluation, THERMAL_VOLTAGE } from '#lib/circuit/laws.ts';
import type { Law } from '#lib/circuit/laws.ts';
import type { Depletion } from '#lib/circuit/netlist.ts';

const depletion = (capacitance: number, potential: number, grading: number): Depletion => ({
	capacitance,
	potential,
	grading,
	bend: 0.5
});

const diode = diodeLaw({
	kind: 'diode',
	saturationCurrent: 3e-6,
	emissionCoefficient: 1.06,
	depletion: depletion(1.8e-13, 0.35, 0.5)
});
const varactor = diodeLaw({
	kind: 'diode',
	saturationCurrent: 1e-14,
	emissionCoefficient: 1.1,
	depletion: depletion(1.4e-11, 0.7, 0.47)
});
const bipolar = bipolarLaw({
	kind: 'bipolar transistor',
	saturationCurrent: 2e-16,
	forwardEmission: 1,
	reverseEmission: 1.05,
	forwardGain: 110,
	reverseGain: 5,
	earlyVoltage: 45,
	baseEmitter: depletion(1.1e-12, 0.75, 0.33),
	baseCollector: depletion(3.8e-13, 0.65, 0.33),
	forwardTransit: 2e-11,
	reverseTransit: 3e-9
});
const fieldEffect = fieldEffectLaw({
	kind: 'junction field-effect transistor',
	threshold: -2.1,
	transconductance: 0.0019,
	channelModulation: 0.012,
	saturationCurrent: 3e-15,
	gateSource: depletion(4.2e-12, 0.9, 0.5),
	gateDrain: depletion(1.6e-12, 0.9, 0.5)
});

interface Values {
	readonly current: readonly number[];
	readonly charge: readonly number[];
	readonly conductance: readonly number[];
	readonly capacitance: readonly number[];
}

function valuesAt(law: Law, voltages: readonly number[]): Values {
	const out = evaluation(law.ports.length, 1);
	law.evaluate(
		1,
		voltages.map((v) => new Float64Array([v])),
		out
	);
	const first = (blocks: readonly Float64Array[]): number[] => blocks.map((block) => block[0]);
	return {
		current: first(out.current),
		charge: first(out.charge),
		conductance: first(out.conductance),
		capacitance: first(out.capacitance)
	};
}

/** Every voltage of one port with every voltage of the other: reverse, at the bend, forward, in the straight tail. */
const grid = (ports: number, places: readonly number[]): readonly (readonly number[])[] =>
	ports === 1 ? places.map((v) => [v]) : places.flatMap((a) => places.map((b) => [a, b]));

test.each<[string, Law, readonly number[]]>([
	['diode', diode, [-5, -0.3, 0.01, 0.174, 0.176, 0.4, 0.6, 2]],
	['varactor', varactor, [-8, -0.5, 0.2, 0.349, 0.351, 0.8, 3]],
	['bipolar transistor', bipolar, [-4, -0.2, 0.3, 0.374, 0.376, 0.71, 0.8, 1.5]],
	['field-effect transistor', fieldEffect, [-6, -2.05, -1.3, -0.4, 0.2, 0.449, 0.451, 0.74]]
])('every derivative of the %s is the slope of its current or charge', (_, law, places) => {
	const n = law.ports.length;
	for (const voltages of grid(n, places)) {
		const { conductance, capacitance } = valuesAt(law, voltages);
		for (let q = 0; q < n; q++) {
			const step = 1e-6;
			const moved = (by: number): Values =>
				valuesAt(
					law,
					voltages.map((v, i) => (i === q ? v + by : v))
				);
			const [up, down] = [moved(step), moved(-step)];
			for (let p = 0; p < n; p++) {
				const slope = (up.current[p] - down.current[p]) / (2 * step);
				const rate = (up.charge[p] - down.charge[p]) / (2 * step);
				// rounding of the difference, and the third derivative of an exponential
				const roundingOf = (value: number): number => (Math.abs(value) * 1e-15) / step;
				const place = p * n + q;
				const margin = 1e-7 * Math.abs(conductance[place]) + roundingOf(up.current[p]) + 1e-12;
				expect(Math.abs(slope - conductance[place])).toBeLessThan(margin);
				const chargeMargin = 1e-7 * Math.abs(capacitance[place]) + roundingOf(up.charge[p]) + 1e-19;
				expect(Math.abs(rate - capacitance[place])).toBeLessThan(chargeMargin);
			}
		}
	}
});

test('thermal voltage at 27 °C (k and q of the 2014 CODATA adjustment)', () => {
	expect(THERMAL_VOLTAGE).toBeCloseTo(0.025864917, 9);
});

test('a forward bipolar transistor by hand: collector current, gain, Early effect', () => {
	const { current, conductance } = valuesAt(bipolar, [0.75, -3]);
	const forward = 2e-16 * Math.expm1(0.75 / THERMAL_VOLTAGE);
	const collector = (forward + 2e-16) * (1 + 3 / 45) + 2e-16 / 5;
	expect(-current[1] / collector).toBeCloseTo(1, 9);
	expect((current[0] + current[1]) / (forward / 110)).toBeCloseTo(1, 6);
	expect(-conductance[2] / (collector / THERMAL_VOLTAGE)).toBeCloseTo(1, 6);
});

test('a field-effect transistor with drain and source exchanged carries the opposite current', () => {
	for (const [gs, gd] of [
		[-0.5, -3],
		[-0.5, -0.9],
		[-2.5, -4]
	]) {
		const straight = valuesAt(fieldEffect, [gs, gd]);
		const turned = valuesAt(fieldEffect, [gd, gs]);
		const junctions = 2 * 3e-15;
		expect(Math.abs(straight.current[0] - turned.current[1])).toBeLessThan(junctions);
		expect(Math.abs(straight.current[1] - turned.current[0])).toBeLessThan(junctions);
	}
	// saturated by hand: β·u²·(1 + λ·vds) with u = 1.6 V, vds = 2.5 V
	expect(valuesAt(fieldEffect, [-0.5, -3]).current[0]).toBeCloseTo(0.0019 * 1.6 ** 2 * (1 + 0.012 * 2.5), 12);
});

test('capacitance at no bias is the one of the model, and grows as a straight line above the bend', () => {
	expect(valuesAt(varactor, [0]).capacitance[0]).toBeCloseTo(1.4e-11, 20);
	const at = (v: number): number => valuesAt(varactor, [v]).capacitance[0];
	expect(at(0.6) - 2 * at(0.5) + at(0.4)).toBeCloseTo(0, 22);
	expect(at(0.35)).toBeCloseTo(1.4e-11 * 0.5 ** -0.47, 20);
});

test('the straight tail keeps absurd voltages finite', () => {
	for (const law of [diode, varactor, bipolar, fieldEffect])
		for (const voltages of grid(law.ports.length, [-1e3, 1e3, 1e6])) {
			const { current, conductance } = valuesAt(law, voltages);
			for (const value of [...current, ...conductance]) expect(Number.isFinite(value)).toBe(true);
		}
});
