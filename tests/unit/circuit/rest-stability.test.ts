import { expect, test } from 'vitest';
import { equationsOf } from '#lib/circuit/equations.ts';
import type { Equations } from '#lib/circuit/equations.ts';
import { mastPreamp } from '#lib/circuit/mast-preamp.ts';
import type { Element, Model, Netlist } from '#lib/circuit/netlist.ts';
import { operatingPoint } from '#lib/circuit/operating-point.ts';
import { growingLinearModes, growingModes, growthWords } from '#lib/circuit/rest-stability.ts';
import type { EndsAt, Growth } from '#lib/circuit/rest-stability.ts';
import { complex, divide, multiply, polar } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { THERMAL_VOLTAGE } from '#lib/circuit/laws.ts';
import { capacitor, coil, netlist, resistor, supply } from './circuits.ts';
import { referenceNetlist } from './references.ts';

const source = (name: string, from: string, to: string, control: [string, string], gm: number): Element => ({
	kind: 'controlled source',
	name,
	from,
	to,
	control,
	transconductance: gm
});

/** Every port ended alike, at all frequencies. */
const alike =
	(equations: Equations, end: Complex): EndsAt =>
	() =>
		equations.ports.map(() => end);

function growth(circuit: Netlist, end = complex(0)): Growth | null {
	const equations = equationsOf(circuit);
	const { devices } = operatingPoint(equations);
	return growingModes(equations, { ends: alike(equations, end), devices });
}

/** A port that has nothing to do with the circuit. */
const aside = resistor('aside', 'in', '0', 50);

/** Frequency of a3·s³ + a2·s² + a1·s + a0 on the verge of growing, Hz. */
const verge = (a3: number, a1: number): number => Math.sqrt(a1 / a3) / (2 * Math.PI);

/*
 * Colpitts oscillator with grounded base, all elements ideal: nodes collector and emitter give the polynomial
 *   L·C1·C2·s³ + L·G·(C1 + C2)·s² + (C1 + C2 + L·G·gm)·s + gm,
 * which has growing roots if a2·a1 < a3·a0 (Routh 1877; Gantmacher, *The Theory of Matrices*, vol. 2, 1959, chapter XV).
 * For gm far below ω·(C1 + C2) that is the textbook's gm·n·(1 − n) > G (Clarke & Hess, *Communication Circuits*, 1971,
 * chapter 6).
 */
const colpitts = { c1: 50e-12, c2: 200e-12, l: 1e-6, gm: 4e-3 };
function colpittsVerge(): number {
	const { c1, c2, l, gm } = colpitts;
	const c = c1 + c2;
	// (G·c)·(c + L·G·gm) = C1·C2·gm
	const [p, q, r] = [c * l * gm, c * c, -c1 * c2 * gm];
	return (-q + Math.sqrt(q * q - 4 * p * r)) / (2 * p);
}
const colpittsAt = (conductance: number): Netlist =>
	netlist([
		aside,
		source('gm', 'c', 'e', ['0', 'e'], colpitts.gm),
		coil('L', 'c', '0', colpitts.l),
		resistor('R', 'c', '0', 1 / conductance),
		capacitor('C1', 'c', 'e', colpitts.c1),
		capacitor('C2', 'e', '0', colpitts.c2),
		resistor('rest', 'e', '0', 1e12)
	]);

test('a Colpitts oscillator starts where Routh says, at its frequency', () => {
	const { c1, c2, l, gm } = colpitts;
	const conductance = colpittsVerge();
	expect(conductance / ((gm * c1 * c2) / (c1 + c2) ** 2)).toBeCloseTo(1, 1);
	expect(growth(colpittsAt(1.0001 * conductance))).toBe(null);
	const found = growth(colpittsAt(0.9999 * conductance))!;
	expect(found.modes).toBe(2);
	const expected = verge(l * c1 * c2, c1 + c2 + l * conductance * gm);
	expect(Math.abs(found.frequency / expected - 1)).toBeLessThan(1e-4);
	expect(growthWords(found)).toBe('grows at about 25.3 MHz');
});

