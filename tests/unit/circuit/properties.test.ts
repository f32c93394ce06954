import fc from 'fast-check';
import { expect, test } from 'vitest';
import { equationsOf } from '#lib/circuit/equations.ts';
import { Fault } from '#lib/fault.ts';
import { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import type { Element, Model } from '#lib/circuit/netlist.ts';
import { smallSignal } from '#lib/circuit/small-signal.ts';
import { at, complex, magnitude } from '#lib/numeric/complex.ts';
import { impedanceFromGamma } from '#lib/network/impedance.ts';
import { capacitor, coil, diode, junction, netlist, resistor, supply } from './circuits.ts';

/** Random circuits on a few nodes. Values span what front ends are made of, so that rounding stays far below the margins. */

const nodes = ['in', 'out', 'a', 'b', '0'];
const runs = { seed: 3, numRuns: 200 };

const decade = (low: number, high: number): fc.Arbitrary<number> =>
	fc.double({ min: low, max: high, noNaN: true }).map((exponent) => 10 ** exponent);

const ends = fc
	.tuple(fc.constantFrom(...nodes), fc.constantFrom(...nodes))
	.filter(([from, to]) => from !== to);

type Make = (name: string) => Element;

const passive: fc.Arbitrary<Make> = fc.oneof(
	fc.tuple(ends, decade(0, 4)).map(
		([[from, to], r]): Make =>
			(name) =>
				resistor(name, from, to, r)
	),
	fc.tuple(ends, decade(-9, -5), decade(-2, 1)).map(
		([[from, to], l, r]): Make =>
			(name) =>
				coil(name, from, to, l, r)
	),
	fc.tuple(ends, decade(-13, -9), decade(-2, 1)).map(
		([[from, to], c, r]): Make =>
			(name) =>
				capacitor(name, from, to, c, r)
	),
	fc
		.tuple(
			fc.constantFrom('in', 'out', 'a'),
			fc.constantFrom('b', 'a', 'out'),
			decade(1, 2.5),
			decade(-11, -8)
		)
		.map(([from, to, z, delay]): Make => (name) => ({
			kind: 'ideal line',
			name,
			near: [from, '0'],
			far: [to, '0'],
			characteristicImpedance: z,
			delay
		})),
	fc
		.tuple(fc.constantFrom('in', 'out', 'a'), decade(-1, 1), decade(-0.5, 1))
		.map(([from, loss, length]): Make => (name) => ({
			kind: 'uniform line',
			name,
			near: [from, '0'],
			far: ['b', '0'],
			resistancePerMetre: loss,
			inductancePerMetre: 2.5e-7,
			capacitancePerMetre: 1e-10,
			length
		}))
);

/** A resistor from every node to ground, then whatever was drawn: no node floats. */
const circuitOf = (drawn: readonly Make[]): readonly Element[] => [
	...['in', 'out', 'a', 'b'].map((node) => resistor(`ground ${node}`, node, '0', 1e4)),
	...drawn.map((make, i) => make(`E${i}`))
];

const FREQUENCIES = [0, 1e6, 169.5e6, 2e9];

test('passive circuits let out no more than goes in, and the same both ways', () => {
	fc.assert(
		fc.property(fc.array(passive, { minLength: 1, maxLength: 10 }), (drawn) => {
			let equations;
			try {
				equations = equationsOf(netlist(circuitOf(drawn), ['in', 'out']));
			} catch (error) {
				// ideal lines drawn in a ring leave the direct current in it open, and are refused
				expect((error as Fault).code).toBe('circuit-source-loop');
				return;
			}
			const s = smallSignal(equations, FREQUENCIES);
			FREQUENCIES.forEach((_, k) => {
				for (const j of [0, 1]) {
					const out = magnitude(at(s[0][j], k)) ** 2 + magnitude(at(s[1][j], k)) ** 2;
					expect(out).toBeLessThanOrEqual(1 + 1e-9);
				}
				const [forward, back] = [at(s[1][0], k), at(s[0][1], k)];
				expect(Math.hypot(forward.re - back.re, forward.im - back.im)).toBeLessThan(1e-9);
			});
		}),
		runs
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
		fc.property(fc.array(passive, { minLength: 1, maxLength: 8 }), decade(-1, 1), (drawn, factor) => {
			const elements = circuitOf(drawn);
			let equations;
			try {
				equations = [elements, elements.map((element) => scaled(element, factor))].map((list) =>
					equationsOf(netlist(list))
				);
			} catch {
				return;
			}
			const [before, after] = equations.map((each) => smallSignal(each, [169.5e6])[0][0]);
			const z = impedanceFromGamma(at(before, 0));
			const scaledZ = impedanceFromGamma(at(after, 0));
			const size = magnitude(z) * factor;
			// near an open or short the step from Γ to Z magnifies rounding
			const margin = 1e-12 * (size + 50) * (1 + (size + 50) ** 2 / (50 * size) + magnitude(z) / 50);
			expect(magnitude(complex(scaledZ.re - z.re * factor, scaledZ.im - z.im * factor))).toBeLessThan(
				margin + 1e-6 * size
			);
		}),
		runs
	);
});

const depletion = { capacitance: 1e-12, potential: 0.7, grading: 0.4, bend: 0.5 };
const models: Record<string, Model> = {
	junction,
	n: {
		kind: 'bipolar transistor',
		saturationCurrent: 1e-16,
		forwardEmission: 1,
		reverseEmission: 1,
		forwardGain: 100,
		reverseGain: 2,
		earlyVoltage: 50,
		baseEmitter: depletion,
		baseCollector: depletion,
		forwardTransit: 2e-11,
		reverseTransit: 0
	},
	j: {
		kind: 'junction field-effect transistor',
		threshold: -2,
		transconductance: 2e-3,
		channelModulation: 0.01,
		saturationCurrent: 1e-14,
		gateSource: depletion,
		gateDrain: depletion
	}
};

const three = fc.tuple(fc.constantFrom(...nodes), fc.constantFrom(...nodes), fc.constantFrom(...nodes));

const active: fc.Arbitrary<Make> = fc.oneof(
	ends.map(
		([from, to]): Make =>
			(name) =>
				diode(name, from, to)
	),
	three.map(([collector, base, emitter]): Make => (name) => ({
		kind: 'bipolar transistor',
		name,
		collector,
		base,
		emitter,
		model: 'n'
	})),
	three.map(([drain, gate, source]): Make => (name) => ({
		kind: 'junction field-effect transistor',
		name,
		drain,
		gate,
		source,
		model: 'j'
	})),
	fc.tuple(ends, fc.double({ min: -12, max: 12, noNaN: true })).map(
		([[from, to], volts]): Make =>
			(name) =>
				supply(name, from, to, volts)
	),
	fc
		.tuple(ends, ends, fc.double({ min: -0.1, max: 0.1, noNaN: true }))
		.map(([[from, to], control, transconductance]): Make => (name) => ({
			kind: 'controlled source',
			name,
			from,
			to,
			control,
			transconductance
		}))
);

const finite = (value: unknown): boolean =>
	typeof value === 'number'
		? !Number.isNaN(value)
		: typeof value !== 'object' || value === null || Object.values(value).every(finite);

test('any circuit is either refused by name or solved, and no result is NaN', () => {
	fc.assert(
		fc.property(
			fc.array(fc.oneof(passive, active), { minLength: 1, maxLength: 9 }),
			fc.constantFrom(-60, -10, 10, 30),
			(drawn, dbm) => {
				try {
					const equations = equationsOf(netlist(circuitOf(drawn), ['in', 'out'], { models }));
					const s = smallSignal(equations, FREQUENCIES);
					expect(finite(s.map((row) => row.map(({ re, im }) => [...re, ...im])))).toBe(true);
					const [point] = new DrivenCircuit(equations).levels(169.5e6, [dbm]);
					expect(finite(point)).toBe(true);
				} catch (error) {
					if (!(error instanceof Fault)) throw error;
					expect(error.code).toMatch(/^circuit-/);
				}
			}
		),
		{ seed: 5, numRuns: 150 }
	);
}, 60000);
