/**
 * A circuit inside the program: elements between named nodes, models of its devices, ports and probes. Every form a
 * circuit is written in (files, catalogue) is read into this one. SI units: Ω, H, F, S, V, A, s, m, Hz.
 *
 * Ground is the node `0` or `ground`. A port lies between its node and ground.
 */
export interface Netlist {
	readonly elements: readonly Element[];
	readonly models: Readonly<Record<string, Model>>;
	/** Names of the nodes of port 1, 2, …; at least one. */
	readonly ports: readonly string[];
	readonly probes: readonly Probe[];
	/** What relays and switched supplies follow; none if left out. See `inPositions`. */
	readonly switches?: readonly Switch[];
}

/** Something that can be set to one of several positions, at least two; the first is the usual one. */
export interface Switch {
	readonly name: string;
	readonly positions: readonly string[];
}

export type Element =
	| Resistor
	| Coil
	| Capacitor
	| IdealLine
	| UniformLine
	| ControlledSource
	| Supply
	| Relay
	| Ammeter
	| Diode
	| Bipolar
	| FieldEffect
	| Crystal;

export type ElementKind = Element['kind'];

interface Named {
	readonly name: string;
}

interface TwoEnds extends Named {
	readonly from: string;
	readonly to: string;
}

/** A line between two pairs of nodes; the second of a pair is its return. */
interface FourEnds extends Named {
	readonly near: readonly [string, string];
	readonly far: readonly [string, string];
}

export interface Resistor extends TwoEnds {
	readonly kind: 'resistor';
	readonly resistance: number;
}

export interface Coil extends TwoEnds {
	readonly kind: 'coil';
	readonly inductance: number;
	/** Ω in series, 0 for a coil without loss; it does not change with frequency. */
	readonly seriesResistance: number;
}

export interface Capacitor extends TwoEnds {
	readonly kind: 'capacitor';
	readonly capacitance: number;
	/** Ω in series, 0 for a capacitor without loss; it does not change with frequency. */
	readonly seriesResistance: number;
}

/** A line without loss. */
export interface IdealLine extends FourEnds {
	readonly kind: 'ideal line';
	readonly characteristicImpedance: number;
	/** One-way delay in s. */
	readonly delay: number;
}

/** A uniform line with series loss, given per metre. */
export interface UniformLine extends FourEnds {
	readonly kind: 'uniform line';
	/** Ω/m, F/m, H/m, m. */
	readonly resistancePerMetre: number;
	readonly inductancePerMetre: number;
	readonly capacitancePerMetre: number;
	readonly length: number;
}

/** transconductance·(v(control[0]) − v(control[1])) flows from `from` through the source to `to`. */
export interface ControlledSource extends TwoEnds {
	readonly kind: 'controlled source';
	readonly control: readonly [string, string];
	readonly transconductance: number;
}

/** A direct voltage, `from` positive. Its current counts positive into `from`. */
export interface Supply extends TwoEnds {
	readonly kind: 'supply';
	readonly voltage: number;
	/** The switch it follows, and the positions in which it is on; it is 0 V in the others. Always on if left out. */
	readonly switch?: string;
	readonly onIn?: readonly string[];
}

/** A contact: closed in some positions of its switch, open in the others. */
export interface Relay extends TwoEnds {
	readonly kind: 'relay';
	readonly switch: string;
	readonly closedIn: readonly string[];
	/** Ω of the closed contact. */
	readonly contactResistance: number;
	/** F across the open contact, 0 for none. */
	readonly openCapacitance: number;
}

/** A short whose current is read, positive into `from`. */
export interface Ammeter extends TwoEnds {
	readonly kind: 'ammeter';
}

/** A diode or a varactor: the same law, `varactor` says what it is for. */
export interface Diode extends Named {
	readonly kind: 'diode' | 'varactor';
	readonly anode: string;
	readonly cathode: string;
	readonly model: string;
}

/** An NPN transistor. */
export interface Bipolar extends Named {
	readonly kind: 'bipolar transistor';
	readonly collector: string;
	readonly base: string;
	readonly emitter: string;
	readonly model: string;
}