/*
 * Hartley oscillator with grounded base: C from collector to ground, L1 from collector to emitter, L2 from there to ground:
 *   C·L1²·gm·s³ + (C·L1·(1 + L1/L2) + G·L1²·gm)·s² + G·L1·(1 + L1/L2)·s + L1/L2, and Routh as above.
 */
test('a Hartley oscillator starts where Routh says, at its frequency', () => {
	const [c, l1, l2, gm] = [100e-12, 4e-7, 1e-7, 4e-3];
	const k = 1 + l1 / l2;
	// (C·L1·k + G·L1²·gm)·G·L1·k = C·L1²·gm·L1/L2
	const [p, q, r] = [l1 ** 3 * gm * k, c * l1 * l1 * k * k, (-c * l1 ** 3 * gm) / l2];
	const conductance = (-q + Math.sqrt(q * q - 4 * p * r)) / (2 * p);
	const at = (g: number): Netlist =>
		netlist([
			aside,
			source('gm', 'c', 'e', ['0', 'e'], gm),
			capacitor('C', 'c', '0', c),
			resistor('R', 'c', '0', 1 / g),
			coil('L1', 'c', 'e', l1),
			coil('L2', 'e', '0', l2)
		]);
	expect(growth(at(1.001 * conductance))).toBe(null);
	const found = growth(at(0.999 * conductance))!;
	expect(found.modes).toBe(2);
	const expected = verge(c * l1 * l1 * gm, conductance * l1 * k);
	expect(Math.abs(found.frequency / expected - 1)).toBeLessThan(1e-3);
});

const none = { capacitance: 0, potential: 0.75, grading: 0.33, bend: 0.5 };
const transistor: Model = {
	kind: 'bipolar transistor',
	saturationCurrent: 1e-15,
	forwardEmission: 1,
	reverseEmission: 1,
	forwardGain: 1e6,
	reverseGain: 1,
	earlyVoltage: Infinity,
	baseEmitter: none,
	baseCollector: none,
	forwardTransit: 0,
	reverseTransit: 0
};

test('the same with a transistor at its operating point', () => {
	const bias = 4e-3 * THERMAL_VOLTAGE;
	const drop = THERMAL_VOLTAGE * Math.log(bias / 1e-15 + 1);
	const at = (g: number): Netlist =>
		netlist(
			[
				aside,
				{
					kind: 'bipolar transistor',
					name: 'Q1',
					collector: 'c',
					base: '0',
					emitter: 'e',
					model: 'n'
				},
				supply('V1', 'top', '0', 5),
				supply('V2', '0', 'low', 1e4),
				resistor('R1', 'e', 'low', (1e4 - drop) / bias),
				coil('L', 'top', 'c', colpitts.l),
				resistor('R', 'c', '0', 1 / g),
				capacitor('C1', 'c', 'e', colpitts.c1),
				capacitor('C2', 'e', '0', colpitts.c2)
			],
			['in'],
			{ models: { n: transistor } }
		);
	expect(growth(at(1.0002 * colpittsVerge()))).toBe(null);
	expect(growth(at(0.9998 * colpittsVerge()))?.modes).toBe(2);
});

test('a negative conductance across a parallel resonator wins from that of its losses up', () => {
	const at = (g: number): Netlist =>
		netlist([
			resistor('R', 'in', '0', 200),
			coil('L', 'in', '0', 1e-7),
			capacitor('C', 'in', '0', 1e-11),
			source('G', 'in', '0', ['in', '0'], -g)
		]);
	// 200 Ω and the 50 Ω of the port: 25 mS; an open port leaves 5 mS, a short holds everything
	expect(growth(at(0.02499))).toBe(null);
	const found = growth(at(0.02501))!;
	expect(found.modes).toBe(2);
	expect(found.frequency / (1 / (2 * Math.PI * Math.sqrt(1e-18)))).toBeCloseTo(1, 3);
	expect(growth(at(0.00499), complex(1))).toBe(null);
	expect(growth(at(0.00501), complex(1))?.modes).toBe(2);
	expect(growth(at(0.1), complex(-1))).toBe(null);
});

