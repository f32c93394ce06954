import type { FrontEnd } from '#lib/circuit/front-end.ts';
import { frontEnds } from '#lib/circuit/front-ends/catalogue.ts';
import type { CircuitDevice, Device } from './device-schema.ts';
import { mastPreampData } from './mast-preamp.ts';

/** A device that can be put at the end of the line by name. */
export interface CatalogueDevice {
	readonly name: string;
	readonly label: string;
	readonly device: Device;
	/** What it is, where its name does not say it. */
	readonly description?: string;
	/** Where it is meant to be measured, Hz; anywhere if left out. */
	readonly band?: { readonly start: number; readonly stop: number };
}

/** How far Γ may move from rest at the ceiling, unless set otherwise. */
const CEILING_CHANGE = 0.01;

/** A front end of known circuit, whole, its switches in their usual positions. */
export const circuitDevice = ({
	label,
	netlist,
	portNames,
	limits,
	transmitter
}: FrontEnd): CircuitDevice => ({
	kind: 'circuit',
	name: label,
	origin: 'catalogue',
	circuit: { netlist, portNames },
	limits,
	transmitter,
	positions: {},
	ceilingChange: CEILING_CHANGE
});

/** The mast preamp as its owner may know it: small-signal data and the limits of a data sheet (invented), no circuit. */
const byDataSheet: Device = {
	kind: 'tabulated',
	name: 'Preamp by data sheet',
	origin: 'catalogue',
	data: mastPreampData,
	ceiling: -35,
	compression: -25,
	absoluteMaximum: 10
};

const load = (label: string, resistance: number, reactance = 0): Device => ({
	kind: 'impedance',
	name: label,
	resistance,
	reactance
});

const entry = (name: string, device: Device): CatalogueDevice => ({ name, label: device.name, device });

export const deviceCatalogue: readonly CatalogueDevice[] = [
	...frontEnds.map((frontEnd) => ({
		...entry(frontEnd.name, circuitDevice(frontEnd)),
		description: frontEnd.description,
		band: frontEnd.band
	})),
	entry('preamp by data sheet', byDataSheet),
	entry('50 ohm load', load('50 Ω load', 50)),
	entry('100 ohm load', load('100 Ω load', 100)),
	entry('25 ohm load', load('25 Ω load', 25)),
	entry('inductive load', load('25 + j50 Ω load', 25, 50)),
	entry('open', { kind: 'open', name: 'Open' }),
	entry('short', { kind: 'short', name: 'Short' })
];
