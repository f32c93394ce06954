import type { FrontEnd } from '../front-end.ts';
import { ammeter, capacitor, coil, resistor, supply, supplySwitch } from './parts.ts';

/**
 * The foot of a short whip: a protection resistor, a tuned circuit that steps the voltage up, a junction field-effect
 * transistor as a follower, and a bipolar follower that drives the cable. Some 200 Ω at resonance, kilohms beside it. All
 * values invented.
 */
export const activeWhip: FrontEnd = {
	name: 'active whip',
	label: 'Active whip',
	description:
		'The foot of a short whip in a lightning-detector network: a tuned input of some 200 Ω at 10 MHz that drives a 50 Ω cable.',
	netlist: {
		elements: [
			resistor('R1', 'whip', 'a', 33),
			capacitor('C1', 'a', 't', 1.2e-11),
			coil('L1', 't', 'ground', 4.7e-6, { quality: 60, frequency: 10e6 }),
			resistor('R2', 't', 'ground', 22000),
			capacitor('C2', 't', 'ground', 3.9e-11),
			capacitor('C3', 't', 'g', 2.2e-11),
			resistor('R3', 'g', 'ground', 4.7e5),
			{
				kind: 'junction field-effect transistor',
				name: 'J1',
				drain: 'd',
				gate: 'g',
				source: 's',
				model: 'njf'
			},
			resistor('R4', 'vdd', 'd', 100),
			capacitor('C4', 'd', 'ground', 1e-8),
			resistor('R5', 's', 'ground', 120),
			capacitor('C5', 's', 'b', 1e-8),
			resistor('R6', 'vdd', 'b', 12000),
			resistor('R7', 'b', 'ground', 12000),
			ammeter('VM', 'vdd', 'c'),
			{ kind: 'bipolar transistor', name: 'Q1', collector: 'c', base: 'bx', emitter: 'e', model: 'npn' },
			resistor('R8', 'b', 'bx', 22),
			resistor('R9', 'e', 'ground', 330),
			capacitor('C6', 'e', 'f', 1e-8),
			resistor('R10', 'f', 'out', 33),
			supply('V1', 'vdd', 9)
		],
		models: {
			njf: {
				kind: 'junction field-effect transistor',
				threshold: -1.1,
				transconductance: 1.1e-2,
				channelModulation: 0.015,
				saturationCurrent: 5e-15,
				gateSource: { capacitance: 5.5e-12, potential: 0.85, grading: 0.5, bend: 0.5 },
				gateDrain: { capacitance: 2.4e-12, potential: 0.85, grading: 0.5, bend: 0.5 }
			},
			npn: {
				kind: 'bipolar transistor',
				saturationCurrent: 3e-16,
				forwardEmission: 1,
				reverseEmission: 1,
				forwardGain: 130,
				reverseGain: 4,
				earlyVoltage: 60,
				baseEmitter: { capacitance: 1.6e-12, potential: 0.75, grading: 0.33, bend: 0.5 },
				baseCollector: { capacitance: 7e-13, potential: 0.65, grading: 0.33, bend: 0.5 },
				forwardTransit: 4e-11,
				reverseTransit: 0
			}
		},
		ports: ['whip', 'out'],
		probes: [
			{ name: 'collector current', kind: 'current', element: 'VM' },
			{ name: 'gate voltage', kind: 'voltage', node: 'g' }
		],
		switches: [supplySwitch]
	},
	portNames: ['whip', 'output'],
	limits: {
		inputPower: 12,
		junctions: [{ element: 'J1', port: 'gate-source', reverseVoltage: 20, current: null }]
	},
	transmitter: null,
	band: { start: 9.8e6, stop: 10.3e6 }
};
