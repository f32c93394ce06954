import { add, complex, divide, multiply, ONE, put, scale, subtract } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { ratioFromDb } from '#lib/numeric/decibel.ts';
import { faults } from './faults.ts';
import { twoPort } from './two-port.ts';
import type { TwoPort } from './two-port.ts';

export type PadNetwork = 'pi' | 'tee';

/**
 * The three resistors of a pad in Ω from port 1 to port 2: of a pi shunt, series, shunt; of a tee series, shunt, series.
 * A shunt resistor may be Infinity (left out), a series resistor 0 (a wire).
 */
export interface PadResistors {
	readonly network: PadNetwork;
	readonly input: number;
	readonly middle: number;
	readonly output: number;
}

/** What spoils a real pad at high frequency: H in series with each series resistor, F across each shunt resistor. */
export interface PadStrays {
	readonly seriesInductance: number;
	readonly shuntCapacitance: number;
}

export const NO_STRAYS: PadStrays = { seriesInductance: 0, shuntCapacitance: 0 };

/**
 * Resistors of a matched pad of `attenuationDb` ≥ 0 in a system of `z0` Ω. With K = 10^(A/20): pi shunt Z0(K+1)/(K−1),
 * series Z0(K²−1)/(2K); tee series Z0(K−1)/(K+1), shunt 2·Z0·K/(K²−1) (handbook attenuator tables; Pozar, *Microwave
 * Engineering*, 4th ed., 2012, ex. 4.4 is the 3 dB tee). 0 dB is a through: no series resistance, no shunt.
 * Throws `pad-attenuation` for a negative or unreal attenuation.
 */
export function padResistors(attenuationDb: number, network: PadNetwork, z0 = 50): PadResistors {
	if (!(attenuationDb >= 0 && Number.isFinite(attenuationDb)))
		throw faults['pad-attenuation']({ attenuationDb });
	const k = ratioFromDb(attenuationDb);
	const outer = network === 'pi' ? (z0 * (k + 1)) / (k - 1) : (z0 * (k - 1)) / (k + 1);
	const middle = network === 'pi' ? (z0 * (k * k - 1)) / (2 * k) : (2 * z0 * k) / (k * k - 1);
	return { network, input: outer, middle, output: outer };
}

/** The pad whose resistors are off by relative errors (0.01 is 1 % high), in the order input, middle, output. */
export function withErrors(resistors: PadResistors, errors: readonly [number, number, number]): PadResistors {
	return {
		network: resistors.network,
		input: resistors.input * (1 + errors[0]),
		middle: resistors.middle * (1 + errors[1]),
		output: resistors.output * (1 + errors[2])
	};
}

/**
 * Scattering parameters of a pad from its resistors at `frequencies` (Hz, 0 allowed), 50 Ω at both ports: the
 * transmission matrix A, B, C, D of the three elements, then S (Pozar, 4th ed., tables 4.1 and 4.2). Reciprocal, so
 * S12 = S21 exactly.
 */
export function padTwoPort(
	resistors: PadResistors,
	frequencies: ArrayLike<number>,
	strays: PadStrays = NO_STRAYS
): TwoPort {
	const out = twoPort(frequencies.length);
	const pi = resistors.network === 'pi';
	for (let i = 0; i < frequencies.length; i++) {
		const omega = 2 * Math.PI * frequencies[i];
		const series = (ohms: number): Complex => complex(ohms / 50, (omega * strays.seriesInductance) / 50);
		const shunt = (ohms: number): Complex => complex(50 / ohms, omega * strays.shuntCapacitance * 50);
		const first = (pi ? shunt : series)(resistors.input);
		const middle = (pi ? series : shunt)(resistors.middle);
		const last = (pi ? shunt : series)(resistors.output);
		// normalised to 50 Ω a pi is the dual of a tee: exchange A with D and B with C
		const nearer = add(ONE, multiply(first, middle));
		const farther = add(ONE, multiply(last, middle));
		const outer = add(add(first, last), multiply(multiply(first, last), middle));
		const sum = add(add(nearer, farther), add(outer, middle));
		const sign = pi ? -1 : 1;
		const through = divide(complex(2), sum);
		const difference = scale(subtract(outer, middle), sign);
		const unevenness = scale(subtract(nearer, farther), sign);
		put(out.s11, i, divide(add(difference, unevenness), sum));
		put(out.s22, i, divide(subtract(difference, unevenness), sum));
		put(out.s21, i, through);
		put(out.s12, i, through);
	}
	return out;
}
