import { addDepletion } from './depletion.ts';
import { exponentLimit, junctionPort, LEAST_CONDUCTANCE } from './laws.ts';
import type { Law } from './laws.ts';
import type { DiodeModel } from './netlist.ts';

/**
 * Diode or varactor, one port from anode to cathode: i = IS·(e^(v/(N·Vt)) − 1) (Shockley 1949) and depletion charge.
 */
export function diodeLaw(model: DiodeModel): Law {
	const { saturationCurrent, emissionCoefficient, depletion } = model;
	const port = junctionPort('junction', saturationCurrent, emissionCoefficient, 0.02);
	const inverse = 1 / port.junction.slope;
	const limit = exponentLimit(saturationCurrent);
	return {
		ports: [port],
		charged: depletion.capacitance > 0,
		evaluate(count, voltage, out) {
			const v = voltage[0];
			const current = out.current[0];
			const conductance = out.conductance[0];
			for (let m = 0; m < count; m++) {
				const x = v[m] * inverse;
				const within = x < limit ? x : limit;
				const e = saturationCurrent * Math.exp(within);
				current[m] = e * (1 + (x - within)) - saturationCurrent + LEAST_CONDUCTANCE * v[m];
				conductance[m] = e * inverse + LEAST_CONDUCTANCE;
			}
			if (depletion.capacitance === 0) return;
			const charge = out.charge[0];
			const capacitance = out.capacitance[0];
			for (let m = 0; m < count; m++) charge[m] = capacitance[m] = 0;
			addDepletion(depletion, count, v, charge, capacitance);
		}
	};
}
