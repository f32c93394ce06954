import type { Adapter, Cable, Pad, Part, PartKind } from './part-schema.ts';

/** New parts as they are added. All values are invented; the kinds of value are those of ordinary parts. */

const pad: Pad = {
	id: 'pad',
	kind: 'pad',
	name: 'Pad',
	attenuation: 20,
	network: 'pi',
	resistorErrors: [0, 0, 0],
	powerRating: 1
};

/** A thin flexible cable: 0.2 dB in 1.2 m at 169.5 MHz. */
const cable: Cable = {
	id: 'cable',
	kind: 'cable',
	name: 'Cable',
	length: 1.2,
	velocityFactor: 0.7,
	impedance: 50,
	loss: [
		{ frequency: 1e8, loss: 0.125 },
		{ frequency: 1e9, loss: 0.43 }
	]
};

/** A constant-impedance adapter, 41 ps long. */
const adapter: Adapter = {
	id: 'adapter',
	kind: 'adapter',
	name: 'Adapter',
	sections: [{ impedance: 50, length: 0.008604, velocityFactor: 0.7 }]
};

const NEW_PARTS: Readonly<Record<PartKind, Part>> = { pad, cable, adapter };

export const partKinds = Object.keys(NEW_PARTS) as PartKind[];

/** A new part of this kind with an id that none of `taken` has: `pad`, `pad-2`, … */
export function newPart(kind: PartKind, taken: readonly string[]): Part {
	let id: string = kind;
	for (let n = 2; taken.includes(id); n++) id = `${kind}-${n}`;
	return { ...NEW_PARTS[kind], id };
}
