import {
	complex,
	divide,
	exponential,
	multiply,
	ONE,
	put,
	scale,
	subtract,
	add
} from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { twoPort } from './two-port.ts';
import type { TwoPort } from './two-port.ts';

/** Speed of light in m/s, exact (SI). */
export const LIGHT_SPEED = 299792458;

/**
 * A uniform length of line. Loss has a part from the conductors, growing with √f (skin effect), and one from the
 * dielectric, growing with f: α = conductorLoss·√f + dielectricLoss·f in Np/m.
 */
export interface LineSection {
	/** Ω, real, above zero. */
	readonly characteristicImpedance: number;
	/** m. */
	readonly length: number;
	/** Speed on the line over the speed of light, above 0 up to 1. */
	readonly velocityFactor: number;
	/** Np/m/√Hz. */
	readonly conductorLoss: number;
	/** Np/m/Hz. */
	readonly dielectricLoss: number;
}

/** One-way delay in s. */
export const delayOf = (line: LineSection): number => line.length / (LIGHT_SPEED * line.velocityFactor);

/** One-way loss in Np at `frequency` Hz: 8.686 dB a neper. */
export const lossOf = (line: LineSection, frequency: number): number =>
	line.length * (line.conductorLoss * Math.sqrt(frequency) + line.dielectricLoss * frequency);

/**
 * Puts a line of propagation `gammaLength` = (α + jβ)·length and characteristic impedance `impedance` (complex Ω, not
 * infinite, real part not negative) at frequency i of `out`, in 50 Ω. With r = (Zc − 50)/(Zc + 50) and e = e^(−γl):
 * S11 = S22 = r(1 − e²)/(1 − r²e²), S21 = S12 = (1 − r²)e/(1 − r²e²). This is the hyperbolic transmission matrix
 * (Pozar, *Microwave Engineering*, 4th ed., 2012, tables 4.1 and 4.2) divided through by e^(γl), so that a very lossy
 * line overflows nothing.
 */
export function putLine(out: TwoPort, i: number, gammaLength: Complex, impedance: Complex): void {
	const r = divide(subtract(impedance, complex(50)), add(impedance, complex(50)));
	const r2 = multiply(r, r);
	const e = exponential(scale(gammaLength, -1));
	const e2 = multiply(e, e);
	const whole = subtract(ONE, multiply(r2, e2));
	const reflected = divide(multiply(r, subtract(ONE, e2)), whole);
	const passed = divide(multiply(subtract(ONE, r2), e), whole);
	put(out.s11, i, reflected);
	put(out.s22, i, reflected);
	put(out.s21, i, passed);
	put(out.s12, i, passed);
}

/** Scattering parameters of a line section at `frequencies` (Hz, 0 allowed), 50 Ω at both ports. */
export function lineTwoPort(line: LineSection, frequencies: ArrayLike<number>): TwoPort {
	const out = twoPort(frequencies.length);
	const impedance = complex(line.characteristicImpedance);
	const delay = delayOf(line);
	for (let i = 0; i < frequencies.length; i++) {
		const f = frequencies[i];
		putLine(out, i, complex(lossOf(line, f), 2 * Math.PI * f * delay), impedance);
	}
	return out;
}
