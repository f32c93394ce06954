import { expect, test } from 'vitest';
import type { ConvergedPoint } from '#lib/circuit/driven-point.ts';
import { equationsOf } from '#lib/circuit/equations.ts';
import { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import { crossings } from '#lib/circuit/limits.ts';
import type { Limits } from '#lib/circuit/limits.ts';
import { diode, netlist, resistor } from './circuits.ts';

/** A rectifier on a 50 Ω source: 1 kΩ to ground, so that the voltage against the diode is that of the source. */
const rectifier = equationsOf(netlist([diode('D1', 'in', 'k'), resistor('R1', 'k', 'ground', 1000)]));

function solved(dbm: number): ConvergedPoint {
	const [point] = new DrivenCircuit(rectifier).levels(1e6, [dbm]);
	if (!point.converged) throw new Error('lost');
	return point;
}

const limits: Limits = {
	inputPower: 12,
	junctions: [{ element: 'D1', port: 'junction', reverseVoltage: 1.5, current: 1e-3 }]
};

test('nothing is crossed at a low level', () => {
	expect(crossings(limits, solved(-20))).toEqual([]);
});

test('what is crossed says by how much, in the order of the limits', () => {
	const point = solved(20);
	const [power, voltage, current, ...more] = crossings(limits, point);
	expect(more).toEqual([]);
	expect(power).toMatchObject({ element: null, port: null, quantity: 'input power', limit: 12 });
	// |a|² of a 50 Ω source is what is available from it, whatever it is connected to
	expect(power.reached).toBeCloseTo(20, 9);
	expect(voltage).toMatchObject({ element: 'D1', port: 'junction', quantity: 'reverse voltage', limit: 1.5 });
	// with the diode blocking all of the source's e.m.f. of √(8·50·0.1) = 6.32 V peak stands against it
	expect(voltage.reached).toBeGreaterThan(6.1);
	expect(voltage.reached).toBeLessThan(Math.sqrt(8 * 50 * 0.1) * 1.001);
	expect(current).toMatchObject({ element: 'D1', quantity: 'current', limit: 1e-3 });
	// (6.32 V − about 0.75 V) over 1050 Ω
	expect(current.reached).toBeCloseTo(5.3e-3, 3);
});

test('a voltage in the direction of conduction is no reverse voltage', () => {
	const forward: Limits = {
		inputPower: null,
		junctions: [{ element: 'D1', port: 'junction', reverseVoltage: 0.4, current: null }]
	};
	const point = solved(20);
	const biased = {
		...point,
		junctions: [{ device: 'D1', port: 'junction', lowest: 0.5, highest: 0.8, peakCurrent: 1 }]
	};
	expect(crossings(forward, biased)).toEqual([]);
	expect(crossings(forward, point)).toHaveLength(1);
});

test('no limit is never crossed, and another device is not meant', () => {
	const point = solved(20);
	const free = { reverseVoltage: null, current: null };
	expect(crossings({ inputPower: null, junctions: [] }, point)).toEqual([]);
	expect(
		crossings({ inputPower: null, junctions: [{ element: 'D1', port: 'junction', ...free }] }, point)
	).toEqual([]);
	expect(
		crossings(
			{
				inputPower: null,
				junctions: [{ element: 'D2', port: 'junction', reverseVoltage: 1, current: 1e-6 }]
			},
			point
		)
	).toEqual([]);
});
