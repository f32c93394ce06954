import { expect, test } from 'vitest';
import { equationsOf } from '#lib/circuit/equations.ts';
import { noiseWaves } from '#lib/circuit/noise-waves.ts';
import { readReferenceForm } from '#lib/circuit/reference-form.ts';
import { smallSignal } from '#lib/circuit/small-signal.ts';
import { noiseFactor } from '#lib/network/noise-waves.ts';
import { padResistors, padTwoPort } from '#lib/network/pad.ts';
import { BOLTZMANN, dbFromPower, STANDARD_TEMPERATURE } from '#lib/numeric/decibel.ts';

/**
 * The noise of a passive part must be kT(I − S·S†): Bosma, Philips Research Reports Supplements 10, 1967; Wedge &
 * Rutledge, IEEE Trans. MTT 40(11), 1992. S is that of the independent circuit simulator that made the reference circuits, so
 * neither the sources of noise nor the way they are added up is used twice.
 */

type Pair = readonly [number, number];
interface Circuit {
	readonly id: string;
	readonly results: { readonly sparams: Readonly<Record<string, readonly Pair[]>> & { freqs_hz: number[] } };
}

const files = import.meta.glob<Circuit>('./data/circuits/*.json', { eager: true, import: 'default' });
const passive = Object.values(files).filter(({ id }) =>
	/^(pad|lmatch|ladder|lossy|crystal|adapter)/.test(id)
);
const KT = BOLTZMANN * STANDARD_TEMPERATURE;

test('all passive reference circuits are there', () => expect(passive).toHaveLength(16));

test.each(passive.map((circuit) => [circuit.id, circuit] as const))('%s: kT(I − S·S†)', (_, circuit) => {
	const { netlist } = readReferenceForm(circuit);
	const { freqs_hz, ...s } = circuit.results.sparams;
	const c = noiseWaves(equationsOf(netlist), freqs_hz);
	let worst = 0;
	freqs_hz.forEach((_, k) =>
		c.forEach((row, i) =>
			row.forEach(({ re, im }, j) => {
				let [a, b] = [i === j ? 1 : 0, 0];
				c.forEach((_, m) => {
					const [x, y] = s[`s${i + 1}${m + 1}`][k];
					const [u, v] = s[`s${j + 1}${m + 1}`][k];
					a -= x * u + y * v;
					b -= y * u - x * v;
				});
				worst = Math.max(worst, Math.hypot(re[k] / KT - a, im[k] / KT - b));
			})
		)
	);
	expect(worst).toBeLessThan(1e-9);
});

test.each([
	[10, 350, 10.74],
	[3, 290, 3],
	[20, 290, 20]
])('a matched pad of %f dB at %f K has a noise factor of %f dB', (attenuation, temperature, expected) => {
	// 1 + (L − 1)·T/T0: Pozar, Microwave Engineering, 4th ed., 2012, section 10.2 (noise figure of a lossy part, from memory)
	for (const network of ['pi', 'tee'] as const) {
		const resistors = padResistors(attenuation, network);
		const [factor] = noiseFactor(padTwoPort(resistors, [1e8]), temperature);
		expect(Math.abs(dbFromPower(factor) - expected)).toBeLessThan(0.005);
	}
});

test('the same pad as a netlist: the noise at its output over what passes of the source’s', () => {
	const { netlist } = readReferenceForm(passive.find(({ id }) => id === 'pad_tee_10'));
	const equations = equationsOf(netlist);
	const [, [, c22]] = noiseWaves(equations, [1e8], { temperature: 350 });
	const [, [s21]] = smallSignal(equations, [1e8]);
	const factor = 1 + c22.re[0] / (KT * (s21.re[0] ** 2 + s21.im[0] ** 2));
	expect(Math.abs(dbFromPower(factor) - 10.74)).toBeLessThan(0.005);
});
