import { expect, test } from 'vitest';
import {
	argument,
	at,
	complex,
	complexArray,
	divide,
	magnitude,
	multiply,
	ONE,
	put
} from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { adapterTwoPort } from '#lib/network/adapter.ts';
import { LIGHT_SPEED, lineTwoPort } from '#lib/network/line.ts';
import { looking } from '#lib/network/two-port.ts';
import { extensionFactor } from '#lib/reflectometer/plane.ts';

const frequencies = Float64Array.of(0, 169.5e6, 1e9);
const everywhere = (value: Complex) => {
	const out = complexArray(frequencies.length);
	for (let i = 0; i < frequencies.length; i++) put(out, i, value);
	return out;
};
const section = (characteristicImpedance: number, delay: number) => ({
	characteristicImpedance,
	length: delay * LIGHT_SPEED,
	velocityFactor: 1,
	conductorLoss: 0,
	dielectricLoss: 0
});

test('an extension takes a matched, lossy line away', () => {
	const gamma = complex(0.3, -0.5);
	const lossy = { ...section(50, 0.7e-9), dielectricLoss: 1e-9 };
	const seen = looking(lineTwoPort(lossy, frequencies), everywhere(gamma));
	const lossDb = (20 / Math.LN10) * lossy.length * lossy.dielectricLoss * 1e9;
	const moved = multiply(at(seen, 2), at(extensionFactor(0.7e-9, lossDb, frequencies), 2));
	expect(moved.re).toBeCloseTo(gamma.re, 12);
	expect(moved.im).toBeCloseTo(gamma.im, 12);
});

test('no extension is a factor of one, and at 0 Hz delay does not matter', () => {
	expect(at(extensionFactor(0, 0, frequencies), 2)).toEqual(ONE);
	expect(at(extensionFactor(1e-9, 0, frequencies), 0)).toEqual(ONE);
});

// Formula: a lossless line of Zc and phase θ before an open or a short is −j·Zc·cot θ or j·Zc·tan θ (Pozar, *Microwave
// Engineering*, 4th ed., 2012, section 2.3), so that it turns the phase by 2·atan(Z0/Zc·tan θ) or 2·atan(Zc/Z0·tan θ),
// and before a match leaves |j(Zc/Z0 − Z0/Zc)·sin θ/(2·cos θ + j(Zc/Z0 + Z0/Zc)·sin θ)|. Worked out for 37.5 Ω, 41 ps
// at 169.5 MHz: 54.64 ps on an open, 30.76 ps on a short, 0.0127.
test('the delay that straightens a mismatched section differs between open and short', () => {
	const adapter = adapterTwoPort([section(37.5, 41e-12)], frequencies);
	const delayOn = (end: Complex): number => {
		const ratio = divide(at(looking(adapter, everywhere(end)), 1), end);
		return -argument(ratio) / (4 * Math.PI * 169.5e6);
	};
	expect(Math.abs(delayOn(complex(1)) - 54.64e-12)).toBeLessThan(0.005e-12);
	expect(Math.abs(delayOn(complex(-1)) - 30.76e-12)).toBeLessThan(0.005e-12);
	const matched = at(looking(adapter, everywhere(complex(0))), 1);
	expect(Math.abs(magnitude(matched) - 0.0127)).toBeLessThan(0.00005);
	// no extension makes the match good
	const moved = multiply(matched, at(extensionFactor(42e-12, 0, frequencies), 1));
	expect(magnitude(moved)).toBeCloseTo(magnitude(matched), 12);
});
