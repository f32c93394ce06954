import { lineTwoPort } from './line.ts';
import type { LineSection } from './line.ts';
import { chainOf } from './two-port.ts';
import type { TwoPort } from './two-port.ts';

/**
 * An adapter as its line sections from port 1 to port 2: one section of 50 Ω if its impedance is constant, a short
 * section of low impedance between good ones for a pair of legacy connectors. No section at all is a through.
 */
export const adapterTwoPort = (sections: readonly LineSection[], frequencies: ArrayLike<number>): TwoPort =>
	chainOf(
		sections.map((section) => lineTwoPort(section, frequencies)),
		frequencies.length
	);
