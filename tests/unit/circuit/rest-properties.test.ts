import fc from 'fast-check';
import { expect, test } from 'vitest';
import { equationsOf } from '#lib/circuit/equations.ts';
import type { Equations } from '#lib/circuit/equations.ts';
import { growingModes } from '#lib/circuit/rest-stability.ts';
import { complex } from '#lib/numeric/complex.ts';
import { capacitor, coil, netlist, resistor } from './circuits.ts';

/**
 * Whether a lumped circuit grows, found in another way: the step of the trapezoidal rule, (C + hG/2)⁻¹·(C − hG/2), takes
 * growing modes, and no others, out of the unit circle, whatever h (Dahlquist, BIT 3, 1963). Its largest factor a step is
 * found by squaring the matrix over and over.
 */
function largestFactor({ size, conductance, capacitance, ports }: Equations, h: number): number {
	const a = Float64Array.from(conductance);
	for (const { voltage, current } of ports) {
		a[current * size + voltage] += 1;
		a[current * size + current] += 50;
	}
	// solves (C + hG/2)·M = C − hG/2 by Gauss–Jordan
	const rows = Array.from({ length: size }, (_, i) =>
		Array.from({ length: 2 * size }, (__, j) => {
			const k = i * size + (j % size);
			return capacitance[k] + ((j < size ? 1 : -1) * h * a[k]) / 2;
		})
	);
	for (let k = 0; k < size; k++) {
		const best = rows.findIndex(
			(row, i) => i >= k && Math.abs(row[k]) === Math.max(...rows.slice(k).map((other) => Math.abs(other[k])))
		);
		[rows[k], rows[best]] = [rows[best], rows[k]];
		for (let i = 0; i < size; i++) {
			if (i === k) continue;
			const factor = rows[i][k] / rows[k][k];
			rows[i] = rows[i].map((value, j) => value - factor * rows[k][j]);
		}
	}
	let m = rows.map((row, i) => row.slice(size).map((value) => value / row[i]));
	let logarithm = 0;
	for (let power = 1; power <= 2 ** 30; power *= 2) {
		const norm = Math.max(...m.flat().map(Math.abs));
		logarithm += Math.log(norm) / power;
		m = m.map((row) => row.map((value) => value / norm));
		m = m.map((row) => row.map((_, j) => row.reduce((sum, value, k) => sum + value * m[k][j], 0)));
	}
	return Math.exp(logarithm);
}

test('random circuits with gain grow if and only if the trapezoidal rule says so', () => {
	const nodes = ['in', 'out', 'a', 'b', '0'];
	const decade = (low: number, high: number): fc.Arbitrary<number> =>
		fc.double({ min: low, max: high, noNaN: true }).map((exponent) => 10 ** exponent);
	const ends = fc.tuple(fc.constantFrom(...nodes), fc.constantFrom(...nodes)).filter(([a, b]) => a !== b);
	const element = fc.oneof(
		fc.tuple(ends, decade(1, 4)).map(
			([[from, to], r]) =>
				(name: string) =>
					resistor(name, from, to, r)
		),
		fc.tuple(ends, decade(-9, -6)).map(
			([[from, to], l]) =>
				(name: string) =>
					coil(name, from, to, l, 0.3)
		),
		fc.tuple(ends, decade(-13, -10)).map(
			([[from, to], c]) =>
				(name: string) =>
					capacitor(name, from, to, c)
		),
		fc
			.tuple(ends, ends, decade(-3, -1), fc.constantFrom(1, -1))
			.map(([[from, to], control, g, sign]) => (name: string) => ({
				kind: 'controlled source' as const,
				name,
				from,
				to,
				control,
				transconductance: sign * g
			}))
	);
	const count = { grows: 0, stays: 0 };
	fc.assert(
		fc.property(fc.array(element, { minLength: 3, maxLength: 9 }), (drawn) => {
			const equations = equationsOf(
				netlist(
					[
						...['in', 'out', 'a', 'b'].flatMap((node) => [
							resistor(`R ${node}`, node, '0', 3e3),
							capacitor(`C ${node}`, node, '0', 1e-13)
						]),
						...drawn.map((make, i) => make(`E${i}`))
					],
					['in', 'out']
				)
			);
			const factors = [1e-11, 1e-9, 1e-8].map((h) => largestFactor(equations, h));
			const most = Math.max(...factors);
			// what has no memory turns round at every step, a factor of −1
			const grows = most > 1 + 1e-7;
			const found = growingModes(equations, { ends: () => [complex(0), complex(0)], devices: [] });
			expect(found !== null).toBe(grows);
			count[grows ? 'grows' : 'stays']++;
		}),
		{ seed: 11, numRuns: 300 }
	);
	expect(Math.min(count.grows, count.stays)).toBeGreaterThan(50);
});
