import type { FrontEnd } from '../front-end.ts';
import type { Element } from '../netlist.ts';
import { ammeter, capacitor, coil, resistor, supply, supplySwitch } from './parts.ts';

const COIL = { quality: 65, frequency: 151e6 };

const transistor = (name: string, collector: string, base: string, emitter: string): Element => ({
	kind: 'bipolar transistor',
	name,
	collector,
	base,
	emitter,
	model: 'npn'
});

/** Two transistors one on top of the other: little of the output finds its way back to the input. All values invented. */
export const cascode: FrontEnd = {
	name: 'cascode',
	label: 'Cascode',
	description:
		'A tuned preamp of two stacked transistors at 151 MHz, which lets little of its output back to its input.',
	netlist: {
		elements: [
			capacitor('C1', 'in', 'a', 5.6e-12),
			coil('L1', 'a', 'ground', 2.4e-8, COIL),
			capacitor('C2', 'a', 'ground', 3.9e-11),
			capacitor('C3', 'a', 'b1', 2.2e-11),
			resistor('R1', 'vcc', 'b2', 6800),
			resistor('R2', 'b2', 'b1', 8200),
			resistor('R3', 'b1', 'ground', 3900),
			resistor('R4', 'b1', 'bi', 8),
			transistor('Q1', 'm', 'bi', 'e'),
			resistor('R5', 'e', 'e2', 8),
			resistor('R6', 'e2', 'ground', 200),
			capacitor('C4', 'e2', 'ground', 4.7e-10),
			// keeps the sharp pulses of a cut-off stage from the node between the transistors
			capacitor('C9', 'm', 'ground', 6.8e-12),
			transistor('Q2', 'cx', 'b2i', 'm'),
			resistor('R7', 'b2', 'b2i', 8),
			capacitor('C5', 'b2', 'ground', 1e-9),
			ammeter('VM', 'c', 'cx'),
			coil('L2', 'c', 'vcc', 4.7e-8, COIL),
			resistor('R8', 'c', 'vcc', 270),
			capacitor('C6', 'c', 'ground', 1.5e-11),
			capacitor('C7', 'c', 'out', 1.2e-11),
			capacitor('C8', 'out', 'ground', 4.7e-12),
			supply('V1', 'vcc', 8)
		],
		models: {
			npn: {
				kind: 'bipolar transistor',
				saturationCurrent: 2.4e-16,
				forwardEmission: 1,
				reverseEmission: 1,
				forwardGain: 120,
				reverseGain: 5,
				earlyVoltage: 50,
				baseEmitter: { capacitance: 1e-12, potential: 0.75, grading: 0.33, bend: 0.5 },
				baseCollector: { capacitance: 4e-13, potential: 0.65, grading: 0.33, bend: 0.5 },
				forwardTransit: 1.8e-11,
				reverseTransit: 0
			}
		},
		ports: ['in', 'out'],
		probes: [{ name: 'collector current', kind: 'current', element: 'VM' }],
		switches: [supplySwitch]
	},
	portNames: ['input', 'output'],
	limits: {
		inputPower: 8,
		junctions: [{ element: 'Q1', port: 'base-emitter', reverseVoltage: 5.5, current: 0.1 }]
	},
	transmitter: null,
	band: { start: 150e6, stop: 152e6 }
};
