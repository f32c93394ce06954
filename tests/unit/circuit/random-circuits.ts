import fc from 'fast-check';
import type { Element, Model } from '#lib/circuit/netlist.ts';
import { capacitor, coil, diode, junction, resistor, supply } from './circuits.ts';

/**
 * Circuits drawn at random on a few nodes. Values span what front ends are made of, so that rounding stays far below the
 * margins of the tests.
 */

/** An element still without a name, between two nodes of its own choice or the given ones. */
type Make = (name: string) => Element;
type Between = (name: string, from: string, to: string) => Element;

const NODES = ['in', 'out', 'a', 'b', 'c'];
const ALL = [...NODES, '0'];

/** Drawn evenly; left to itself fast-check would mostly draw the two ends and numbers near zero. */
const evenly = (min: number, max: number): fc.Arbitrary<number> =>
	fc.noBias(fc.integer({ min: 0, max: 2 ** 30 })).map((i) => min + ((max - min) * i) / 2 ** 30);

/** A number from 10^low to 10^high, each decade as likely as the other. */
export const decade = (low: number, high: number): fc.Arbitrary<number> =>
	evenly(low, high).map((exponent) => 10 ** exponent);

const pair = fc.tuple(fc.constantFrom(...ALL), fc.constantFrom(...ALL)).filter(([from, to]) => from !== to);
const triple = fc.tuple(...[0, 1, 2].map(() => fc.constantFrom(...ALL))) as fc.Arbitrary<
	[string, string, string]
>;

const lossOf = fc.oneof(fc.constant(0), decade(-2, 1));

const aResistor: fc.Arbitrary<Between> = decade(0, 4).map(
	(r) => (name, from, to) => resistor(name, from, to, r)
);
const aLossyCoil: fc.Arbitrary<Between> = fc.tuple(decade(-9, -5), decade(-2, 1)).map(
	([l, r]) =>
		(name, from, to) =>
			coil(name, from, to, l, r)
);
const anIdealCoil: fc.Arbitrary<Between> = decade(-9, -5).map(
	(l) => (name, from, to) => coil(name, from, to, l)
);
const aCapacitor: fc.Arbitrary<Between> = fc.tuple(decade(-13, -9), lossOf).map(
	([c, r]) =>
		(name, from, to) =>
			capacitor(name, from, to, c, r)
);
const anIdealLine: fc.Arbitrary<Between> = fc
	.tuple(decade(1, 2.5), decade(-11, -8))
	.map(([characteristicImpedance, delay]) => (name, from, to) => ({
		kind: 'ideal line',
		name,
		near: [from, '0'],
		far: [to, '0'],
		characteristicImpedance,
		delay
	}));
const aLossyLine: fc.Arbitrary<Between> = fc
	.tuple(decade(-1, 1), decade(-0.5, 1))
	.map(([resistancePerMetre, length]) => (name, from, to) => ({
		kind: 'uniform line',
		name,
		near: [from, '0'],
		far: [to, '0'],
		resistancePerMetre,
		inductancePerMetre: 2.5e-7,
		capacitancePerMetre: 1e-10,
		length
	}));

/** Passes direct current, some without any resistance. */
const aPath = fc.oneof(aResistor, aLossyCoil, anIdealCoil, anIdealLine, aLossyLine);
/** Never closes a loop without resistance. */
const aLink = fc.oneof(aResistor, aLossyCoil, aCapacitor, aLossyLine);

const placed = (kind: fc.Arbitrary<Between>): fc.Arbitrary<Make> =>
	fc.tuple(kind, pair).map(
		([between, [from, to]]) =>
			(name: string) =>
				between(name, from, to)
	);

const named = (makes: readonly Make[], word: string): Element[] =>
	makes.map((make, i) => make(`${word}${i}`));

/**
 * Every node hangs on ground or on an earlier node by something that direct current passes, so that none floats; as this
 * is a tree, no loop is without resistance.
 */
const aTree = (path: fc.Arbitrary<Between>): fc.Arbitrary<Element[]> =>
	fc
		.tuple(
			...NODES.map((node, i) =>
				fc.tuple(path, fc.constantFrom('0', '0', ...NODES.slice(0, i))).map(
					([between, parent]): Make =>
						(name) =>
							between(name, node, parent)
				)
			)
		)
		.map((makes) => named(makes, 'T'));

/** A passive circuit of 5 to 13 elements that can be solved: resistors, coils, capacitors and lines. */
export const aPassiveCircuit: fc.Arbitrary<readonly Element[]> = fc
	.tuple(aTree(aPath), fc.array(placed(aLink), { maxLength: 8 }))
	.map(([tree, links]) => [...tree, ...named(links, 'E')]);

