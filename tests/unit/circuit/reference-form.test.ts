import { expect, test } from 'vitest';
import { readReferenceForm, RESULT_NAMES } from '#lib/circuit/reference-form.ts';
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

const messageOf = (data: object): string => {
	try {
		readReferenceForm({ ...circuit, ...data });
	} catch (fault) {
		if (fault instanceof Fault) return fault.message;
	}
	return '';
};
const withElement = (element: unknown): object => ({ elements: [...circuit.elements, element] });
const analysis = (data: object): object => ({ analyses: [{ name: 'drive', type: 'tran', ...data }] });

test.each<[object, string]>([
	[
		withElement({ name: 'R7', kind: 'R', nodes: ['a', '0'], value: '5 pF' }),
		'circuit, R7, value: Found "5 pF". Give a number in SI units, such as 4.7e-12.'
	],
	[
		withElement({ name: 'R7', kind: 'R', nodes: ['a', '0'] }),
		'circuit, R7, value: Found nothing. Give a number in SI units, such as 4.7e-12.'
	],
	[
		withElement({ name: 'X1', kind: 'X', nodes: ['a', '0'] }),
		'circuit, X1, kind: Found "X". Give an element with its kind: R, L, C, V, G, T, TL, D, Q or J.'
	],
	[
		withElement(5),
		'circuit, elements, item 5: Found 5. Give an element with its kind: R, L, C, V, G, T, TL, D, Q or J.'
	],
	[
		withElement({ name: 'Q7', kind: 'Q', nodes: ['a', '0'], model: 'n' }),
		'circuit, Q7, nodes: Found ["a","0"]. Give a list of the three nodes: collector, base, emitter.'
	],
	[
		withElement({ name: 'R7', kind: 'R', nodes: ['a', null], value: 5 }),
		'circuit, R7, nodes, item 2: Found null. Give the name of a node.'
	],
	[
		withElement({ name: '', kind: 'R', nodes: ['a', '0'], value: 5 }),
		'circuit, elements, item 5, name: Found "". Give a name.'
	],
	[{ elements: [] }, 'circuit, elements: Found []. Give at least one element.'],
	[{ elements: 'R1' }, 'circuit, elements: Found "R1". Give a list of elements.'],
	[{ ports: undefined }, 'circuit, ports: Found nothing. Give a list of ports.'],
	[
		{ ports: [{ n: 0, node: 'in' }] },
		'circuit, ports, item 1, n: Found 0. Give the number of the port: 1, 2, ….'
	],
	[
		{ models: { n: { IS: 'small' } } },
		'circuit, models, n, IS: Found "small". Give a number in SI units, such as 4.7e-12.'
	],
	[{ models: { n: 5 } }, 'circuit, models, n: Found 5. Give the parameters of the model, each by its name.'],
	[
		{ probes: [{ name: 'p' }] },
		'circuit, p: Found {"name":"p"}. Give a probe with its name, and the element or the node it reads.'
	],
	[analysis({ dbm: [0] }), 'circuit, drive, freqs_hz: Found nothing. Give a list of frequencies in Hz.'],
	[
		analysis({ freqs_hz: [-1], dbm: [0] }),
		'circuit, drive, freqs_hz, item 1: Found -1. Give a frequency in Hz, above zero.'
	],
	[analysis({ freqs_hz: [1], dbm: [] }), 'circuit, drive, dbm: Found []. Give at least one level in dBm.'],
	[
		analysis({ type: 'dc' }),
		'circuit, drive, type: Found "dc". Give an analysis with its type: ac, tran or study.'
	]
])('a file that is not in the form is told where, what and how: %j', (data, message) => {
	expect(messageOf(data)).toBe(message);
});

test('what is no circuit at all is told so', () => {
	expect(() => readReferenceForm(5)).toThrow(
		'circuit, the file: Found 5. Give a circuit: elements, models, ports, probes and analyses.'
	);
});

test.each(RESULT_NAMES)('a probe cannot be called %s, as a result is', (name) => {
	expect(messageOf({ probes: [{ name, element: 'VM' }] })).toBe(
		`circuit, probe ${name}: Results have an entry of this name already. Give the probe another name, such as “${name} probe”.`
	);
});

test('two probes cannot have one name', () => {
	const probe = { name: 'current', element: 'VM' };
	expect(messageOf({ probes: [probe, probe] })).toContain('Two probes have this name');
});
