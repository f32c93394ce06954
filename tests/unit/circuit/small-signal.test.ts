import { expect, test } from 'vitest';
import { equationsOf } from '#lib/circuit/equations.ts';
import type { Element } from '#lib/circuit/netlist.ts';
import { reflectionEnded, smallSignal } from '#lib/circuit/small-signal.ts';
import { THERMAL_VOLTAGE } from '#lib/circuit/laws.ts';
import { at, complex, complexArray, magnitude, polar, put } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { gammaFromImpedance } from '#lib/network/impedance.ts';
import { lineTwoPort, LIGHT_SPEED } from '#lib/network/line.ts';
import { looking } from '#lib/network/two-port.ts';
import { capacitor, diode, netlist, resistor, supply } from './circuits.ts';

const apart = (a: Complex, b: Complex): number => Math.hypot(a.re - b.re, a.im - b.im);

test('an ideal line equals the line of the chain, direct current and half-wave resonance included', () => {
	const length = 0.7;
	const line: Element = {
		kind: 'ideal line',
		name: 'T1',
		near: ['in', '0'],
		far: ['out', '0'],
		characteristicImpedance: 82,
		delay: length / LIGHT_SPEED
	};
	const frequencies = [0, 1e6, 123e6, (0.5 * LIGHT_SPEED) / length, 3e9];
	const s = smallSignal(equationsOf(netlist([line], ['in', 'out'])), frequencies);
	const section = {
		characteristicImpedance: 82,
		length,
		velocityFactor: 1,
		conductorLoss: 0,
		dielectricLoss: 0
	};
	const expected = lineTwoPort(section, frequencies);
	frequencies.forEach((_, i) => {
		expect(apart(at(s[0][0], i), at(expected.s11, i))).toBeLessThan(1e-13);
		expect(apart(at(s[1][0], i), at(expected.s21, i))).toBeLessThan(1e-13);
	});
});

test('a uniform line with series loss is its resistance for direct current and tends to it', () => {
	const line: Element = {
		kind: 'uniform line',
		name: 'T1',
		near: ['in', '0'],
		far: ['out', '0'],
		resistancePerMetre: 5,
		inductancePerMetre: 2.5e-7,
		capacitancePerMetre: 1e-10,
		length: 2
	};
	const s = smallSignal(equationsOf(netlist([line], ['in', 'out'])), [0, 1]);
	// 10 Ω in series between two 50 Ω ends: S21 = 100/110, S11 = 10/110
	expect(apart(at(s[1][0], 0), complex(100 / 110))).toBeLessThan(1e-14);
	expect(apart(at(s[0][0], 0), complex(10 / 110))).toBeLessThan(1e-14);
	expect(apart(at(s[1][0], 1), complex(100 / 110))).toBeLessThan(1e-6);
});

test('a star of three resistors of 50/3 Ω is matched at three ports and halves the voltage', () => {
	const star = ['a', 'b', 'c'].map((node) => resistor(`R${node}`, node, 'm', 50 / 3));
	const s = smallSignal(equationsOf(netlist(star, ['a', 'b', 'c'])), [1e6]);
	for (const [i, row] of s.entries())
		for (const [j, entry] of row.entries())
			expect(apart(at(entry, 0), complex(i === j ? 0 : 0.5))).toBeLessThan(1e-14);
});

test('a capacitor with loss is its resistance and reactance in series', () => {
	const circuit = netlist([capacitor('C1', 'in', '0', 1e-11, 3)]);
	const s = smallSignal(equationsOf(circuit), [1e8, 1e15]);
	const z = (f: number): Complex => complex(3, -1 / (2 * Math.PI * f * 1e-11));
	expect(apart(at(s[0][0], 0), gammaFromImpedance(z(1e8)))).toBeLessThan(1e-14);
	expect(apart(at(s[0][0], 1), gammaFromImpedance(z(1e15)))).toBeLessThan(1e-12);
});

test('a biased diode is Vt/I', () => {
	const circuit = netlist([
		supply('V1', 'top', '0', 1e4),
		resistor('R1', 'top', 'a', 1e7),
		diode('D1', 'a', '0'),
		capacitor('C1', 'a', 'in', 1)
	]);
	const [[s11]] = smallSignal(equationsOf(circuit), [1e6]);
	const current = (1e4 - THERMAL_VOLTAGE * Math.log(1e-3 / 1e-15)) / 1e7;
	const resistance = 1 / (current / THERMAL_VOLTAGE + 1e-7);
	expect(apart(at(s11, 0), gammaFromImpedance(complex(resistance)))).toBeLessThan(1e-8);
});

test('an ended port gives what the two-port says, in all ends', () => {
	const elements = [
		resistor('R1', 'in', 'm', 20),
		capacitor('C1', 'm', '0', 2e-12),
		resistor('R2', 'm', 'out', 35),
		resistor('R3', 'out', '0', 400)
	];
	const equations = equationsOf(netlist(elements, ['in', 'out']));
	const s = smallSignal(equations, [2e8]);
	const part = { s11: s[0][0], s12: s[0][1], s21: s[1][0], s22: s[1][1] };
	for (const end of [complex(1), complex(-1), complex(0), polar(0.7, 2)]) {
		const array = complexArray(1);
		put(array, 0, end);
		const gamma = reflectionEnded(equations, [2e8], [complex(0), end]);
		expect(apart(at(gamma, 0), at(looking(part, array), 0))).toBeLessThan(1e-13);
		expect(magnitude(at(gamma, 0))).toBeLessThan(1);
	}
});
