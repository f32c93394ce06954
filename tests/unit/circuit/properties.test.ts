import fc from 'fast-check';
import { expect, test, vi } from 'vitest';
import { equationsOf } from '#lib/circuit/equations.ts';
import { Fault } from '#lib/fault.ts';
import { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import type { Element } from '#lib/circuit/netlist.ts';
import { noiseWaves } from '#lib/circuit/noise-waves.ts';
import type { PowerBalance } from '#lib/circuit/power-balance.ts';
import { smallSignal } from '#lib/circuit/small-signal.ts';
import { at, complex, magnitude, subtract } from '#lib/numeric/complex.ts';
import { BOLTZMANN } from '#lib/numeric/decibel.ts';
import { impedanceFromGamma } from '#lib/network/impedance.ts';
import { passiveNoise } from '#lib/network/noise-waves.ts';
import type { TwoPort } from '#lib/network/two-port.ts';
import { distance, FREQUENCIES, leastAbsorption } from '../network/parts.ts';
import { capacitor, coil, diode, netlist, resistor, supply } from './circuits.ts';
import { anyCircuit, aDeviceCircuit, aPassiveCircuit, decade, models } from './random-circuits.ts';

/**
 * What holds for any circuit, on circuits drawn at random; seed and size of the sample stand with each test. A property
 * that holds always holds, so there is no false alarm. With TEST_LONG=1 ten times as many are drawn.
 */
const runs = (seed: number, numRuns: number): { seed: number; numRuns: number } => ({
	seed,
	numRuns: process.env.TEST_LONG === '1' ? 10 * numRuns : numRuns
});
vi.setConfig({ testTimeout: 300_000 });

const PORTS = ['in', 'out'];

function scattering(elements: readonly Element[]): TwoPort {
	const [[s11, s12], [s21, s22]] = smallSignal(equationsOf(netlist(elements, PORTS)), FREQUENCIES);
	return { s11, s12, s21, s22 };
}

test('passive circuits let out no more than goes in, and the same both ways', () => {
	fc.assert(
		fc.property(aPassiveCircuit, (elements) => {
			const s = scattering(elements);
			// the largest singular value is √(1 − least absorption)
			expect(leastAbsorption(s)).toBeGreaterThan(-2e-9);
			expect(distance(s.s12, s.s21)).toBeLessThan(1e-9);
		}),
		runs(3, 1000)
	);
});

test('passive circuits send out the noise kT(I − S·S†)', () => {
	// Bosma 1967
	const kt = BOLTZMANN * 290;
	fc.assert(
		fc.property(aPassiveCircuit, (elements) => {
			const [[c11, c12], [, c22]] = noiseWaves(equationsOf(netlist(elements, PORTS)), FREQUENCIES);
			const expected = passiveNoise(scattering(elements));
			FREQUENCIES.forEach((_, i) => {
				expect(Math.abs(c11.re[i] - expected.c11[i])).toBeLessThan(1e-9 * kt);
				expect(Math.abs(c22.re[i] - expected.c22[i])).toBeLessThan(1e-9 * kt);
			});
			expect(distance(c12, expected.c12)).toBeLessThan(1e-9 * kt);
		}),
		runs(4, 1000)
	);
});

/** Every impedance of an element times `factor`. */
function scaled(element: Element, factor: number): Element {
	switch (element.kind) {
		case 'resistor':
			return { ...element, resistance: element.resistance * factor };
		case 'coil':
			return {
				...element,
				inductance: element.inductance * factor,
				seriesResistance: element.seriesResistance * factor
			};
		case 'capacitor':
			return {
				...element,
				capacitance: element.capacitance / factor,
				seriesResistance: element.seriesResistance * factor
			};
		case 'ideal line':
			return { ...element, characteristicImpedance: element.characteristicImpedance * factor };
		case 'uniform line':
			return {
				...element,
				resistancePerMetre: element.resistancePerMetre * factor,
				inductancePerMetre: element.inductancePerMetre * factor,
				capacitancePerMetre: element.capacitancePerMetre / factor
			};
		default:
			return element;
	}
}

test('all impedances times a factor give the input impedance times the factor', () => {
	fc.assert(
		fc.property(aPassiveCircuit, decade(-1, 1), (elements, factor) => {
			const [before, after] = [elements, elements.map((element) => scaled(element, factor))].map(
				(list) => smallSignal(equationsOf(netlist(list)), [169.5e6])[0][0]
			);
			const z = impedanceFromGamma(at(before, 0));
			const scaledZ = impedanceFromGamma(at(after, 0));
			const size = magnitude(z) * factor;
			// near an open or short the step from Γ to Z magnifies rounding
			const margin = 1e-12 * (size + 50) * (1 + (size + 50) ** 2 / (50 * size) + magnitude(z) / 50);
			expect(magnitude(complex(scaledZ.re - z.re * factor, scaledZ.im - z.im * factor))).toBeLessThan(
				margin + 1e-6 * size
			);
		}),
		runs(3, 1000)
	);
});

/** True if every number in it is. */
function finite(value: unknown): boolean {
	if (typeof value === 'number') return Number.isFinite(value);
	return typeof value !== 'object' || value === null || Object.values(value).every(finite);
}

/** What of the power that goes round is not accounted for. */
function unaccounted({ input, supply, losses, controlled, devices, output }: PowerBalance): number {
	const whole = [input, supply, losses, controlled, devices, output].reduce((sum, p) => sum + Math.abs(p), 0);
	return Math.abs(input + supply - losses - controlled - devices - output) / whole;
}

const LEVELS = [-60, -40, -20, -10, 0, 10];

test('circuits with devices are solved at rest and driven, or say why not; power is accounted for', () => {
	const count = { circuits: 0, changed: 0, points: 0, converged: 0, iterations: 0 };
	fc.assert(
		fc.property(aDeviceCircuit, fc.constantFrom(1e6, 169.5e6), (elements, frequency) => {
			const equations = equationsOf(netlist(elements, PORTS, { models }));
			try {
				expect(finite(smallSignal(equations, FREQUENCIES).flat())).toBe(true);
			} catch (error) {
				expect((error as Fault).code).toBe('circuit-operating-point');
				return;
			}
			count.circuits++;
			const driven = new DrivenCircuit(equations);
			const points = driven.levels(frequency, LEVELS);
			for (const point of points) {
				count.points++;
				count.iterations = Math.max(count.iterations, point.iterations);
				if (!point.converged) {
					expect(point.reason).toMatch(/^(not found|unstable)$/);
					continue;
				}
				count.converged++;
				// the output of a shorted port is −Infinity dBm
				expect(finite({ ...point, outputDbm: [] })).toBe(true);
				const powers = driven.powers(frequency, point.dbm);
				if (powers) expect(unaccounted(powers)).toBeLessThan(1e-6);
			}
			const [low, high] = [points[0], points[points.length - 1]];
			if (low.converged && high.converged && magnitude(subtract(low.gamma, high.gamma)) > 0.01)
				count.changed++;
		}),
		runs(5, 100)
	);
	expect(count.iterations).toBeLessThan(1000);
	expect(count.converged).toBeGreaterThan(0.99 * count.points);
	// the sample is worth something: most circuits are solved, and in many the drive matters
	expect(count.circuits).toBeGreaterThan(95);
	expect(count.changed).toBeGreaterThan(15);
});

test('whatever is drawn is either refused by name or solved, with finite answers', () => {
	const ends = new Map<string, number>();
	fc.assert(
		fc.property(anyCircuit, fc.constantFrom(-60, 0, 10, 30), ({ elements, ports }, dbm) => {
			let end = 'solved';
			try {
				const equations = equationsOf(netlist(elements, ports, { models }));
				expect(finite(smallSignal(equations, FREQUENCIES).flat())).toBe(true);
				expect(finite(noiseWaves(equations, FREQUENCIES).flat())).toBe(true);
				const [point] = new DrivenCircuit(equations).levels(169.5e6, [dbm]);
				// an open is an infinite impedance
				if (point.converged) expect(finite({ ...point, outputDbm: [], impedance: null })).toBe(true);
				else end = point.reason;
			} catch (error) {
				if (!(error instanceof Fault)) throw error;
				end = error.code;
				expect(error.place).toMatch(/^circuit, ./);
			}
			ends.set(end, (ends.get(end) ?? 0) + 1);
		}),
		runs(7, 1000)
	);
	expect(ends.get('solved')).toBeGreaterThan(100);
	expect([...ends.keys()].sort()).toEqual(
		expect.arrayContaining([
			'circuit-node-floating',
			'circuit-source-loop',
			'circuit-supply-short',
			'circuit-value'
		])
	);
});

test('a device that the drive does not reach stays at rest, whatever the level', () => {
	// its fundamental is rounding, in which no solution may be looked for and no harmonics be counted
	const circuit = netlist(
		[
			resistor('R1', 'in', '0', 30),
			supply('V', 'vcc', '0', 5),
			resistor('R2', 'vcc', 'a', 1000),
			diode('D', 'a', '0'),
			resistor('R3', 'in', 'b', 100),
			coil('L', 'b', '0', 1e-6, 1),
			capacitor('C', '0', 'b', 1e-11)
		],
		['in']
	);
	const points = new DrivenCircuit(equationsOf(circuit)).levels(169.5e6, [-60, -20, 0, 10, 30]);
	for (const point of points) expect(point).toMatchObject({ converged: true, harmonics: 7, tail: 0 });
});
