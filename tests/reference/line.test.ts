import { expect, test } from 'vitest';
import {
	add,
	argument,
	at,
	complex,
	complexArray,
	divide,
	magnitude,
	multiply,
	put,
	squareRoot
} from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { adapterTwoPort } from '#lib/network/adapter.ts';
import { gammaFromImpedance, impedanceFromGamma, returnLossDb, swr } from '#lib/network/impedance.ts';
import { LIGHT_SPEED, lineTwoPort, putLine } from '#lib/network/line.ts';
import { looking, twoPort } from '#lib/network/two-port.ts';
import adapterCircuit from './data/circuits/adapter_line.json';
import lossyCircuit from './data/circuits/lossy_line.json';

const lossless = (characteristicImpedance: number, delay: number) => ({
	characteristicImpedance,
	length: LIGHT_SPEED * delay,
	velocityFactor: 1,
	conductorLoss: 0,
	dielectricLoss: 0
});

/** The largest distance between our numbers and pairs of a reference file. */
const distance = (ours: Complex[], reference: number[][]): number =>
	Math.max(...ours.map(({ re, im }, i) => Math.hypot(re - reference[i][0], im - reference[i][1])));

test('40 + j70 Ω at the end of 0.3 wavelengths of 100 Ω line', () => {
	// Pozar, Microwave Engineering, 4th ed., 2012, example 2.2 (memory): 0.59∠104°, SWR 3.87, 4.6 dB, 36.5 − j61.1 Ω;
	// more digits by re-evaluating its formulas.
	const load = complex(40, 70);
	const gamma = gammaFromImpedance(load, 100);
	expect(magnitude(gamma)).toBeCloseTo(0.589, 3);
	expect((argument(gamma) * 180) / Math.PI).toBeCloseTo(104.04, 2);
	expect(swr(magnitude(gamma))).toBeCloseTo(3.866, 3);
	expect(returnLossDb(magnitude(gamma))).toBeCloseTo(4.597, 3);
	const end = complexArray(1);
	put(end, 0, gammaFromImpedance(load));
	const input = impedanceFromGamma(at(looking(lineTwoPort(lossless(100, 0.3e-9), [1e9]), end), 0));
	expect(input.re).toBeCloseTo(36.534, 3);
	expect(input.im).toBeCloseTo(-61.119, 3);
});

test('mismatched adapter line before an R + jX load', () => {
	// adapter_line: independent circuit simulator, provenance beside the data
	const { freqs_hz: frequencies, s11 } = adapterCircuit.results.sparams;
	const end = complexArray(frequencies.length);
	frequencies.forEach((f, i) => {
		const omega = 2 * Math.PI * f;
		const admittance = add(divide(complex(1), complex(33, omega * 12e-9)), complex(0, omega * 1.8e-12));
		put(end, i, gammaFromImpedance(divide(complex(1), admittance)));
	});
	const input = looking(adapterTwoPort([lossless(37.5, 41e-12)], frequencies), end);
	expect(frequencies.length).toBe(60);
	expect(
		distance(
			frequencies.map((_, i) => at(input, i)),
			s11
		)
	).toBeLessThan(1e-9);
});

test('75 Ω line with series loss between 50 Ω ports', () => {
	// lossy_line: independent circuit simulator, provenance beside the data
	const [{ r, l, c, len }] = lossyCircuit.elements;
	const { freqs_hz: frequencies, s11, s12, s21, s22 } = lossyCircuit.results.sparams;
	const line = twoPort(frequencies.length);
	frequencies.forEach((f, i) => {
		const omega = 2 * Math.PI * f;
		const series = complex(r, omega * l);
		const shunt = complex(0, omega * c);
		const gamma = squareRoot(multiply(series, shunt));
		putLine(line, i, complex(gamma.re * len, gamma.im * len), squareRoot(divide(series, shunt)));
	});
	expect(frequencies.length).toBe(61);
	for (const [ours, reference] of [
		[line.s11, s11],
		[line.s12, s12],
		[line.s21, s21],
		[line.s22, s22]
	] as const) {
		expect(
			distance(
				frequencies.map((_, i) => at(ours, i)),
				reference
			)
		).toBeLessThan(1e-9);
	}
});

/** One-way delay in ps that a section of 37.5 Ω and 41 ps seems to have when ended by an open (1) or a short (−1). */
function seenDelay(end: number, f: number): number {
	const { re, im } = seenThroughSection(end, f);
	return (-argument(complex(re * end, im * end)) / (4 * Math.PI * f)) * 1e12;
}

function seenThroughSection(end: number, f: number): Complex {
	const gamma = complexArray(1);
	gamma.re[0] = end;
	return at(looking(lineTwoPort(lossless(37.5, 41e-12), [f]), gamma), 0);
}

test('a short section of 37.5 Ω, 41 ps seems longer on an open and shorter on a short', () => {
	// Closed form from Pozar, 4th ed., eq. 2.44: the input reactance of a shorted line is Zc·tan θ, the susceptance of an
	// open one tan θ/Zc, so the seen tan θ is 37.5/50 or 50/37.5 times the real one. At low frequency that is 30.75 and
	// 54.67 ps; at 169.5 MHz 30.76 and 54.64 ps.
	expect(seenDelay(1, 1e6)).toBeCloseTo((41 * 50) / 37.5, 4);
	expect(seenDelay(-1, 1e6)).toBeCloseTo((41 * 37.5) / 50, 4);
	const f = 169.5e6;
	const theta = 2 * Math.PI * f * 41e-12;
	const picoseconds = (tangent: number): number => (Math.atan(tangent) / (2 * Math.PI * f)) * 1e12;
	expect(seenDelay(1, f)).toBeCloseTo(picoseconds((Math.tan(theta) * 50) / 37.5), 9);
	expect(seenDelay(-1, f)).toBeCloseTo(picoseconds((Math.tan(theta) * 37.5) / 50), 9);
	expect(seenDelay(1, f)).toBeCloseTo(54.64, 2);
	expect(seenDelay(-1, f)).toBeCloseTo(30.76, 2);
});

test('the same section leaves |Γ| = 0.0127 in front of a matched load at 169.5 MHz', () => {
	// |j(z − 1/z)·sin θ/(2·cos θ + j(z + 1/z)·sin θ)|, z = 37.5/50: Pozar, 4th ed., tables 4.1 and 4.2
	const theta = 2 * Math.PI * 169.5e6 * 41e-12;
	const z = 37.5 / 50;
	const residual =
		(Math.abs(z - 1 / z) * Math.sin(theta)) / Math.hypot(2 * Math.cos(theta), (z + 1 / z) * Math.sin(theta));
	expect(magnitude(seenThroughSection(0, 169.5e6))).toBeCloseTo(residual, 14);
	expect(residual).toBeCloseTo(0.0127, 4);
});
