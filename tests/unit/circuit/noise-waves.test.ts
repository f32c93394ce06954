import { expect, test } from 'vitest';
import { equationsOf } from '#lib/circuit/equations.ts';
import { mastPreamp } from '#lib/circuit/mast-preamp.ts';
import type { Element, Model, Netlist } from '#lib/circuit/netlist.ts';
import { noiseWaves } from '#lib/circuit/noise-waves.ts';
import { smallSignal } from '#lib/circuit/small-signal.ts';
import { at, magnitude } from '#lib/numeric/complex.ts';
import { BOLTZMANN } from '#lib/numeric/decibel.ts';
import { capacitor, coil, netlist, resistor } from './circuits.ts';
import { referenceNetlist } from './references.ts';

const KT = BOLTZMANN * 290;

/** Noise voltage of a one-port with nothing connected, V/√Hz, from its noise wave and reflection: v = b·2√50/(1 − Γ). */
function openVoltage(elements: readonly Element[], frequency: number): number {
	const equations = equationsOf(netlist(elements));
	const { re, im } = at(smallSignal(equations, [frequency])[0][0], 0);
	const wave = Math.sqrt(noiseWaves(equations, [frequency])[0][0].re[0]);
	return (wave * 2 * Math.sqrt(50)) / Math.hypot(1 - re, im);
}

test('Nyquist: 1 kΩ at 290 K gives 4.00 nV/√Hz, whatever reactance is in series', () => {
	// √(4kTR): Nyquist, Physical Review 32, 1928; the number as in any text on low noise design (Horowitz & Hill, from memory)
	expect(openVoltage([resistor('R', 'in', '0', 1000)], 1e6)).toBeCloseTo(4.002e-9, 12);
	const series = [resistor('R', 'a', '0', 1000), coil('L', 'in', 'a', 1e-6)];
	expect(openVoltage(series, 50e6)).toBeCloseTo(4.002e-9, 12);
	expect(openVoltage([coil('L', 'in', '0', 1e-6, 1000)], 50e6)).toBeCloseTo(4.002e-9, 12);
	const lossy = [capacitor('C', 'in', '0', 1e-11, 1000), resistor('R', 'in', '0', 1e12)];
	expect(openVoltage(lossy, 50e6)).toBeCloseTo(4.002e-9, 12);
});

test('kT/C: the noise voltage across a capacitor, summed over all frequencies', () => {
	// v² = kT/C (Nyquist's formula integrated, any text); R·C here includes the 50 Ω, so their noiseless part takes its share
	const equations = equationsOf(
		netlist([resistor('R', 'in', '0', 50), capacitor('C', 'in', '0', 1e-9)], ['in'])
	);
	// ∫ df over f = f0·tan(x), f0 the corner of 25 Ω and 1 nF, so that the sum runs over a finite range of x
	const corner = 1 / (2 * Math.PI * 25 * 1e-9);
	const steps = 200;
	const angles = Array.from({ length: steps }, (_, i) => ((i + 0.5) / steps) * (Math.PI / 2));
	const c = noiseWaves(
		equations,
		angles.map((x) => corner * Math.tan(x))
	)[0][0].re;
	const square = angles.reduce(
		(sum, x, i) => sum + (c[i] * 50 * corner * (Math.PI / 2 / steps)) / Math.cos(x) ** 2,
		0
	);
	// half of the noise that kT/C counts would come from the 50 Ω at the port, which gives none
	expect(square / (KT / 1e-9)).toBeCloseTo(0.5, 9);
});

/**
 * The same by brute force: a current of 1 A through every resistive thing in turn, brought in by a controlled source
 * from a port of its own, and what it does at the ports squared and summed.
 */
function bruteForce({ elements, ...rest }: Netlist, frequency: number): number[][] {
	const plain = elements.flatMap((element): readonly Element[] => {
		if (element.kind !== 'coil' || element.seriesResistance === 0) return [element];
		const middle = `inside ${element.name}`;
		return [
			{ ...element, seriesResistance: 0, to: middle },
			resistor(`loss of ${element.name}`, middle, element.to, element.seriesResistance)
		];
	});
	const ports = rest.ports.length;
	const sums = rest.ports.map(() => rest.ports.map(() => 0));
	for (const element of plain) {
		if (element.kind !== 'resistor') continue;
		const injected: Netlist = {
			...rest,
			elements: [
				...plain,
				resistor('probe', 'probe', '0', 50),
				{
					kind: 'controlled source',
					name: 'noise',
					from: element.from,
					to: element.to,
					control: ['probe', '0'],
					transconductance: 1
				}
			],
			ports: [...rest.ports, 'probe']
		};
		// a source of 2 V behind 50 Ω puts 1 V on the probe's 50 Ω, and S is the voltage at the port
		const s = smallSignal(equationsOf(injected), [frequency]);
		const square = (4 * KT) / element.resistance;
		for (let i = 0; i < ports; i++)
			for (let j = 0; j < ports; j++) {
				const [a, b] = [at(s[i][ports], 0), at(s[j][ports], 0)];
				sums[i][j] += (square * (a.re * b.re + a.im * b.im)) / 50;
			}
	}
	return sums;
}

