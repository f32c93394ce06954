import type { Limits } from './limits.ts';
import type { Netlist } from './netlist.ts';

/** A front end to measure: its circuit, and what is said about it outside the circuit. */
export interface FrontEnd {
	/** As commands name it: lower-case words. */
	readonly name: string;
	readonly label: string;
	/** One plain sentence. */
	readonly description: string;
	readonly netlist: Netlist;
	/** Of the ports, in the order of `netlist.ports`; port 1 is where it is measured. */
	readonly portNames: readonly string[];
	readonly limits: Limits;
	/** What can be keyed into one of its ports; null if nothing can. */
	readonly transmitter: Transmitter | null;
	/** Where it is meant to be measured, Hz. */
	readonly band: { readonly start: number; readonly stop: number };
}

export interface Transmitter {
	/** One of the front end's `portNames`. */
	readonly port: string;
	/** Available into 50 Ω while keyed, dBm. */
	readonly level: number;
	/** The switch of the circuit, and its position in which the transmitter is keyed. */
	readonly switch: string;
	readonly position: string;
}