const depletion = { capacitance: 1e-12, potential: 0.7, grading: 0.4, bend: 0.5 };
export const models: Record<string, Model> = {
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

const bipolar = (name: string, collector: string, base: string, emitter: string): Element => ({
	kind: 'bipolar transistor',
	name,
	collector,
	base,
	emitter,
	model: 'n'
});
const fieldEffect = (name: string, drain: string, gate: string, source: string): Element => ({
	kind: 'junction field-effect transistor',
	name,
	drain,
	gate,
	source,
	model: 'j'
});

const aDevice: fc.Arbitrary<Make> = fc.oneof(
	pair.map(
		([from, to]): Make =>
			(name) =>
				diode(name, from, to)
	),
	triple.map(
		(nodes): Make =>
			(name) =>
				bipolar(name, ...nodes)
	),
	triple.map(
		(nodes): Make =>
			(name) =>
				fieldEffect(name, ...nodes)
	)
);

/** Lossy parts only: in a tree of ideal ones a device may lie across a supply, which no real circuit survives either. */
const aLossyPath = fc.oneof(
	{ weight: 4, arbitrary: aResistor },
	{ weight: 1, arbitrary: aLossyCoil },
	{ weight: 1, arbitrary: aLossyLine }
);

/** Diodes and transistors (1 to 3) in a passive circuit with a supply of −12 to 12 V that feeds two of its nodes. */
export const aDeviceCircuit: fc.Arbitrary<readonly Element[]> = fc
	.record({
		tree: aTree(aLossyPath),
		links: fc.array(placed(aLink), { maxLength: 5 }),
		devices: fc.array(aDevice, { minLength: 1, maxLength: 3 }),
		volts: evenly(-12, 12),
		feeds: fc.array(fc.tuple(decade(1.5, 4.5), fc.constantFrom(...NODES)), { minLength: 2, maxLength: 2 })
	})
	.map(({ tree, links, devices, volts, feeds }) => [
		supply('V', 'vcc', '0', volts),
		...feeds.map(([r, node], i) => resistor(`F${i}`, 'vcc', node, r)),
		...tree,
		...named(links, 'E'),
		...named(devices, 'D')
	]);

/** A value that may be nothing of the kind that is wanted. */
const anyValue = fc.oneof(
	decade(-15, 6),
	decade(-15, 6),
	fc.constantFrom(0, -0, -1, -1e-9, 1e-300, 1e300, 5e-324, Infinity, -Infinity, NaN),
	fc.double()
);
const anyNode = fc.constantFrom(...ALL, 'ground', 'far away', '', 'port 1', '__proto__');
const anyTwo = fc.tuple(anyNode, anyNode);

const anyElement: fc.Arbitrary<Make> = fc
	.record({
		two: anyTwo,
		more: anyTwo,
		value: anyValue,
		second: fc.oneof(fc.constant(0), anyValue),
		third: anyValue,
		fourth: anyValue,
		model: fc.constantFrom(null, null, null, 'junction', 'missing', 'constructor')
	})
	.chain(({ two, more, value, second, third, fourth, model }) => {
		const [from, to] = two;
		const lines = { near: two, far: more };
		return fc.constantFrom<Make>(
			(name) => resistor(name, from, to, value),
			(name) => coil(name, from, to, value, second),
			(name) => capacitor(name, from, to, value, second),
			(name) => supply(name, from, to, value),
			(name) => ({ kind: 'ammeter', name, from, to }),
			(name) => ({ kind: 'controlled source', name, from, to, control: more, transconductance: value }),
			(name) => ({ kind: 'ideal line', name, ...lines, characteristicImpedance: value, delay: third }),
			(name) => ({
				kind: 'uniform line',
				name,
				...lines,
				resistancePerMetre: second,
				inductancePerMetre: value,
				capacitancePerMetre: third,
				length: fourth
			}),
			(name) => ({ kind: 'diode', name, anode: from, cathode: to, model: model ?? 'junction' }),
			(name) => ({ ...bipolar(name, from, to, more[0]), ...(model && { model }) }) as Element,
			(name) => ({ ...fieldEffect(name, from, to, more[0]), ...(model && { model }) }) as Element
		);
	});

/**
 * Nothing is promised: nodes that float, loops of supplies, lines into nowhere, values of zero, below zero or no number at
 * all, models that are not there, names used twice. About half of the elements are good ones, so that not every circuit
 * fails at once.
 */
export const anyCircuit: fc.Arbitrary<{ elements: readonly Element[]; ports: readonly string[] }> = fc
	.record({
		good: fc.array(fc.oneof(placed(aPath), placed(aLink), aDevice), { maxLength: 4 }),
		bad: fc.array(anyElement, { maxLength: 4 }),
		tree: fc.oneof(fc.constant([]), aTree(aPath)),
		twice: fc.constantFrom(true, false, false, false, false),
		ports: fc.oneof(
			{ weight: 6, arbitrary: fc.constant(['in', 'out']) },
			{ weight: 1, arbitrary: fc.array(anyNode, { maxLength: 3 }) }
		)
	})
	.map(({ good, bad, tree, twice, ports }) => ({
		elements: [...tree, ...named(good, 'E'), ...named(bad, twice ? 'E' : 'B')],
		ports
	}));
