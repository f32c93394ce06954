import type { Netlist } from './netlist.ts';

/**
 * The receive preamp of a river-gauge mast, about 19 dB at 169.5 MHz from 5 V; invented. A tapped-capacitor resonator at the
 * input, 10 Ω of the emitter resistor left unbypassed, a damped tuned collector and a capacitive tap at the output. The
 * coils have a Q of 70 and 60 at 169.5 MHz. Port 1 is the input.
 */
export const mastPreamp: Netlist = {
	elements: [
		{ kind: 'capacitor', name: 'C1', from: 'in', to: 'a', capacitance: 4.7e-12, seriesResistance: 0 },
		{ kind: 'coil', name: 'L1', from: 'a', to: 'ground', inductance: 2.2e-8, seriesResistance: 0.334714 },
		{ kind: 'capacitor', name: 'C2', from: 'a', to: 'ground', capacitance: 3.3e-11, seriesResistance: 0 },
		{ kind: 'capacitor', name: 'C3', from: 'a', to: 'b', capacitance: 2.2e-11, seriesResistance: 0 },
		{ kind: 'resistor', name: 'R1', from: 'vcc', to: 'b', resistance: 15000 },
		{ kind: 'resistor', name: 'R2', from: 'b', to: 'ground', resistance: 6800 },
		{ kind: 'resistor', name: 'R3', from: 'b', to: 'bi', resistance: 6 },
		{ kind: 'bipolar transistor', name: 'Q1', collector: 'cx', base: 'bi', emitter: 'e', model: 'npn1' },
		{ kind: 'ammeter', name: 'VM', from: 'c', to: 'cx' },
		{ kind: 'resistor', name: 'R6', from: 'e', to: 'e2', resistance: 10 },
		{ kind: 'resistor', name: 'R4', from: 'e2', to: 'ground', resistance: 180 },
		{ kind: 'capacitor', name: 'C4', from: 'e2', to: 'ground', capacitance: 4.7e-10, seriesResistance: 0 },
		{ kind: 'coil', name: 'L2', from: 'c', to: 'vcc', inductance: 3.3e-8, seriesResistance: 0.58575 },
		{ kind: 'resistor', name: 'R5', from: 'c', to: 'vcc', resistance: 150 },
		{ kind: 'capacitor', name: 'C7', from: 'c', to: 'ground', capacitance: 1.8e-11, seriesResistance: 0 },
		{ kind: 'capacitor', name: 'C5', from: 'c', to: 'out', capacitance: 2e-11, seriesResistance: 0 },
		{ kind: 'capacitor', name: 'C6', from: 'out', to: 'ground', capacitance: 4.7e-12, seriesResistance: 0 },
		{ kind: 'supply', name: 'V1', from: 'vcc', to: 'ground', voltage: 5 }
	],
	models: {
		npn1: {
			kind: 'bipolar transistor',
			saturationCurrent: 2e-16,
			forwardEmission: 1,
			reverseEmission: 1,
			forwardGain: 110,
			reverseGain: 5,
			earlyVoltage: 45,
			baseEmitter: { capacitance: 1.1e-12, potential: 0.75, grading: 0.33, bend: 0.5 },
			baseCollector: { capacitance: 3.8e-13, potential: 0.65, grading: 0.33, bend: 0.5 },
			forwardTransit: 2e-11,
			reverseTransit: 0
		}
	},
	ports: ['in', 'out'],
	probes: [{ name: 'collector current', kind: 'current', element: 'VM' }]
};
