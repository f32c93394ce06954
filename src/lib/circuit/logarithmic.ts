import type { Reals } from '#lib/numeric/reals.ts';
import type { PortLaw } from './laws.ts';

/**
 * A variable in which a junction is nearly straight: v = x up to the knee v1 and v1 + nVt·ln(1 + (x − v1)/nVt) above, so
 * that above the knee x is proportional to the current (Maas, *Nonlinear Microwave and RF Circuits*, 2nd ed., 2003,
 * chapter 3, on parametric state variables). For a port that is no junction v = x.
 */

/** Turns `count` samples of x into voltages in place and writes dv/dx. */
export function toVoltage({ junction }: PortLaw, count: number, samples: Reals, derivative: Reals): void {
	if (junction === null) {
		derivative.fill(1, 0, count);
		return;
	}
	const { knee, slope } = junction;
	for (let m = 0; m < count; m++) {
		const above = (samples[m] - knee) / slope;
		if (above > 0) {
			samples[m] = knee + slope * Math.log1p(above);
			derivative[m] = 1 / (1 + above);
		} else derivative[m] = 1;
	}
}

/** Turns `count` samples of a voltage into x in place. */
export function toLogarithm({ junction }: PortLaw, count: number, samples: Reals): void {
	if (junction === null) return;
	const { knee, slope } = junction;
	for (let m = 0; m < count; m++) {
		const above = (samples[m] - knee) / slope;
		if (above > 0) samples[m] = knee + slope * Math.expm1(Math.min(above, 40));
	}
}
