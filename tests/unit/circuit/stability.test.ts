import { expect, test } from 'vitest';
import { DrivenEquations } from '#lib/circuit/driven-equations.ts';
import { rise } from '#lib/circuit/drive-rise.ts';
import { equationsOf } from '#lib/circuit/equations.ts';
import type { Element, Model, Netlist } from '#lib/circuit/netlist.ts';
import { matchedSurroundings } from '#lib/circuit/reduced-network.ts';
import { growingDisturbances } from '#lib/circuit/stability.ts';
import { capacitor, coil, netlist, resistor, supply } from './circuits.ts';
import { referenceNetlist } from './references.ts';

function growing(circuit: Netlist, frequency: number, dbm: number): number {
	const equations = equationsOf(circuit);
	const driven = new DrivenEquations(equations, matchedSurroundings(equations.ports.length));
	expect(rise(driven, frequency, dbm, 7, []).converged).toBe(true);
	const problem = driven.problem(frequency, 7, dbm);
	return growingDisturbances(driven.system(7), problem, (multiple) => driven.network(frequency, multiple));
}

const none = { capacitance: 0, potential: 0.75, grading: 0.33, bend: 0.5 };
const transistor: Model = {
	kind: 'bipolar transistor',
	saturationCurrent: 1e-15,
	forwardEmission: 1,
	reverseEmission: 1,
	forwardGain: 1e4,
	reverseGain: 1,
	earlyVoltage: Infinity,
	baseEmitter: none,
	baseCollector: none,
	forwardTransit: 0,
	reverseTransit: 0
};

/**
 * A grounded-base oscillator at 25 MHz: coil from the collector, two capacitors whose tap is the emitter. The tap holds
 * n = C1/(C1 + C2) = 0.2 of the voltage, so the transistor gives gm·n·(1 − n)·V² and the load takes V²/R; with 1 mA,
 * gm = 38 mS, it grows from about R = 165 Ω up.
 */
const oscillator = (ohms: number): Netlist => {
	const element: Element = {
		kind: 'bipolar transistor',
		name: 'Q1',
		collector: 'c',
		base: '0',
		emitter: 'e',
		model: 'n'
	};
	return netlist(
		[
			element,
			supply('V1', 'top', '0', 5),
			supply('V2', '0', 'low', 5),
			resistor('R1', 'e', 'low', 4300),
			coil('L1', 'top', 'c', 1e-6, 0.1),
			resistor('R2', 'c', '0', ohms),
			capacitor('C1', 'c', 'e', 50e-12),
			capacitor('C2', 'e', '0', 200e-12),
			resistor('R3', 'in', 'c', 1e6)
		],
		['in'],
		{ models: { n: transistor } }
	);
};

test('an oscillator grows with a light load, and not with a heavy one', () => {
	expect(growing(oscillator(500), 60e6, -60)).toBe(2);
	expect(growing(oscillator(60), 60e6, -60)).toBe(0);
});

test.each([
	['preamp_169', 169.5e6, -60],
	['preamp_169', 169.5e6, 0],
	['jfet_10', 10e6, 5],
	['detector_100', 100e6, 0],
	['varactor_100', 101.5e6, -10]
] as const)('%s at %d Hz and %d dBm stays where it is', (id, frequency, dbm) => {
	expect(growing(referenceNetlist(id), frequency, dbm)).toBe(0);
});

// the same circuit followed in time by backward differences of second order, 200 steps a period, over 6000 periods: at
// 98 MHz and 4 dBm the bias swings for ever, at 100 MHz and 3 dBm it settles at Γ = 0.413 − 0.351j
test('past a fold the varactor circuit swings slowly at 98 MHz and stays at 100 MHz', () => {
	expect(growing(referenceNetlist('varactor_100'), 98e6, 4)).toBe(2);
	expect(growing(referenceNetlist('varactor_100'), 100e6, 3)).toBe(0);
});
