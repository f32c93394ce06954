import type { FrontEnd } from '../front-end.ts';
import type { Element } from '../netlist.ts';
import { capacitor, device, resistor } from './parts.ts';

const line = (name: string, from: string, to: string): Element => ({
	kind: 'ideal line',
	name,
	near: [from, 'ground'],
	far: [to, 'ground'],
	characteristicImpedance: 50,
	delay: 1.2e-10
});

/** Two diodes the opposite way round across a line: they let small signals pass and hold large ones. All values invented. */
export const limiter: FrontEnd = {
	name: 'limiter',
	label: 'Limiter',
	description:
		'Two diodes across a short 50 Ω line at 433 MHz; they let small signals pass and clip above about 0 dBm.',
	netlist: {
		elements: [
			line('T1', 'in', 'a'),
			resistor('R1', 'a', 'p', 1),
			device('diode', 'D1', 'p', 'ground', 'clipper'),
			resistor('R2', 'a', 'n', 1),
			device('diode', 'D2', 'ground', 'n', 'clipper'),
			line('T2', 'a', 'b'),
			capacitor('C1', 'b', 'out', 1e-10),
			resistor('R3', 'b', 'ground', 10000)
		],
		models: {
			clipper: {
				kind: 'diode',
				saturationCurrent: 2e-8,
				emissionCoefficient: 1.05,
				depletion: { capacitance: 3.5e-13, potential: 0.5, grading: 0.4, bend: 0.5 }
			}
		},
		ports: ['in', 'out'],
		probes: []
	},
	portNames: ['input', 'output'],
	limits: {
		inputPower: 20,
		junctions: ['D1', 'D2'].map((element) => ({
			element,
			port: 'junction',
			reverseVoltage: 5,
			current: 0.12
		}))
	},
	transmitter: null,
	band: { start: 430e6, stop: 436e6 }
};