/*
 * Crystal between the two ends of a transconductance with a capacitor at each: the series resistance of the arm stands
 * against the negative one −gm/(ω²·C1·C2) (Vittoz, Degrauwe & Bitar, IEEE J. Solid-State Circuits 23(3), 1988), exact on
 * the verge at ω² = (1/C + 1/C1 + 1/C2)/L. Its mode is 1e-5 of its frequency wide, and near the verge far less.
 */
test('a crystal of Q 132 000 starts where the negative resistance equals its own', () => {
	const [r, l, c, c1, c2] = [12, 0.02533029591, 1e-14, 2e-11, 3e-11];
	const omega = Math.sqrt((1 / c + 1 / c1 + 1 / c2) / l);
	const needed = r * omega * omega * c1 * c2;
	const at = (gm: number): Netlist =>
		netlist([
			aside,
			resistor('arm', 'g', 'x', r),
			coil('L', 'x', 'y', l),
			capacitor('C', 'y', 'd', c),
			capacitor('C1', 'g', '0', c1),
			capacitor('C2', 'd', '0', c2),
			resistor('g at rest', 'g', '0', 1e14),
			resistor('d at rest', 'd', '0', 1e14),
			source('gm', 'd', '0', ['g', '0'], gm)
		]);
	expect(growth(at(0.999 * needed))).toBe(null);
	const found = growth(at(1.001 * needed))!;
	expect(found.modes).toBe(2);
	expect(Math.abs((2 * Math.PI * found.frequency) / omega - 1)).toBeLessThan(1e-8);
});

/*
 * A reflection amplifier behind a cable: modes where Γin·Γs = 1. Both have no poles that grow, and the angle of their
 * product only falls; so each time it passes 1 at a magnitude above 1 is one mode that swings, counted here by looking
 * at the product itself, 2000 places a turn (Nyquist 1932).
 */
test.each([
	[0.3, 30e-9],
	[0.6, 30e-9],
	[0.6, 3e-9],
	[0.9, 1e-10],
	[0.9, 100e-9]
])(
	'a reflection amplifier with a cable that returns %d after %d s grows where Γin·Γs passes 1',
	(share, delay) => {
		const [g, c] = [0.012, 2e-12];
		const equations = equationsOf(
			netlist([source('G', 'in', '0', ['in', '0'], -g), capacitor('C', 'in', '0', c)])
		);
		const returned = (f: number): Complex => polar(share, -2 * Math.PI * f * delay);
		const product = (f: number): Complex => {
			const b = 2 * Math.PI * f * c;
			return multiply(divide(complex(0.02 + g, -b), complex(0.02 - g, b)), returned(f));
		};
		let modes = product(0).re > 1 ? 1 : 0;
		const step = 1 / (delay * 2000);
		for (let f = step; f < 20e9; f += step) {
			const [before, after] = [product(f - step), product(f)];
			if (before.im > 0 && after.im <= 0 && after.re > 1) modes += 2;
		}
		const found = growingModes(equations, { ends: (f) => [returned(f)], devices: [] });
		expect(found?.modes ?? 0).toBe(modes);
	}
);

