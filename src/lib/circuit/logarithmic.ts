import type { Reals } from '#lib/numeric/reals.ts';
import type { PortLaw } from './laws.ts';

/**
 * A variable in which a junction is nearly straight: v = x up to the knee v1 and v1 + nVt·ln(1 + (x − v1)/nVt) above, so
 * that above the knee x is proportional to the current (Maas, *Nonlinear Microwave and RF Circuits*, 2nd ed., 2003,
 * chapter 3, on parametric state variables).
 */

/** Turns `count` samples of x into voltages in place and writes dv/dx. */
export function toVoltage({ knee, slope }: PortLaw, count: number, samples: Reals, derivative: Reals): void {
	for (let m = 0; m < count; m++) {
		const above = (samples[m] - knee) / slope;
		if (above > 0) {
			samples[m] = knee + slope * Math.log1p(above);
			derivative[m] = 1 / (1 + above);
		} else derivative[m] = 1;
	}
}

/** Turns `count` samples of a voltage into x in place. */
export function toLogarithm({ knee, slope }: PortLaw, count: number, samples: Reals): void {
	for (let m = 0; m < count; m++) {
		const above = (samples[m] - knee) / slope;
		if (above > 0) samples[m] = knee + slope * Math.expm1(Math.min(above, 40));
	}
}
