import type { FrontEnd } from '../front-end.ts';
import { capacitor, coil, device, resistor } from './parts.ts';

const COIL = { quality: 45, frequency: 100e6 };

/**
 * A telemetry tag without a battery: a circuit tuned by a varactor, which what it rectifies itself pulls upwards in
 * frequency. All values invented.
 */
export const varactorTag: FrontEnd = {
	name: 'varactor tag',
	label: 'Varactor tag',
	description:
		'A telemetry tag near 100 MHz: a circuit tuned by a varactor, whose resonance shifts with the drive.',
	netlist: {
		elements: [
			capacitor('C1', 'in', 'a', 3.3e-12),
			coil('L1', 'a', 'ground', 1.5e-7, COIL),
			capacitor('C2', 'a', 'ground', 8.2e-12),
			capacitor('C3', 'a', 'v', 1e-11),
			device('varactor', 'D1', 'ground', 'v', 'varactor'),
			resistor('R1', 'v', 'ground', 47000)
		],
		models: {
			varactor: {
				kind: 'diode',
				saturationCurrent: 2e-12,
				emissionCoefficient: 1.1,
				depletion: { capacitance: 1.3e-11, potential: 0.7, grading: 0.5, bend: 0.5 }
			}
		},
		ports: ['in'],
		probes: [{ name: 'varactor voltage', kind: 'voltage', node: 'v' }]
	},
	portNames: ['loop'],
	limits: {
		inputPower: 10,
		junctions: [{ element: 'D1', port: 'junction', reverseVoltage: 12, current: 0.05 }]
	},
	transmitter: null,
	band: { start: 95e6, stop: 105e6 }
};
