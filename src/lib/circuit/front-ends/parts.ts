import type { Ammeter, Capacitor, Coil, Element, Resistor, Supply } from '../netlist.ts';

/** Short ways of writing the parts of a circuit; see `netlist.ts` for what they are. */

export const resistor = (name: string, from: string, to: string, resistance: number): Resistor => ({
	kind: 'resistor',
	name,
	from,
	to,
	resistance
});

export const capacitor = (name: string, from: string, to: string, capacitance: number): Capacitor => ({
	kind: 'capacitor',
	name,
	from,
	to,
	capacitance,
	seriesResistance: 0
});

/** A coil with the loss that gives it `quality` at `frequency` (Hz). */
export const coil = (
	name: string,
	from: string,
	to: string,
	inductance: number,
	{ quality, frequency }: { readonly quality: number; readonly frequency: number }
): Coil => ({
	kind: 'coil',
	name,
	from,
	to,
	inductance,
	seriesResistance: (2 * Math.PI * frequency * inductance) / quality
});

export const ammeter = (name: string, from: string, to: string): Ammeter => ({
	kind: 'ammeter',
	name,
	from,
	to
});

/** A supply against ground that follows the switch `supply`. */
export const supply = (name: string, node: string, voltage: number): Supply => ({
	kind: 'supply',
	name,
	from: node,
	to: 'ground',
	voltage,
	switch: 'supply',
	onIn: ['on']
});

export const supplySwitch = { name: 'supply', positions: ['on', 'off'] } as const;

export const device = (
	kind: 'diode' | 'varactor',
	name: string,
	anode: string,
	cathode: string,
	model: string
): Element => ({ kind, name, anode, cathode, model });
