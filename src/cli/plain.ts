import type { Fault } from '#lib/fault.ts';
import { at } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';

/** What JSON shows of the core's own shapes. JSON has no infinity: what is infinite or undefined becomes null. */

export type Pair = readonly [re: number, im: number];

export const pair = ({ re, im }: Complex): Pair => [re, im];

/** One [re, im] a frequency. */
export const pairs = (values: ComplexArray): Pair[] => Array.from(values.re, (_, i) => pair(at(values, i)));

export const plainFault = ({ code, place, finding, remedy }: Fault) => ({ code, place, finding, remedy });