test.each([
	['linear_stage', referenceNetlist('linear_stage'), 100e6],
	['ladder3', referenceNetlist('ladder3'), 100e6],
	['the mast preamp', mastPreamp, 169.5e6]
])('%s: the same as resistor by resistor', (_, circuit, frequency) => {
	const c = noiseWaves(equationsOf(circuit), [frequency]);
	const expected = bruteForce(circuit, frequency);
	expected.forEach((row, i) =>
		row.forEach((value, j) => expect(c[i][j].re[0] / KT).toBeCloseTo(value / KT, 9))
	);
	// the wave at the output carries the gain: more than any passive circuit could send
	if (circuit === mastPreamp) expect(c[1][1].re[0]).toBeGreaterThan(KT);
});

test('the matrix equals its own conjugate transpose, and the temperature is a factor', () => {
	const equations = equationsOf(mastPreamp);
	const [cold, warm] = [290, 580].map((temperature) => noiseWaves(equations, [169.5e6], { temperature }));
	expect(at(cold[0][1], 0).re).toBeCloseTo(at(cold[1][0], 0).re, 30);
	expect(at(cold[0][1], 0).im).toBeCloseTo(-at(cold[1][0], 0).im, 30);
	expect(magnitude(at(cold[0][1], 0))).toBeGreaterThan(1e-3 * KT);
	expect(cold[0][0].im[0]).toBe(0);
	expect(warm[1][1].re[0] / cold[1][1].re[0]).toBeCloseTo(2, 12);
});

test('a uniform line for direct current is its resistance, and the noise tends to that', () => {
	const line: Element = {
		kind: 'uniform line',
		name: 'T',
		near: ['in', '0'],
		far: ['out', '0'],
		resistancePerMetre: 5,
		inductancePerMetre: 2.5e-7,
		capacitancePerMetre: 1e-10,
		length: 2
	};
	const [direct, slow] = [0, 1].map((frequency) =>
		noiseWaves(equationsOf(netlist([line], ['in', 'out'])), [frequency])
	);
	// 10 Ω between two 50 Ω ends: v = √(4kT·10)·50/110 at either end, opposite in sign
	const expected = (40 * (50 / 110) ** 2) / 50;
	for (const c of [direct, slow]) {
		expect(c[0][0].re[0] / KT).toBeCloseTo(expected, 6);
		expect(c[0][1].re[0] / KT).toBeCloseTo(-expected, 6);
	}
});

test('a crystal makes the noise of its motional resistance', () => {
	const model: Model = {
		kind: 'quartz crystal',
		motionalResistance: 12,
		motionalInductance: 1 / ((2 * Math.PI * 1e7) ** 2 * 1e-14),
		motionalCapacitance: 1e-14,
		holderCapacitance: 3e-12,
		stiffening: 0,
		resistanceCurrent: Infinity
	};
	const crystal: Element = { kind: 'quartz crystal', name: 'X', from: 'in', to: '0', model: 'quartz' };
	const equations = equationsOf(netlist([crystal], ['in'], { models: { quartz: model } }));
	const frequencies = [9.999e6, 1e7, 1.001e7];
	const [[s11]] = smallSignal(equations, frequencies);
	const [[c11]] = noiseWaves(equations, frequencies);
	frequencies.forEach((_, k) => expect(c11.re[k] / KT).toBeCloseTo(1 - magnitude(at(s11, k)) ** 2, 10));
	// 12 Ω at series resonance, the holder hardly matters: 1 − (38/62)²
	expect(c11.re[1] / KT).toBeCloseTo(1 - (38 / 62) ** 2, 3);
});

test('an element called like a port or a node is not mistaken for it', () => {
	const [plain, odd] = [
		['L1', 'L2'],
		['port 1', 'node a']
	].map(
		([first, second]) =>
			noiseWaves(
				equationsOf(netlist([coil(first, 'in', 'a', 1e-7, 3), coil(second, 'a', '0', 1e-7, 5)])),
				[50e6]
			)[0][0].re[0]
	);
	expect(odd).toBe(plain);
});