/** An N-channel junction field-effect transistor. */
export interface FieldEffect extends Named {
	readonly kind: 'junction field-effect transistor';
	readonly drain: string;
	readonly gate: string;
	readonly source: string;
	readonly model: string;
}

/** A quartz crystal between its two pins. */
export interface Crystal extends TwoEnds {
	readonly kind: 'quartz crystal';
	readonly model: string;
}

/** Depletion charge of a junction: C = capacitance·(1 − v/potential)^−grading, a straight line above bend·potential. */
export interface Depletion {
	/** F at no bias; 0 for none. */
	readonly capacitance: number;
	/** V. */
	readonly potential: number;
	/** Between 0 and 1. */
	readonly grading: number;
	/** Between 0 and 1, usually 0.5. */
	readonly bend: number;
}

export interface DiodeModel {
	readonly kind: 'diode';
	readonly saturationCurrent: number;
	readonly emissionCoefficient: number;
	readonly depletion: Depletion;
}

export interface BipolarModel {
	readonly kind: 'bipolar transistor';
	readonly saturationCurrent: number;
	readonly forwardEmission: number;
	readonly reverseEmission: number;
	readonly forwardGain: number;
	readonly reverseGain: number;
	/** V; Infinity for none. */
	readonly earlyVoltage: number;
	readonly baseEmitter: Depletion;
	readonly baseCollector: Depletion;
	/** s. */
	readonly forwardTransit: number;
	readonly reverseTransit: number;
}

export interface FieldEffectModel {
	readonly kind: 'junction field-effect transistor';
	/** Gate-source voltage below which no current flows, V. */
	readonly threshold: number;
	/** A/V². */
	readonly transconductance: number;
	/** 1/V. */
	readonly channelModulation: number;
	/** Of each gate junction. */
	readonly saturationCurrent: number;
	readonly gateSource: Depletion;
	readonly gateDrain: Depletion;
}

/**
 * The holder capacitance with the motional arm across it: resistance, inductance and capacitance in series, of which the
 * first and the last depend on how far the crystal swings (`crystalLaw` says how).
 */
export interface CrystalModel {
	readonly kind: 'quartz crystal';
	readonly motionalResistance: number;
	readonly motionalInductance: number;
	readonly motionalCapacitance: number;
	/** F; 0 for none. */
	readonly holderCapacitance: number;
	/** 1/V², of the motional capacitance; 0 for none. */
	readonly stiffening: number;
	/** A at which the motional resistance has doubled; Infinity for one that does not change. */
	readonly resistanceCurrent: number;
}

export type Model = DiodeModel | BipolarModel | FieldEffectModel | CrystalModel;

/** What is read beside the ports: the current of an ammeter or supply, or the voltage of a node. */
export type Probe =
	| { readonly name: string; readonly kind: 'current'; readonly element: string }
	| { readonly name: string; readonly kind: 'voltage'; readonly node: string };

export const isGround = (node: string): boolean => node === '0' || node === 'ground';

/** The nodes of an element, in the order its kind names them. */
export function nodesOf(element: Element): readonly string[] {
	switch (element.kind) {
		case 'ideal line':
		case 'uniform line':
			return [...element.near, ...element.far];
		case 'controlled source':
			return [element.from, element.to, ...element.control];
		case 'diode':
		case 'varactor':
			return [element.anode, element.cathode];
		case 'bipolar transistor':
			return [element.collector, element.base, element.emitter];
		case 'junction field-effect transistor':
			return [element.drain, element.gate, element.source];
		default:
			return [element.from, element.to];
	}
}

/** The same circuit with other supply voltages, by the name of the supply. */
export const withSupplies = (netlist: Netlist, voltages: Readonly<Record<string, number>>): Netlist => ({
	...netlist,
	elements: netlist.elements.map((element) =>
		element.kind === 'supply' && Object.hasOwn(voltages, element.name)
			? { ...element, voltage: voltages[element.name] }
			: element
	)
});
