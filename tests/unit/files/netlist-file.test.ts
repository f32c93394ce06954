import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { equationsOf } from '#lib/circuit/equations.ts';
import { frontEnds } from '#lib/circuit/front-ends/catalogue.ts';
import { mastPreamp } from '#lib/circuit/mast-preamp.ts';
import { withSupplies } from '#lib/circuit/netlist.ts';
import type { Element, Netlist } from '#lib/circuit/netlist.ts';
import { inPositions } from '#lib/circuit/positions.ts';
import { readReferenceForm } from '#lib/circuit/reference-form.ts';
import { smallSignal } from '#lib/circuit/small-signal.ts';
import { readNetlist, readNetlistFile, writeNetlist } from '#lib/files/netlist-file.ts';
import { referenceNetlist } from '../circuit/references.ts';

const text = readFileSync(new URL('./netlists/preamp.netlist.yaml', import.meta.url), 'utf8');
const frequencies = Array.from({ length: 21 }, (_, i) => 160e6 + i * 1e6);

test('the mast preamp in words is the mast preamp by letter', () => {
	const ours = smallSignal(equationsOf(readNetlist(text, 'preamp.netlist.yaml')), frequencies);
	const theirs = smallSignal(equationsOf(referenceNetlist('preamp_169')), frequencies);
	for (const [i, j] of [
		[0, 0],
		[0, 1],
		[1, 0],
		[1, 1]
	])
		for (let k = 0; k < frequencies.length; k++)
			expect(
				Math.hypot(ours[i][j].re[k] - theirs[i][j].re[k], ours[i][j].im[k] - theirs[i][j].im[k])
			).toBeLessThan(1e-9);
});

test('the preamp that speed is measured with is the same, and so are ports, probes and switches', () => {
	const file = readNetlistFile(text, 'preamp.netlist.yaml');
	expect(inPositions(file.netlist)).toEqual(mastPreamp);
	expect(file.portNames).toEqual(['input', 'output']);
	expect(file.netlist.switches).toEqual([{ name: 'supply', positions: ['on', 'off'] }]);
	expect(inPositions(file.netlist, { supply: 'off' })).toEqual(withSupplies(mastPreamp, { V1: 0 }));
});

const all = import.meta.glob('../../reference/data/circuits/*.json', { eager: true, import: 'default' });

