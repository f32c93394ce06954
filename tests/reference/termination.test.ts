import { expect, test } from 'vitest';
import { argument, at, complex, complexArray, magnitude, polar, put } from '#lib/numeric/complex.ts';
import { deviceGamma } from '#lib/network/device.ts';
import { gammaFromImpedance } from '#lib/network/impedance.ts';
import { twoPort } from '#lib/network/two-port.ts';

test('a transistor with 40 Ω on its output shows Γ = 0.3653∠−152.04°', () => {
	// Pozar, Microwave Engineering, 4th ed., 2012, example 12.1 (memory): 0.365∠−152°; more digits by re-evaluating it.
	const device = twoPort(1);
	const degrees = Math.PI / 180;
	put(device.s11, 0, polar(0.38, -158 * degrees));
	put(device.s12, 0, polar(0.11, 54 * degrees));
	put(device.s21, 0, polar(3.5, 80 * degrees));
	put(device.s22, 0, polar(0.4, -43 * degrees));
	const load = complexArray(1);
	put(load, 0, gammaFromImpedance(complex(40)));
	const gamma = at(deviceGamma(device, load), 0);
	expect(magnitude(gamma)).toBeCloseTo(0.3653, 4);
	expect(argument(gamma) / degrees).toBeCloseTo(-152.04, 2);
});
