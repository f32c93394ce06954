import { expect, test } from 'vitest';
import type { Element } from '#lib/circuit/netlist.ts';
import { RESULT_NAMES } from '#lib/circuit/reference-form.ts';
import type { Analysis } from '#lib/circuit/reference-form.ts';
import { runAnalyses } from '#lib/circuit/results.ts';
import type { Row } from '#lib/circuit/results.ts';
import { capacitor, coil, netlist, resistor } from './circuits.ts';

const small: Analysis = {
	type: 'ac',
	name: 'small',
	freqs_hz: { start: 1e6, stop: 1e6, points: 1 },
	set: {}
};
const drive: Analysis = { type: 'tran', name: 'drive', freqs_hz: [1e6], dbm: [-20], set: {} };

/** A negative conductance of 22 mS across a resonator at 181 MHz; port 2 is joined to it by 10 kΩ or none. */
const source: Element = {
	kind: 'controlled source',
	name: 'G1',
	from: 'out',
	to: '0',
	control: ['out', '0'],
	transconductance: -0.022
};
const circuit = netlist(
	[
		resistor('R1', 'in', 'out', 10000),
		coil('L1', 'out', '0', 1e-8),
		capacitor('C1', 'out', '0', 7.73e-11),
		resistor('R2', 'out', '0', 200),
		source
	],
	['in', 'out'],
	{ probes: [{ name: 'output', kind: 'voltage', node: 'out' }] }
);

test('a circuit that oscillates at rest has no small-signal results, and says so', () => {
	// 5 mS and the 20 mS of a port hold it, 5 mS alone do not
	expect(runAnalyses({ netlist: circuit, analyses: [small] })).toHaveProperty('small.s11');
	const open: Analysis = { ...small, terminations_ohm: { load: 50, open: 1e9 } };
	expect(() => runAnalyses({ netlist: circuit, analyses: [open] })).toThrow(
		'circuit, at rest with 50 Ω at port 1 and the others ended in “open” (1000000000 Ω): It does not stay there: a small ' +
			'disturbance grows at about 181 MHz, so there is nothing to measure.'
	);
	const louder = { ...circuit, elements: [...circuit.elements, { ...source, name: 'G2' }] };
	expect(() => runAnalyses({ netlist: louder, analyses: [small] })).toThrow(
		'at rest with 50 Ω at every port'
	);
	expect(runAnalyses({ netlist: louder, analyses: [drive] }).drive).toMatchObject([
		{ converged: false, reason: 'unstable' }
	]);
});

test('every entry of a driven point but those of probes is a name that no probe may have', () => {
	const [row] = runAnalyses({ netlist: circuit, analyses: [drive] }).drive as readonly Row[];
	const names = Object.keys(row).filter((name) => name !== 'output');
	expect([...names, 'reason'].sort()).toEqual([...RESULT_NAMES].sort());
	const probes = [{ name: 's21', kind: 'voltage', node: 'out' }] as const;
	expect(() => runAnalyses({ netlist: { ...circuit, probes }, analyses: [drive] })).toThrow(
		'circuit, probe s21'
	);
});
