import { complex, multiply, scale, squareRoot } from '#lib/numeric/complex.ts';
import { putLine } from '#lib/network/line.ts';
import { twoPort } from '#lib/network/two-port.ts';
import type { TwoPort } from '#lib/network/two-port.ts';

/** The length of line between the reference plane and a standard itself. */
export interface OffsetLine {
	/** One way, s, from 0 up. */
	readonly delay: number;
	/** Characteristic impedance without loss, Ω, real, above 0. */
	readonly impedance: number;
	/** Series resistance at 1 GHz for each second of delay, Ω/s, from 0 up; a few 1e9 for a good air line. */
	readonly loss: number;
}

/** Hz: where the loss is stated. */
const LOSS_FREQUENCY = 1e9;

/**
 * Scattering parameters of an offset line at `frequencies` (Hz, 0 allowed), 50 Ω at both ports.
 *
 * Its resistance follows the skin effect: R(f) = loss·delay·√(f/1 GHz), and the surface impedance of a good conductor,
 * (1 + j)·R, adds a reactance of the same size (Pozar, *Microwave Engineering*, 4th ed., 2012, section 1.7). With the
 * lossless series inductance Z0·delay and shunt capacitance delay/Z0 the telegrapher's equations (there, eqs. 2.5
 * and 2.7) give γl = jωτ·√u and Zc = Z0·√u with u = 1 + (1 − j)·loss·√(f/1 GHz)/(ω·Z0). For a small loss the
 * attenuation is loss·delay/(2·Z0)·√(f/1 GHz) in Np, with as much extra phase in rad. At 0 Hz the line is a through.
 */
export function offsetTwoPort(line: OffsetLine, frequencies: ArrayLike<number>): TwoPort {
	const { delay, impedance, loss } = line;
	const out = twoPort(frequencies.length);
	for (let i = 0; i < frequencies.length; i++) {
		const omega = 2 * Math.PI * frequencies[i];
		const rate = loss * Math.sqrt(frequencies[i] / LOSS_FREQUENCY);
		const share = omega > 0 ? rate / (omega * impedance) : 0;
		const root = squareRoot(complex(1 + share, -share));
		putLine(out, i, multiply(complex(0, omega * delay), root), scale(root, impedance));
	}
	return out;
}
