import { expect, test } from 'vitest';
import { damagedNetlist } from '#lib/circuit/damage.ts';
import { isDevice } from '#lib/circuit/device.ts';
import { equationsOf } from '#lib/circuit/equations.ts';
import { frontEnds } from '#lib/circuit/front-ends/catalogue.ts';
import { mastPreamp } from '#lib/circuit/mast-preamp.ts';
import type { BipolarModel, Netlist } from '#lib/circuit/netlist.ts';
import { operatingPoint } from '#lib/circuit/operating-point.ts';
import { allPositions, inPositions } from '#lib/circuit/positions.ts';
import { growingModes } from '#lib/circuit/rest-stability.ts';
import { smallSignal } from '#lib/circuit/small-signal.ts';
import { at, magnitude, subtract, ZERO } from '#lib/numeric/complex.ts';
import { diode, netlist, resistor } from './circuits.ts';

const cascode = frontEnds.find(({ name }) => name === 'cascode')!.netlist;

test('only the devices named are harmed', () => {
	const harmed = damagedNetlist(cascode, ['Q1']);
	const modelOf = (name: string): BipolarModel => {
		const element = harmed.elements.find((candidate) => candidate.name === name)!;
		return harmed.models[isDevice(element) ? element.model : ''] as BipolarModel;
	};
	const whole = cascode.models.npn as BipolarModel;
	expect(modelOf('Q2')).toEqual(whole);
	expect(modelOf('Q1').forwardGain).toBeLessThan(whole.forwardGain);
	expect(modelOf('Q1').saturationCurrent).toBeGreaterThan(whole.saturationCurrent);
	expect(modelOf('Q1').baseEmitter.capacitance).toBeGreaterThan(whole.baseEmitter.capacitance);
	const added = harmed.elements.filter(({ name }) => !cascode.elements.some((other) => other.name === name));
	expect(added).toMatchObject([{ kind: 'resistor', from: 'bi', to: 'e' }]);
});

test('a name twice is harm once, and a name that is no device is none', () => {
	expect(damagedNetlist(cascode, ['Q1', 'Q1'])).toEqual(damagedNetlist(cascode, ['Q1']));
	expect(damagedNetlist(cascode, ['R1', 'nothing'])).toEqual(cascode);
});

test('new names do not clash with those there are, nor when what was harmed is harmed again', () => {
	const given = netlist([
		diode('D1', 'in', 'ground'),
		diode('D2', 'in', 'ground'),
		resistor('D1 leak', 'in', 'ground', 50)
	]);
	let harmed: Netlist = { ...given, models: { ...given.models, 'D2 harmed': given.models.junction } };
	for (let k = 0; k < 3; k++) {
		harmed = damagedNetlist(harmed, ['D1', 'D2']);
		expect(new Set(harmed.elements.map(({ name }) => name)).size).toBe(harmed.elements.length);
		expect(() => operatingPoint(equationsOf(harmed))).not.toThrow();
	}
	expect(harmed.elements).toHaveLength(9);
});

test('the harmed junction leaks and the transistor draws another current', () => {
	const current = (given: typeof mastPreamp): number => {
		const equations = equationsOf(given);
		return operatingPoint(equations).unknowns[equations.probes[0].unknown];
	};
	expect(current(mastPreamp)).toBeCloseTo(3.35e-3, 5);
	expect(current(damagedNetlist(mastPreamp, ['Q1']))).toBeLessThan(0.9 * current(mastPreamp));
});

test.each(frontEnds.map((frontEnd) => [frontEnd.name, frontEnd] as const))(
	'%s answers otherwise once broken, stays at rest, and can still be solved in every position',
	(_, { netlist: whole, limits, band }) => {
		const frequencies = [(band.start + band.stop) / 2];
		const reflection = (given: Netlist) => at(smallSignal(equationsOf(given), frequencies)[0][0], 0);
		for (const { element } of limits.junctions) {
			const broken = damagedNetlist(whole, [element]);
			expect(magnitude(subtract(reflection(broken), reflection(whole)))).toBeGreaterThan(0.01);
			for (const positions of allPositions(broken)) {
				const set = inPositions(broken, positions);
				expect(Number.isFinite(magnitude(reflection(set)))).toBe(true);
				const equations = equationsOf(set);
				const ends = () => equations.ports.map(() => ZERO);
				expect(growingModes(equations, { ends })).toBeNull();
			}
		}
	}
);
