import { expect, test } from 'vitest';
import { checkNetlist } from '#lib/circuit/check.ts';
import { equationsOf } from '#lib/circuit/equations.ts';
import type { Netlist } from '#lib/circuit/netlist.ts';
import { operatingPoint } from '#lib/circuit/operating-point.ts';
import { allPositions, inPositions, usualPositions } from '#lib/circuit/positions.ts';
import { smallSignal } from '#lib/circuit/small-signal.ts';
import { at, complex } from '#lib/numeric/complex.ts';
import { impedanceFromGamma } from '#lib/network/impedance.ts';
import { capacitor, netlist, resistor, supply } from './circuits.ts';

/** A load behind a changeover contact, a supply that can be off; 30 Ω in `low`, 200 Ω in `high`. */
const circuit: Netlist = netlist(
	[
		{
			kind: 'relay',
			name: 'K1',
			from: 'in',
			to: 'a',
			switch: 'path',
			closedIn: ['low'],
			contactResistance: 0.5,
			openCapacitance: 1e-12
		},
		{
			kind: 'relay',
			name: 'K2',
			from: 'in',
			to: 'b',
			switch: 'path',
			closedIn: ['high', 'higher'],
			contactResistance: 0.5,
			openCapacitance: 0
		},
		resistor('R1', 'a', 'ground', 29.5),
		resistor('R2', 'b', 'ground', 199.5),
		{ ...supply('V1', 'v', 'ground', 6), switch: 'power', onIn: ['on'] } as Netlist['elements'][number],
		resistor('R3', 'v', 'b', 1e9)
	],
	['in'],
	{
		probes: [{ name: 'supply', kind: 'voltage', node: 'v' }],
		switches: [
			{ name: 'path', positions: ['low', 'high', 'higher'] },
			{ name: 'power', positions: ['on', 'off'] }
		]
	}
);

const frequency = 100e6;
const presented = (given: Netlist) =>
	impedanceFromGamma(at(smallSignal(equationsOf(given), [frequency])[0][0], 0));

test('the usual position is the first of every switch, and stands first among all of them', () => {
	expect(usualPositions(circuit)).toEqual({ path: 'low', power: 'on' });
	expect(allPositions(circuit)).toHaveLength(6);
	expect(allPositions(circuit)[0]).toEqual(usualPositions(circuit));
	expect(allPositions(netlist([]))).toEqual([{}]);
});

test('a closed contact is its resistance and an open one its capacitance', () => {
	// series and parallel circuits by Ohm's law
	expect(presented(inPositions(circuit)).re).toBeCloseTo(30, 9);
	expect(presented(inPositions(circuit)).im).toBeCloseTo(0, 9);
	const open = complex(29.5, -1 / (2 * Math.PI * frequency * 1e-12));
	const load = 1 / (1 / 199.5 + 1e-9) + 0.5;
	const sum = { re: load + open.re, im: open.im };
	const product = { re: load * open.re, im: load * open.im };
	const size = sum.re ** 2 + sum.im ** 2;
	const both = complex(
		(product.re * sum.re + product.im * sum.im) / size,
		(product.im * sum.re - product.re * sum.im) / size
	);
	const found = presented(inPositions(circuit, { path: 'high' }));
	expect(found.re).toBeCloseTo(both.re, 6);
	expect(found.im).toBeCloseTo(both.im, 6);
	expect(presented(inPositions(circuit, { path: 'higher' }))).toEqual(found);
});

test('a switched supply has its voltage or none', () => {
	const voltage = (given: Netlist): number => {
		const equations = equationsOf(given);
		return operatingPoint(equations).unknowns[equations.probes[0].unknown];
	};
	expect(voltage(inPositions(circuit))).toBe(6);
	expect(voltage(inPositions(circuit, { power: 'off' }))).toBe(0);
});

test('equations of a circuit with switches are those of its usual positions', () => {
	expect(equationsOf(circuit).netlist).toEqual(inPositions(circuit));
});

test('what comes out has neither switches nor relays, and a circuit without them comes out as it is', () => {
	for (const positions of allPositions(circuit)) {
		const set = inPositions(circuit, positions);
		expect(set.switches).toBeUndefined();
		expect(JSON.stringify(set)).not.toContain('switch');
		expect(inPositions(set)).toBe(set);
		expect(() => checkNetlist(set)).not.toThrow();
	}
});

test.each([
	[{ paths: 'low' }, 'circuit-switch-unknown', '(path, power)'],
	[{ path: 'off' }, 'circuit-position-unknown', '(low, high, higher)']
])('%j is refused, naming what is allowed', (positions, code, known) => {
	expect(() => inPositions(circuit, positions)).toThrow(
		expect.objectContaining({ code, message: expect.stringContaining(known) as string }) as Error
	);
	expect(() => inPositions(netlist([resistor('R', 'in', 'ground', 50)]), positions)).toThrow('it has none');
});

test('a circuit that cannot be solved in one position says in which', () => {
	const floating = {
		...circuit,
		elements: [...circuit.elements.filter(({ name }) => name !== 'R1'), capacitor('C1', 'a', 'ground', 1e-12)]
	};
	expect(() => checkNetlist(floating)).toThrow(
		'With “path” in “high” and “power” in “on”: No direct current'
	);
	// in every position alike: then it is not a matter of the position
	const always = { ...circuit, elements: [...circuit.elements, capacitor('C2', 'c', 'ground', 1e-12)] };
	expect(() => checkNetlist(always)).toThrow('node c: No direct current');
});