test('an amplifier whose output is fed back has the poles of its closed loop', () => {
	// two equal stages −gm·R, 1/(1 + s·T) each, and a third without delay around them: (1 + s·T)² = K = g³·R³ < 0 or > 0
	const ring = (sign: number, gain: number): Netlist => {
		const [r, c] = [1000, 1e-12];
		const stage = (name: string, from: string, to: string, g: number): readonly Element[] => [
			source(name, to, '0', [from, '0'], g / r),
			resistor(`R${name}`, to, '0', r),
			capacitor(`C${name}`, to, '0', c)
		];
		return netlist([
			aside,
			...stage('1', 'a', 'b', gain),
			...stage('2', 'b', 'd', gain),
			...stage('3', 'd', 'a', sign * gain)
		]);
	};
	// three stages of −g: (1 + sT)³ = −g³, roots −1 − g and −1 + g·(1 ± j√3)/2: a ring oscillator from g = 2 up, at √3/T
	expect(growth(ring(1, 1.99))).toBe(null);
	const swinging = growth(ring(1, 2.01))!;
	expect(swinging.modes).toBe(2);
	expect((2 * Math.PI * swinging.frequency * 1e-9) / Math.sqrt(3)).toBeCloseTo(1, 2);
	// the third turned round: (1 + sT)³ = g³, a root −1 + g that moves away without swinging from g = 1 up
	expect(growth(ring(-1, 0.99))).toBe(null);
	expect(growth(ring(-1, 1.01))?.modes).toBe(1);
	expect(growthWords(growth(ring(-1, 1.01))!)).toBe('grows without swinging');
	// a pair −1 − g/2 ± j·g·√3/2 more never grows
	expect(growth(ring(-1, 5))?.modes).toBe(1);
});

const circuits = ['preamp_169', 'jfet_10', 'varactor_100', 'detector_100', 'linear_stage', 'crystal_arm'];
test.each(circuits)(
	'%s stays at rest with 50 Ω, open, shorted and with a cable that returns a third',
	(id) => {
		const equations = equationsOf(referenceNetlist(id));
		const { devices } = operatingPoint(equations);
		for (const [share, delay] of [
			[0, 0],
			[1, 0],
			[-1, 0],
			[0.3, 40e-9]
		]) {
			const ends: EndsAt = (f) => equations.ports.map(() => polar(share, -2 * Math.PI * f * delay));
			expect(growingModes(equations, { ends, devices })).toBe(null);
		}
	}
);

test('a resonator without any loss beside an amplifier, or in it, does not grow', () => {
	const amplifier = [
		source('G', 'out', '0', ['in', '0'], 0.05),
		resistor('R', 'out', '0', 300),
		capacitor('C', 'in', '0', 1e-12)
	];
	const alone = [coil('L', 'x', '0', 1e-7), capacitor('X', 'x', '0', 1e-11)];
	const inside = [coil('L', 'out', '0', 1e-7), capacitor('X', 'out', '0', 1e-11)];
	for (const more of [alone, inside])
		for (const end of [0, 1, -1])
			expect(growth(netlist([...amplifier, ...more], ['in', 'out']), complex(end))).toBe(null);
});

test('what ends the ports is asked once at a frequency', () => {
	const equations = equationsOf(mastPreamp);
	const asked: number[] = [];
	const { devices } = operatingPoint(equations);
	const ends: EndsAt = (f) => {
		asked.push(f);
		return [polar(0.5, -f * 1e-8), complex(1)];
	};
	expect(growingModes(equations, { ends, devices })).toBe(null);
	expect(new Set(asked).size).toBe(asked.length);
	expect(asked.length).toBeLessThan(2000);
});

test('the linear part alone is asked with the conductances of the devices’ ports, and only where there is gain', () => {
	const tank = (g: number): Netlist =>
		netlist([
			coil('L', 'in', '0', 1e-7),
			capacitor('C', 'in', '0', 1e-11),
			source('G', 'in', '0', ['in', '0'], -g),
			{ kind: 'diode', name: 'D1', anode: 'in', cathode: '0', model: 'junction' }
		]);
	const modes = (g: number): number | undefined => {
		const equations = equationsOf(tank(g));
		return growingLinearModes(equations, [1e-12], alike(equations, complex(0)))?.modes;
	};
	// 20 mS of the port and 1 mS of the diode's port
	expect(modes(0.0209)).toBeUndefined();
	expect(modes(0.0211)).toBe(2);
	const quiet = equationsOf(mastPreamp);
	expect(growingLinearModes(quiet, [0, 0], alike(quiet, complex(1)))).toBe(null);
});
