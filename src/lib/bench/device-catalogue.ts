import type { Device } from './device-schema.ts';
import { mastPreampData } from './mast-preamp.ts';

/** A device that can be put at the end of the line by name. */
export interface CatalogueDevice {
	readonly name: string;
	readonly label: string;
	readonly device: Device;
}

/** Data-sheet limits of the mast preamp (invented): what its owner knows of it besides the small-signal data. */
const mastPreamp: Device = {
	kind: 'tabulated',
	name: 'Mast preamp',
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
	entry('mast preamp', mastPreamp),
	entry('50 ohm load', load('50 Ω load', 50)),
	entry('100 ohm load', load('100 Ω load', 100)),
	entry('25 ohm load', load('25 Ω load', 25)),
	entry('inductive load', load('25 + j50 Ω load', 25, 50)),
	entry('open', { kind: 'open', name: 'Open' }),
	entry('short', { kind: 'short', name: 'Short' })
];
