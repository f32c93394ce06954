import type { Capacitor, Coil, Depletion, Element, Model, Netlist, Resistor } from '#lib/circuit/netlist.ts';

/** Small circuits for the tests, and short ways of writing them. */

export const resistor = (name: string, from: string, to: string, resistance: number): Resistor => ({
	kind: 'resistor',
	name,
	from,
	to,
	resistance
});

export const coil = (
	name: string,
	from: string,
	to: string,
	inductance: number,
	seriesResistance = 0
): Coil => ({
	kind: 'coil',
	name,
	from,
	to,
	inductance,
	seriesResistance
});

export const capacitor = (
	name: string,
	from: string,
	to: string,
	capacitance: number,
	seriesResistance = 0
): Capacitor => ({ kind: 'capacitor', name, from, to, capacitance, seriesResistance });

export const supply = (name: string, from: string, to: string, voltage: number): Element => ({
	kind: 'supply',
	name,
	from,
	to,
	voltage
});

export const diode = (name: string, anode: string, cathode: string): Element => ({
	kind: 'diode',
	name,
	anode,
	cathode,
	model: 'junction'
});

const none: Depletion = { capacitance: 0, potential: 1, grading: 0.5, bend: 0.5 };

/** A plain exponential junction without charge. */
export const junction: Model = {
	kind: 'diode',
	saturationCurrent: 1e-15,
	emissionCoefficient: 1,
	depletion: none
};

export const netlist = (
	elements: readonly Element[],
	ports: readonly string[] = ['in'],
	more?: Partial<Netlist>
): Netlist => ({
	elements,
	models: { junction },
	ports,
	probes: [],
	...more
});