test.each(Object.entries(all).map(([path, data]) => [path.replace(/^.*\//, ''), data]))(
	'%s is written in words and read back to the last bit',
	(name, data) => {
		const { netlist } = readReferenceForm(data);
		const portNames = netlist.ports.map((_, i) => `port ${i + 1}`);
		const file = { name: String(name), netlist, portNames };
		expect(readNetlistFile(writeNetlist(file), 'written')).toEqual(file);
	}
);

test.each(frontEnds.map((frontEnd) => [frontEnd.name, frontEnd] as const))(
	'the front end %s is written in words and read back to the last bit',
	(name, { netlist, portNames }) => {
		const file = { name, netlist, portNames };
		expect(readNetlistFile(writeNetlist(file), 'written')).toEqual(file);
	}
);

const parts = (elements: string, more = ''): Netlist =>
	readNetlist(
		`faint echo netlist: 1\nname: Parts\nelements:\n  R: {resistor: 50 Ω, from: in, to: ground}\n  R2: {resistor: 50 Ω, from: out, to: ground}\n  ${elements}\nports: {input: in}\n${more}`,
		'parts'
	);
const element = (line: string): Element => parts(line).elements[2];

test('Q at a frequency is a resistance in series: ωL/Q and 1/(ωCQ)', () => {
	// definition of the quality factor of a coil and of a capacitor, Pozar, Microwave Engineering, 4th ed., 2012, section 6.1
	const omega = 2 * Math.PI * 169.5e6;
	const coil = element('L: {coil: 22 nH, Q: 70 at 169.5 MHz, from: in, to: out}');
	expect(coil).toMatchObject({ seriesResistance: expect.closeTo((omega * 22e-9) / 70, 14) as number });
	const capacitor = element('C: {capacitor: 10 pF, Q: 300 at 169.5 MHz, from: in, to: out}');
	expect(capacitor).toMatchObject({
		seriesResistance: expect.closeTo(1 / (omega * 10e-12 * 300), 12) as number
	});
});

test('a line is as long as its delay, or its length at its velocity factor', () => {
	expect(element('T: {line: 37.5 Ω, delay: 41 ps, from: in, to: out}')).toEqual({
		kind: 'ideal line',
		name: 'T',
		near: ['in', 'ground'],
		far: ['out', 'ground'],
		characteristicImpedance: 37.5,
		delay: 41e-12
	});
	// the speed of light in vacuum, exact: SI Brochure, 9th ed., 2019, section 2.2
	expect(element('T: {line: 50 Ω, length: 1 m, velocity factor: 0.5, from: in, to: out}')).toMatchObject({
		delay: 1 / (0.5 * 299792458)
	});
});

test('every kind of element and model is written and read back to the last bit', () => {
	const netlist = parts(
		[
			'L: {coil: 22 nH, series resistance: 0.3 Ω, from: in, to: out}',
			'C: {capacitor: 10 pF, series resistance: 20 mΩ, from: in, to: out}',
			'T: {line: 50 Ω, delay: 1 ns, from: in, to: out, far return: e}',
			'U: {lossy line: 2.3 m, resistance: 0.9 Ω/m, inductance: 375 nH/m, capacitance: 66.7 pF/m, from: in, to: out}',
			'G: {controlled source: 40 mS, from: out, to: ground, control: [in, 0]}',
			'E: {resistor: 10 Ω, from: e, to: ground}',
			'S: {resistor: 10 Ω, from: s, to: out}',
			'V: {supply: -3 V, from: s, to: ground}',
			'V2: {supply: 12 V, from: p, to: ground, switch: power, on in: [full, half]}',
			'P: {resistor: 10 Ω, from: p, to: out}',
			'K: {relay: path, closed in: [b, c], from: in, to: p, contact resistance: 50 mΩ, open capacitance: 0.3 pF}',
			'K2: {relay: path, closed in: [a], from: in, to: out, contact resistance: 0.1 Ω}',
			'A: {ammeter: ideal, from: m, to: in}',
			'D: {diode: d, anode: in, cathode: out}',
			'W: {varactor: d, anode: ground, cathode: out}',
			'Q: {bipolar transistor: q, collector: m, base: in, emitter: e}',
			'J: {junction field-effect transistor: j, drain: out, gate: in, source: e}',
			'Y: {quartz crystal: y, from: in, to: out}',
			'Y2: {quartz crystal: y2, from: in, to: out}'
		].join('\n  '),
		[
			'models:',
			'  d: {kind: diode, saturation current: 1 nA}',
			'  q: {kind: bipolar transistor, saturation current: 0.2 fA, forward gain: 110, reverse transit time: 1 ns}',
			'  j: {kind: junction field-effect transistor, threshold: -1.6 V, transconductance: 4.2 mA/V², channel modulation: 0.02 /V, saturation current: 1 pA, gate-drain junction: {capacitance: 2 pF, potential: 0.8 V, grading: 0.5}}',
			'  y: {kind: quartz crystal, motional resistance: 12 Ω, motional capacitance: 10 fF, series resonance: 10 MHz, holder capacitance: 3 pF, stiffening: 0.2 ppm/kV², resistance-doubling current: 20 mA}',
			'  y2: {kind: quartz crystal, motional resistance: 12 Ω, motional capacitance: 10 fF, motional inductance: 25.33 mH}',
			'probes: {a: {current through: A}, v: {voltage at: e}}',
			'switches: {power: [full, half, off], path: [a, b, c]}'
		].join('\n')
	);
	expect(new Set(netlist.elements.map(({ kind }) => kind)).size).toBe(14);
	const file = { name: 'Parts', netlist, portNames: ['input'] };
	expect(readNetlistFile(writeNetlist(file), 'written')).toEqual(file);
	// ω²·L·C = 1, Cady, Piezoelectricity, 1946, chapter 14
	const resonance = (2 * Math.PI * 10e6) ** 2 * 10e-15;
	expect(netlist.models.y).toMatchObject({ motionalInductance: 1 / resonance, stiffening: 2e-13 });
	expect(netlist.models.y2).toMatchObject({
		holderCapacitance: 0,
		stiffening: 0,
		resistanceCurrent: Infinity
	});
	expect(netlist.models.q).toMatchObject({ earlyVoltage: Infinity, reverseGain: 1, forwardTransit: 0 });
});

test('an element stands on one line', () => {
	expect(writeNetlist({ name: 'Preamp', netlist: mastPreamp, portNames: ['input', 'output'] })).toContain(
		'\n  C1: { capacitor: 4.7 pF, from: in, to: a }\n'
	);
});
