import { expect, test } from 'vitest';
import { complex, ONE } from '#lib/numeric/complex.ts';
import {
	gammaFromImpedance,
	impedanceFromGamma,
	mismatchLossDb,
	returnLossDb,
	swr
} from '#lib/network/impedance.ts';

test('open, short and match', () => {
	expect(impedanceFromGamma(ONE)).toEqual(complex(Infinity));
	expect(gammaFromImpedance(complex(Infinity))).toEqual(ONE);
	expect(gammaFromImpedance(complex(3, -Infinity))).toEqual(ONE);
	expect(gammaFromImpedance(complex(0)).re).toBe(-1);
	expect(impedanceFromGamma(complex(-1)).re).toBe(0);
	expect(gammaFromImpedance(complex(50))).toEqual(complex(0));
});

test('there and back in 50 and 75 Ω', () => {
	for (const z0 of [50, 75]) {
		for (const z of [complex(12, -300), complex(0, 1e-3), complex(1e6, 1e5), complex(-20, 5)]) {
			const back = impedanceFromGamma(gammaFromImpedance(z, z0), z0);
			expect(Math.hypot(back.re - z.re, back.im - z.im) / Math.hypot(z.re, z.im)).toBeLessThan(1e-9);
		}
	}
});

test('the ends of the scales', () => {
	expect([swr(0), swr(1), swr(1.2)]).toEqual([1, Infinity, Infinity]);
	expect([returnLossDb(0), returnLossDb(1)]).toEqual([Infinity, -0]);
	expect([mismatchLossDb(0), mismatchLossDb(1)]).toEqual([-0, Infinity]);
	expect(returnLossDb(2)).toBeLessThan(0); // more comes back than went out: a device with gain
});
