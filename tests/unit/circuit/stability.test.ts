import { expect, test } from 'vitest';
import { DrivenEquations } from '#lib/circuit/driven-equations.ts';
import { rise } from '#lib/circuit/drive-rise.ts';
import type { DrivenPoint } from '#lib/circuit/driven-point.ts';
import { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import { equationsOf } from '#lib/circuit/equations.ts';
import type { Element, Model, Netlist } from '#lib/circuit/netlist.ts';
import { matchedSurroundings } from '#lib/circuit/reduced-network.ts';
import { growingDisturbances } from '#lib/circuit/stability.ts';
import { capacitor, coil, diode, netlist, resistor, supply } from './circuits.ts';
import { referenceNetlist } from './references.ts';

function growing(circuit: Netlist, frequency: number, dbm: number): number {
	const equations = equationsOf(circuit);
	const driven = new DrivenEquations(equations, matchedSurroundings(equations.ports.length));
	expect(rise(driven, frequency, dbm, 7, []).converged).toBe(true);
	const problem = driven.problem(frequency, 7, dbm);
	return growingDisturbances(
		driven.system(7),
		problem,
		(multiple) => driven.network(frequency, multiple),
		(capacitances) => driven.linearModes(frequency, capacitances)
	);
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

/**
 * A resonator at 50 MHz with a negative conductance across it, made by a controlled source: it grows where that is above
 * the 20 mS of the port and the 5 mS of a resistor.
 */
const tank = (siemens: number, more: readonly Element[]): Netlist =>
	netlist([
		coil('L1', 'in', '0', 1e-7),
		capacitor('C1', 'in', '0', 1e-10),
		resistor('R1', 'in', '0', 200),
		{
			kind: 'controlled source',
			name: 'G1',
			from: 'in',
			to: '0',
			control: ['in', '0'],
			transconductance: -siemens
		},
		...more
	]);
/** Somewhere in the circuit, and of no importance to it. */
const beside = [resistor('R2', 'in', 'x', 1e5), diode('D1', 'x', '0')];

test.each([
	['with a diode somewhere', beside],
	['without any device', []]
])('a linear part that grows by itself is found, %s', (_, more) => {
	const points = (siemens: number, frequency: number): readonly DrivenPoint[] =>
		new DrivenCircuit(equationsOf(tank(siemens, more)), { stability: true }).levels(frequency, [-60, -20]);
	for (const frequency of [3e6, 40e6, 50e6, 200e6]) {
		for (const point of points(0.024, frequency)) expect(point.converged).toBe(true);
		for (const point of points(0.026, frequency))
			expect(point).toMatchObject({ converged: false, reason: 'unstable' });
	}
	expect(growing(tank(0.024, more), 40e6, -60)).toBe(0);
	expect(growing(tank(0.026, more), 40e6, -60)).toBe(2);
});

test('a linear part that only a device holds at rest is stable with it', () => {
	// 26 mS against 25 mS, and a diode at 0.25 mA, 10 mS; the linear part has 1 mS in its place, and 30 mS would be too much
	const held = (siemens: number): Netlist =>
		tank(siemens, [
			diode('D1', 'd', '0'),
			capacitor('C2', 'in', 'd', 1e-7),
			supply('V1', 'top', '0', 250.7),
			resistor('R2', 'top', 'd', 1e6)
		]);
	expect(growing(held(0.0265), 40e6, -60)).toBe(0);
	expect(growing(held(0.034), 40e6, -60)).toBe(0);
	expect(growing(held(0.036), 40e6, -60)).toBe(2);
});

test('a circuit that grows far above the drive does not pass as a driven one', () => {
	// 25 MHz against the 7.5 MHz up to which disturbances of a drive of 1 MHz are looked at
	const [point] = new DrivenCircuit(equationsOf(oscillator(500)), { stability: true }).levels(1e6, [-60]);
	expect(point).toMatchObject({ converged: false, reason: 'unstable' });
	const [heavy] = new DrivenCircuit(equationsOf(oscillator(60)), { stability: true }).levels(1e6, [-60]);
	expect(heavy.converged).toBe(true);
});

test('a single state is asked about as a whole sweep is', () => {
	const varactor = new DrivenCircuit(equationsOf(referenceNetlist('varactor_100')));
	expect(varactor.stays(98e6, 4)).toBe(false);
	expect(varactor.stays(100e6, 3)).toBe(true);
	const frequencies = [168e6, 169e6, 170e6];
	const preamp = new DrivenCircuit(equationsOf(referenceNetlist('preamp_169')));
	preamp.sweep(frequencies, -10);
	for (const frequency of frequencies) expect(preamp.stays(frequency, -10)).toBe(true);
	const loud = new DrivenCircuit(equationsOf(oscillator(500)));
	expect(loud.levels(60e6, [-60])[0].converged).toBe(true);
	expect(loud.stays(60e6, -60)).toBe(false);
});
