import { expect, test } from 'vitest';
import { equationsOf } from '#lib/circuit/equations.ts';
import type { Element, Model, Netlist } from '#lib/circuit/netlist.ts';
import { operatingPoint } from '#lib/circuit/operating-point.ts';
import { THERMAL_VOLTAGE } from '#lib/circuit/laws.ts';
import { complex } from '#lib/numeric/complex.ts';
import { coil, diode, netlist, resistor, supply } from './circuits.ts';

/** Direct voltage of a node with every port open. */
function voltageOf(circuit: Netlist, node: string): number {
	const equations = equationsOf(circuit);
	const open = equations.ports.map(() => complex(1));
	return operatingPoint(equations, open).unknowns[equations.node(node)];
}

test('a divider and a coil', () => {
	const circuit = netlist([
		supply('V1', 'top', '0', 9),
		resistor('R1', 'top', 'in', 2000),
		coil('L1', 'in', 'low', 1e-6, 5),
		resistor('R2', 'low', '0', 995)
	]);
	expect(voltageOf(circuit, 'in')).toBeCloseTo(3, 12);
	expect(voltageOf(circuit, 'low')).toBeCloseTo(3 * 0.995, 12);
});

test('a diode behind a resistor balances: supply = i·R + n·Vt·ln(1 + i/IS)', () => {
	for (const [volts, ohms] of [
		[0.3, 1e3],
		[5, 1e3],
		[100, 1],
		[-20, 1e3]
	]) {
		const circuit = netlist([
			supply('V1', 'top', '0', volts),
			resistor('R1', 'top', 'in', ohms),
			diode('D1', 'in', '0')
		]);
		const v = voltageOf(circuit, 'in');
		const i = (volts - v) / ohms;
		const law = 1e-15 * Math.expm1(v / THERMAL_VOLTAGE) + 1e-15 * v;
		expect(Math.abs(i - law)).toBeLessThan(1e-9 * Math.abs(i) + 1e-15);
	}
});

test('forty diodes in a row, and two of them against each other', () => {
	const row: Element[] = Array.from({ length: 40 }, (_, k) =>
		diode(`D${k}`, k === 0 ? 'in' : `n${k}`, k === 39 ? '0' : `n${k + 1}`)
	);
	const circuit = netlist([supply('V1', 'top', '0', 60), resistor('R1', 'top', 'in', 1e3), ...row]);
	const v = voltageOf(circuit, 'in');
	expect(voltageOf(circuit, 'n39')).toBeCloseTo(v / 40, 9);
	const against = netlist([
		supply('V1', 'top', '0', 60),
		resistor('R1', 'top', 'in', 1e3),
		diode('D1', 'in', 'm'),
		diode('D2', '0', 'm')
	]);
	expect(voltageOf(against, 'in')).toBeCloseTo(60, 6);
});

test('a bistable pair of transistors settles in one of its states', () => {
	const model: Model = {
		kind: 'bipolar transistor',
		saturationCurrent: 1e-15,
		forwardEmission: 1,
		reverseEmission: 1,
		forwardGain: 100,
		reverseGain: 1,
		earlyVoltage: Infinity,
		baseEmitter: { capacitance: 0, potential: 0.75, grading: 0.33, bend: 0.5 },
		baseCollector: { capacitance: 0, potential: 0.75, grading: 0.33, bend: 0.5 },
		forwardTransit: 0,
		reverseTransit: 0
	};
	const transistor = (name: string, collector: string, base: string): Element => ({
		kind: 'bipolar transistor',
		name,
		collector,
		base,
		emitter: '0',
		model: 'n'
	});
	const circuit = netlist(
		[
			supply('V1', 'top', '0', 5),
			resistor('R1', 'top', 'a', 1000),
			resistor('R2', 'top', 'b', 1001),
			resistor('R3', 'a', 'x', 10000),
			resistor('R4', 'b', 'y', 10000),
			transistor('Q1', 'a', 'y'),
			transistor('Q2', 'b', 'x'),
			resistor('R5', 'in', 'a', 1e6)
		],
		['in'],
		{ models: { n: model } }
	);
	const [a, b] = [voltageOf(circuit, 'a'), voltageOf(circuit, 'b')];
	expect(Number.isFinite(a + b)).toBe(true);
	// current into node a: from the supply, to the base of Q2 and into Q1
	expect(a).toBeGreaterThan(0);
	expect(a).toBeLessThan(5);
});
