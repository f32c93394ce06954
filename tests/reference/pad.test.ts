import { expect, test } from 'vitest';
import { at } from '#lib/numeric/complex.ts';
import { padResistors, padTwoPort, withErrors } from '#lib/network/pad.ts';
import type { PadNetwork } from '#lib/network/pad.ts';

interface PadCircuit {
	readonly elements: readonly { readonly value: number }[];
	readonly results: { readonly sparams: Readonly<Record<'s11' | 's12' | 's21' | 's22', number[][]>> };
}

const circuits = import.meta.glob<PadCircuit>('./data/circuits/pad_*.json', {
	eager: true,
	import: 'default'
});

/** Half of the last printed digit. */
const rounding = (printed: string): number => 0.5 * 10 ** -printed.split('.')[1].length;

// Handbook attenuator tables for 50 Ω (memory): outer and middle resistors as printed.
test.each<[PadNetwork, number, string, string]>([
	['pi', 3, '292.40', '17.615'],
	['pi', 6, '150.48', '37.352'],
	['pi', 10, '96.248', '71.151'],
	['pi', 20, '61.111', '247.50'],
	['pi', 30, '53.266', '789.78'],
	['tee', 3, '8.550', '141.93'],
	['tee', 6, '16.614', '66.931'],
	['tee', 10, '25.975', '35.136'],
	['tee', 20, '40.909', '10.101'],
	['tee', 30, '46.935', '3.165']
])('%s pad of %d dB: %s Ω outside, %s Ω between', (network, attenuationDb, outer, middle) => {
	const resistors = padResistors(attenuationDb, network);
	expect(resistors.input).toBe(resistors.output);
	expect(Math.abs(resistors.input - Number(outer))).toBeLessThan(rounding(outer));
	expect(Math.abs(resistors.middle - Number(middle))).toBeLessThan(rounding(middle));
});

test('every reference pad was found', () => expect(Object.keys(circuits)).toHaveLength(11));

// Independent circuit simulator, provenance beside the data.
test.each(Object.entries(circuits))('%s: resistors and scattering parameters to 1e-9', (path, circuit) => {
	const [, network, decibels] = /pad_(pi|tee)_(\d+)/.exec(path) ?? [];
	const nominal = padResistors(Number(decibels), network as PadNetwork);
	const resistors = path.includes('wrong') ? withErrors(nominal, [0.05, 0, 0]) : nominal;
	// the elements are listed from port 1 to port 2
	const values = circuit.elements.map((element) => element.value);
	[resistors.input, resistors.middle, resistors.output].forEach((ohms, k) =>
		expect(Math.abs(ohms / values[k] - 1)).toBeLessThan(1e-12)
	);
	const ours = padTwoPort(resistors, [1e6, 500.5e6, 1e9]);
	for (const name of ['s11', 's12', 's21', 's22'] as const) {
		circuit.results.sparams[name].forEach(([re, im], i) => {
			const value = at(ours[name], i);
			expect(Math.hypot(value.re - re, value.im - im)).toBeLessThan(1e-9);
		});
	}
});
