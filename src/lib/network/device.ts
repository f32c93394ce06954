import { complexArray } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { interpolateTable } from '#lib/numeric/interpolation.ts';
import type { NetworkData } from './network-data.ts';
import { looking, twoPort } from './two-port.ts';
import type { TwoPort } from './two-port.ts';

/** The input reflection of a two-port device with `termination` on its output, over the same frequencies. */
export const deviceGamma = (device: TwoPort, termination: ComplexArray): ComplexArray =>
	looking(device, termination);

/** Data brought to other frequencies; `outside` is true if any of them lay beyond the data, whose end is held there. */
export interface OnePortAt {
	readonly gamma: ComplexArray;
	readonly outside: boolean;
}

export interface TwoPortAt {
	readonly twoPort: TwoPort;
	readonly outside: boolean;
}

/** S11 of the data at `frequencies` in Hz, interpolated on real and imaginary parts; of a two-port with 50 Ω behind it. */
export function onePortAt(data: NetworkData, frequencies: ArrayLike<number>): OnePortAt {
	if (data.ports === 2) {
		const { twoPort, outside } = twoPortAt(data, frequencies);
		return { gamma: twoPort.s11, outside };
	}
	const gamma = complexArray(frequencies.length);
	const outside = interpolateTable(data.frequencies, data.s, 2, frequencies, [gamma.re, gamma.im]);
	return { gamma, outside };
}

/** The two-port of the data at `frequencies` in Hz. A one-port lets nothing through: S12 = S21 = S22 = 0. */
export function twoPortAt(data: NetworkData, frequencies: ArrayLike<number>): TwoPortAt {
	const out = twoPort(frequencies.length);
	if (data.ports === 1) {
		const { gamma, outside } = onePortAt(data, frequencies);
		return { twoPort: { ...out, s11: gamma }, outside };
	}
	const columns = [out.s11, out.s12, out.s21, out.s22].flatMap(({ re, im }) => [re, im]);
	return { twoPort: out, outside: interpolateTable(data.frequencies, data.s, 8, frequencies, columns) };
}
