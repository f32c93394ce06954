import { bipolarLaw } from './bipolar.ts';
import { crystalEnds, crystalLaw } from './crystal.ts';
import { diodeLaw } from './diode.ts';
import { fieldEffectLaw } from './field-effect.ts';
import type { Law } from './laws.ts';
import type { Bipolar, Crystal, Diode, Element, FieldEffect, Netlist } from './netlist.ts';

export type DeviceElement = Diode | Bipolar | FieldEffect | Crystal;

/** A device of a circuit: its law, and for every port the names of the two nodes it lies between. */
export interface Device {
	readonly name: string;
	readonly law: Law;
	readonly ends: readonly (readonly [string, string])[];
}

export const isDevice = (element: Element): element is DeviceElement => 'model' in element;

/** The nodes each port of a device lies between. */
export function portEnds(element: DeviceElement): readonly (readonly [string, string])[] {
	switch (element.kind) {
		case 'bipolar transistor':
			return [
				[element.base, element.emitter],
				[element.base, element.collector]
			];
		case 'junction field-effect transistor':
			return [
				[element.gate, element.source],
				[element.gate, element.drain]
			];
		case 'quartz crystal':
			return crystalEnds(element);
		default:
			return [[element.anode, element.cathode]];
	}
}

function lawOf(element: DeviceElement, models: Netlist['models']): Law {
	const model = models[element.model];
	switch (model.kind) {
		case 'diode':
			return diodeLaw(model);
		case 'bipolar transistor':
			return bipolarLaw(model);
		case 'junction field-effect transistor':
			return fieldEffectLaw(model);
		case 'quartz crystal':
			return crystalLaw(model);
	}
}

/** The devices of a checked circuit. */
export const devicesOf = (netlist: Netlist): readonly Device[] =>
	netlist.elements
		.filter(isDevice)
		.map((element) => ({ name: element.name, law: lawOf(element, netlist.models), ends: portEnds(element) }));
