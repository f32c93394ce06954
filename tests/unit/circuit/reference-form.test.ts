import { expect, test } from 'vitest';
import { readReferenceForm } from '#lib/circuit/reference-form.ts';
import { Fault } from '#lib/fault.ts';

const circuit = {
	elements: [
		{ name: 'R1', kind: 'R', nodes: ['in', 'b'], value: 100 },
		{ name: 'VM', kind: 'V', nodes: ['b', '0'], value: 0 },
		{ name: 'V2', kind: 'V', nodes: ['c', '0'], value: 0 },
		{ name: 'Q1', kind: 'Q', nodes: ['c', 'b', '0'], model: 'n' }
	],
	models: { n: { IS: 1e-16, BF: 80 }, unused: { X: 1 } },
	ports: [
		{ n: 2, node: 'c' },
		{ n: 1, node: 'in' }
	],
	probes: [{ name: 'current', element: 'VM' }]
};

test('letters become words, ports are put in order, a probed zero supply is an ammeter', () => {
	const { netlist } = readReferenceForm(circuit);
	expect(netlist.ports).toEqual(['in', 'c']);
	expect(netlist.elements.map(({ kind }) => kind)).toEqual([
		'resistor',
		'ammeter',
		'supply',
		'bipolar transistor'
	]);
	expect(netlist.models).toEqual({
		n: expect.objectContaining({ kind: 'bipolar transistor', forwardGain: 80, earlyVoltage: Infinity })
	});
});

test.each<[string, object, string]>([
	['an unknown kind', { name: 'X1', kind: 'X', nodes: ['a', '0'] }, 'X1'],
	['a missing value', { name: 'R7', kind: 'R', nodes: ['a', '0'] }, 'R7'],
	['a missing node', { name: 'R7', kind: 'R', nodes: ['a'], value: 5 }, 'R7'],
	['a value in words', { name: 'C7', kind: 'C', nodes: ['a', '0'], value: '5 pF' }, 'C7']
])('%s names the element', (_, element, named) => {
	const read = (): unknown => readReferenceForm({ ...circuit, elements: [...circuit.elements, element] });
	expect(read).toThrow(Fault);
	expect(read).toThrow(named);
});

test.each([null, 5, [], {}, { elements: [] }])('%j is no circuit', (data) => {
	expect(() => readReferenceForm(data)).toThrow(Fault);
});
