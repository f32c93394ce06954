import type { FrontEnd } from '../front-end.ts';
import { capacitor, coil, device, resistor } from './parts.ts';

/** A diode without bias that turns a level at 100 MHz into a direct voltage. All values invented. */
export const levelDetector: FrontEnd = {
	name: 'level detector',
	label: 'Level detector',
	description:
		'A diode without bias behind a terminating resistor; it turns the level at 100 MHz into a direct voltage.',
	netlist: {
		elements: [
			capacitor('C1', 'in', 'a', 6.8e-12),
			coil('L1', 'a', 'ground', 3.9e-7, { quality: 45, frequency: 100e6 }),
			device('diode', 'D1', 'a', 'k', 'detector'),
			capacitor('C2', 'k', 'ground', 1e-10),
			resistor('R1', 'k', 'ground', 2200)
		],
		models: {
			detector: {
				kind: 'diode',
				saturationCurrent: 2e-5,
				emissionCoefficient: 1.06,
				depletion: { capacitance: 2.5e-13, potential: 0.35, grading: 0.4, bend: 0.5 }
			}
		},
		ports: ['in'],
		probes: [{ name: 'detected voltage', kind: 'voltage', node: 'k' }]
	},
	portNames: ['input'],
	limits: {
		inputPower: 5,
		junctions: [{ element: 'D1', port: 'junction', reverseVoltage: 6, current: 0.02 }]
	},
	transmitter: null,
	band: { start: 90e6, stop: 110e6 }
};
