import type { FrontEnd } from '../front-end.ts';
import { capacitor, coil } from './parts.ts';

const RESONANCE = 10e6;
const CAPACITANCE = 11e-15;

/**
 * A 10 MHz crystal, its resonance pulled upwards by what flows through it, on two short leads in a holder. All values
 * invented; the shift, about 0.3 parts per million for 1 mA (effective value), is of the usual order for such a crystal
 * (common practice, no source).
 */
export const crystal: FrontEnd = {
	name: 'crystal',
	label: 'Crystal',
	description: 'A 10 MHz quartz crystal in a holder; a current of a few milliamperes moves its resonance.',
	netlist: {
		elements: [
			capacitor('C1', 'in', 'ground', 1.5e-12),
			coil('L1', 'in', 'a', 1.2e-8, { quality: 30, frequency: RESONANCE }),
			{ kind: 'quartz crystal', name: 'Y1', from: 'a', to: 'ground', model: 'plate' }
		],
		models: {
			plate: {
				kind: 'quartz crystal',
				motionalResistance: 14,
				motionalInductance: 1 / ((2 * Math.PI * RESONANCE) ** 2 * CAPACITANCE),
				motionalCapacitance: CAPACITANCE,
				holderCapacitance: 3.3e-12,
				stiffening: 2e-13,
				resistanceCurrent: 0.02
			}
		},
		ports: ['in'],
		probes: []
	},
	portNames: ['holder'],
	limits: {
		inputPower: null,
		junctions: [{ element: 'Y1', port: 'motional resistance', reverseVoltage: null, current: 0.01 }]
	},
	transmitter: null,
	band: { start: 9.999e6, stop: 10.001e6 }
};
