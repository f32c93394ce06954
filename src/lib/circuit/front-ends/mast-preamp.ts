import type { FrontEnd } from '../front-end.ts';
import { mastPreamp as preamp } from '../mast-preamp.ts';
import type { Element } from '../netlist.ts';

/** Relay contacts: 50 mΩ closed, 0.15 pF open, as a small signal relay has (common practice, no source). */
const contact = (name: string, from: string, to: string, closedIn: readonly string[]): Element => ({
	kind: 'relay',
	name,
	from,
	to,
	switch: 'path',
	closedIn,
	contactResistance: 0.05,
	openCapacitance: 1.5e-13
});

const SENDING = ['transmit', 'transmitting'];

/**
 * The mast unit of a river gauge: the receive preamp behind a relay that puts the connector either on the preamp or on the
 * transmitter, and then shorts the preamp's input. The silent transmitter is a 50 Ω end. All values invented.
 */
export const mastPreamp: FrontEnd = {
	name: 'mast preamp',
	label: 'Mast preamp',
	description:
		'The mast unit of a river gauge: a tuned preamp of about 19 dB at 169.5 MHz, and a relay that bypasses it for the transmitter.',
	netlist: {
		...preamp,
		elements: [
			contact('K1', 'connector', 'in', ['receive']),
			contact('K2', 'connector', 'transmitter', SENDING),
			contact('K3', 'in', 'ground', SENDING),
			...preamp.elements.map((element): Element =>
				element.kind === 'supply' ? { ...element, switch: 'supply', onIn: ['on'] } : element
			)
		],
		ports: ['connector', 'out', 'transmitter'],
		switches: [
			{ name: 'supply', positions: ['on', 'off'] },
			{ name: 'path', positions: ['receive', ...SENDING] }
		]
	},
	portNames: ['connector', 'output', 'transmitter'],
	limits: {
		inputPower: 5,
		inputPowerIn: { switch: 'path', positions: ['receive'] },
		junctions: [{ element: 'Q1', port: 'base-emitter', reverseVoltage: 5.5, current: 0.09 }]
	},
	transmitter: { port: 'transmitter', level: 40, switch: 'path', position: 'transmitting' },
	band: { start: 169.4e6, stop: 169.65e6 }
};
