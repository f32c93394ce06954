import type { Reals } from '#lib/numeric/reals.ts';
import type { Law } from './laws.ts';
import type { Capacitor, Coil, Crystal, CrystalModel, Netlist } from './netlist.ts';

/**
 * A quartz crystal as a circuit (Van Dyke 1928; Cady, *Piezoelectricity*, 1946): from its first pin the motional
 * resistance, inductance and capacitance in series to the second, and the capacitance of the holder across the pins. The
 * voltage across the motional capacitance stands for how far the plate bends; it reaches kilovolts.
 */

/** The nodes inside the motional arm; the colon keeps them apart from the nodes of the circuit. */
const innerNodes = (name: string): readonly [string, string] => [
	`${name}: behind the motional resistance`,
	`${name}: behind the motional inductance`
];

/** The nodes the two ports of its law lie between: motional resistance, motional capacitance. */
export function crystalEnds({ name, from, to }: Crystal): readonly (readonly [string, string])[] {
	const [first, second] = innerNodes(name);
	return [
		[from, first],
		[second, to]
	];
}

/** The linear parts of a crystal of a checked circuit, beside the two ports of its law. */
export function crystalParts(
	{ name, from, to, model }: Crystal,
	models: Netlist['models']
): readonly (Coil | Capacitor)[] {
	const [first, second] = innerNodes(name);
	const { motionalInductance, holderCapacitance } = models[model] as CrystalModel;
	return [
		{
			kind: 'coil',
			name: `${name}: motional inductance`,
			from: first,
			to: second,
			inductance: motionalInductance,
			seriesResistance: 0
		},
		{
			kind: 'capacitor',
			name: `${name}: holder capacitance`,
			from,
			to,
			capacitance: holderCapacitance,
			seriesResistance: 0
		}
	];
}

/**
 * Writes factor·x for the one real x with x + cubic·x³ = v, cubic ≥ 0, and its derivative by v (Cardano's formula in
 * hyperbolic form: x = 2/√(3·cubic)·sinh(⅓·arsinh(3/2·√(3·cubic)·v))).
 */
function invertCubic(
	cubic: number,
	factor: number,
	count: number,
	voltage: Reals,
	value: Reals,
	derivative: Reals
): void {
	const root = Math.sqrt(3 * cubic);
	for (let m = 0; m < count; m++) {
		const v = voltage[m];
		const x = root === 0 ? v : (2 / root) * Math.sinh(Math.asinh(1.5 * root * v) / 3);
		value[m] = factor * x;
		derivative[m] = factor / (1 + 3 * cubic * x * x);
	}
}

/**
 * The motional arm of a crystal that is driven hard. Resistance: v = R·i·(1 + (i/I0)²), doubled at the current I0.
 * Capacitance: v = x·(1 + stiffening·x²) with x = q/C, the cubic restoring force of a stiffening spring (Duffing 1918); so
 * q = C·v·(1 − stiffening·v²) to first order, and the resonance rises by 3/8·stiffening·X² of itself for a peak X of x
 * (Landau & Lifshitz, *Mechanics*, 3rd ed., 1976, section 28). Both are inverted exactly and have one value at any voltage.
 */
export function crystalLaw(model: CrystalModel): Law {
	const { motionalResistance, motionalInductance, motionalCapacitance } = model;
	const { stiffening, resistanceCurrent } = model;
	const susceptance = Math.sqrt(motionalCapacitance / motionalInductance);
	// in terms of x = R·i
	const bend = 1 / (motionalResistance * resistanceCurrent) ** 2;
	return {
		ports: [
			{ name: 'motional resistance', reference: 1 / motionalResistance, junction: null },
			{ name: 'motional capacitance', reference: susceptance, junction: null }
		],
		charged: true,
		evaluate(count, voltage, out) {
			// all else of `out` is zero, and stays so
			invertCubic(bend, 1 / motionalResistance, count, voltage[0], out.current[0], out.conductance[0]);
			invertCubic(stiffening, motionalCapacitance, count, voltage[1], out.charge[1], out.capacitance[3]);
		}
	};
}
