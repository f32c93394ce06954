import { expect, test } from 'vitest';
import { checkNetlist } from '#lib/circuit/check.ts';
import type { Element, Netlist } from '#lib/circuit/netlist.ts';
import { capacitor, coil, diode, junction, netlist, resistor, supply } from './circuits.ts';
import { faultOf } from '../../fault-of.ts';

const sound = [resistor('R1', 'in', 'a', 100), capacitor('C1', 'a', '0', 1e-12), diode('D1', 'a', 'ground')];

const withElements = (...more: readonly Element[]): Netlist => netlist([...sound, ...more]);

test('a sound circuit passes', () => {
	expect(() => checkNetlist(netlist(sound))).not.toThrow();
	expect(() =>
		checkNetlist(withElements(supply('V1', 'a', '0', 1), coil('L1', 'a', 'in', 1e-9)))
	).not.toThrow();
});

test.each<[string, string, Netlist, string]>([
	['a negative value', 'circuit-value', withElements(resistor('R9', 'a', '0', -5)), 'R9'],
	['a value that is no number', 'circuit-value', withElements(capacitor('C9', 'a', '0', NaN)), 'C9'],
	['a negative loss', 'circuit-value', withElements(coil('L9', 'a', '0', 1e-9, -1)), 'L9'],
	['a name used twice', 'circuit-name-twice', withElements(resistor('R1', 'a', '0', 5)), 'R1'],
	['an unknown model', 'circuit-model-unknown', netlist(sound, ['in'], { models: {} }), 'D1'],
	[
		'a model of another kind',
		'circuit-model-kind',
		withElements({
			kind: 'bipolar transistor',
			name: 'Q1',
			collector: 'a',
			base: 'in',
			emitter: '0',
			model: 'junction'
		}),
		'Q1'
	],
	[
		'a negative model value',
		'circuit-value',
		netlist(sound, ['in'], {
			models: { junction: { ...junction, saturationCurrent: -1 } as typeof junction }
		}),
		'junction'
	],
	[
		'a node behind a capacitor only',
		'circuit-node-floating',
		withElements(capacitor('C9', 'a', 'x', 1e-12)),
		'C9'
	],
	[
		'an island',
		'circuit-node-floating',
		withElements(resistor('R8', 'x', 'y', 1), capacitor('C9', 'a', 'x', 1e-12)),
		'R8'
	],
	['a supply across itself', 'circuit-supply-short', withElements(supply('V9', 'a', 'a', 5)), 'V9'],
	[
		'a coil without loss across a supply',
		'circuit-supply-short',
		withElements(supply('V9', 'a', '0', 5), coil('L9', 'a', '0', 1e-9)),
		'L9'
	],
	[
		'two supplies across each other',
		'circuit-source-loop',
		withElements(supply('V8', 'a', '0', 5), supply('V9', 'a', 'ground', 4)),
		'V9'
	],
	[
		'two coils without loss in parallel',
		'circuit-source-loop',
		withElements(coil('L8', 'a', '0', 1e-9), coil('L9', 'a', '0', 1e-9)),
		'L9'
	],
	['a port at ground', 'circuit-ports', netlist(sound, ['ground']), 'Port 1'],
	['two ports at one node', 'circuit-ports', netlist(sound, ['in', 'in']), 'Ports 1 and 2'],
	['no port', 'circuit-ports', netlist(sound, []), 'no port'],
	['a port that leads nowhere', 'circuit-node-unknown', netlist(sound, ['x']), 'x'],
	[
		'a probe of a resistor',
		'circuit-probe-element',
		netlist(sound, ['in'], { probes: [{ name: 'current', kind: 'current', element: 'R1' }] }),
		'R1'
	],
	[
		'a probe of a node that is not there',
		'circuit-node-unknown',
		netlist(sound, ['in'], { probes: [{ name: 'voltage', kind: 'voltage', node: 'x' }] }),
		'voltage'
	]
])('%s is refused by name', (_, code, circuit, named) => {
	const fault = faultOf(() => checkNetlist(circuit));
	expect(fault.code).toBe(code);
	expect(fault.message).toContain(named);
	expect(fault.message).not.toMatch(/[{}]/);
});
