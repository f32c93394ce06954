import { THERMAL_VOLTAGE } from '#lib/circuit/laws.ts';
import type { Netlist, Resistor } from '#lib/circuit/netlist.ts';

/** Ω across the smoothing capacitor: the input of the meter. */
const METER_RESISTANCE = 47e3;
/** Of the diode: A, and what its thermal voltage is multiplied by. */
const SATURATION_CURRENT = 4e-6;
const EMISSION = 1.06;

const resistor = (name: string, from: string, to: string, resistance: number): Resistor => ({
	kind: 'resistor',
	name,
	from,
	to,
	resistance
});

/**
 * A diode detector for a wide band: a resistor that ends the line, a diode without bias, a smoothing capacitor and a
 * meter. All values are invented. Its direct voltage is the probe `detected voltage`.
 */
export const detectorCircuit: Netlist = {
	elements: [
		{ kind: 'capacitor', name: 'C1', from: 'in', to: 'a', capacitance: 1e-9, seriesResistance: 0 },
		resistor('R1', 'a', 'ground', 51),
		resistor('R2', 'a', 'b', 15),
		{ kind: 'diode', name: 'D1', anode: 'b', cathode: 'k', model: 'detector' },
		{ kind: 'capacitor', name: 'C2', from: 'k', to: 'ground', capacitance: 4.7e-10, seriesResistance: 0 },
		resistor('R3', 'k', 'ground', METER_RESISTANCE)
	],
	models: {
		detector: {
			kind: 'diode',
			saturationCurrent: SATURATION_CURRENT,
			emissionCoefficient: EMISSION,
			depletion: { capacitance: 2e-13, potential: 0.35, grading: 0.45, bend: 0.5 }
		}
	},
	ports: ['in'],
	probes: [{ name: 'detected voltage', kind: 'voltage', node: 'k' }]
};

/** Ω that the meter looks into at rest: the diode, N·Vt/IS, with the meter's own resistance across it. */
export const REST_RESISTANCE = 1 / (SATURATION_CURRENT / (EMISSION * THERMAL_VOLTAGE) + 1 / METER_RESISTANCE);
