import fc from 'fast-check';
import { expect, test } from 'vitest';
import { endedAngle, isTame } from '#lib/circuit/port-ends.ts';
import { add, argument, complex, magnitude, multiply, polar, subtract } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';

const inDisc = (most: number): fc.Arbitrary<Complex> =>
	fc
		.tuple(fc.double({ min: 0, max: most, noNaN: true }), fc.double({ min: 0, max: 6.3, noNaN: true }))
		.map(([r, angle]) => polar(r, angle));

const twoPort = fc.tuple(inDisc(1.1), inDisc(0.4), inDisc(4), inDisc(1.1));

test('two ports are tame where Rollett’s K is above 1 and |det S| below 1', () => {
	// Edwards & Sinsky, IEEE Trans. MTT 40(12), 1992, eq. (1) and (2)
	const count = { tame: 0, wild: 0 };
	fc.assert(
		fc.property(twoPort, ([s11, s12, s21, s22]) => {
			const delta = magnitude(subtract(multiply(s11, s22), multiply(s12, s21)));
			const k =
				(1 - magnitude(s11) ** 2 - magnitude(s22) ** 2 + delta ** 2) / (2 * magnitude(multiply(s12, s21)));
			fc.pre(Math.abs(k - 1) > 1e-3 && Math.abs(delta - 1) > 1e-3);
			const tame = isTame([
				[s11, s12],
				[s21, s22]
			]);
			expect(tame).toBe(k > 1 && delta < 1);
			count[tame ? 'tame' : 'wild']++;
		}),
		{ seed: 4, numRuns: 1000 }
	);
	expect(Math.min(count.tame, count.wild)).toBeGreaterThan(100);
});

test('the angle of the ends is that of the determinant, and continuous for tame circuits', () => {
	fc.assert(
		fc.property(twoPort, inDisc(1), inDisc(1), ([s11, s12, s21, s22], g1, g2) => {
			const waves = [
				[s11, s12],
				[s21, s22]
			];
			// det(1 − S·Γ) written out
			const whole = (a: Complex, b: Complex): Complex =>
				subtract(
					multiply(subtract(complex(1), multiply(s11, a)), subtract(complex(1), multiply(s22, b))),
					multiply(multiply(s12, s21), multiply(a, b))
				);
			const angle = endedAngle(waves, [g1, g2]);
			expect(Math.cos(angle - argument(whole(g1, g2)))).toBeCloseTo(1, 9);
			if (!isTame(waves)) return;
			let followed = 0;
			let last = complex(1);
			for (let k = 1; k <= 2000; k++) {
				const next = whole(
					polar((magnitude(g1) * k) / 2000, argument(g1)),
					polar((magnitude(g2) * k) / 2000, argument(g2))
				);
				followed += argument(multiply(next, { re: last.re, im: -last.im }));
				last = next;
			}
			expect(add(complex(angle), complex(-followed)).re).toBeCloseTo(0, 6);
		}),
		{ seed: 5, numRuns: 200 }
	);
});

test('an amplifier without feedback is tame if its ports are, whatever its gain', () => {
	expect(
		isTame([
			[complex(0.5), complex(0)],
			[complex(100), complex(0.5)]
		])
	).toBe(true);
	expect(
		isTame([
			[complex(1.01), complex(0)],
			[complex(0), complex(0.5)]
		])
	).toBe(false);
});
