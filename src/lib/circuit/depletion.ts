import type { Reals } from '#lib/numeric/reals.ts';
import type { Depletion } from './netlist.ts';

/**
 * Adds the depletion charge of a junction and its capacitance to the first `count` samples of `charge` and `capacitance`.
 * Below bend·potential q = C·VJ/(1 − M)·(1 − (1 − v/VJ)^(1 − M)) (Sze, *Physics of Semiconductor Devices*, 2nd ed.,
 * 1981, section 2.4); above it the capacitance is a straight line of the same slope and the charge its integral.
 */
export function addDepletion(
	law: Depletion,
	count: number,
	voltage: Reals,
	charge: Reals,
	capacitance: Reals
): void {
	const { capacitance: c0, potential, grading, bend } = law;
	if (c0 === 0) return;
	const limit = bend * potential;
	const whole = (c0 * potential) / (1 - grading);
	const atLimit = c0 * (1 - bend) ** -grading;
	const slope = (atLimit * grading) / (potential * (1 - bend));
	const chargeAtLimit = whole * (1 - (1 - bend) ** (1 - grading));
	const root = grading === 0.5;
	const inverse = 1 / potential;
	for (let m = 0; m < count; m++) {
		const v = voltage[m];
		if (v < limit) {
			const rest = 1 - v * inverse;
			const factor = root ? 1 / Math.sqrt(rest) : Math.exp(-grading * Math.log(rest));
			charge[m] += whole * (1 - rest * factor);
			capacitance[m] += c0 * factor;
		} else {
			const above = v - limit;
			charge[m] += chargeAtLimit + above * (atLimit + 0.5 * slope * above);
			capacitance[m] += atLimit + slope * above;
		}
	}
}
