import { expect, test } from 'vitest';
import {
	add,
	at,
	complex,
	complexArray,
	divide,
	magnitude,
	multiply,
	subtract,
	ZERO
} from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { gammaFromImpedance } from '#lib/network/impedance.ts';
import { LIGHT_SPEED, lineTwoPort } from '#lib/network/line.ts';
import { looking } from '#lib/network/two-port.ts';
import { offsetTwoPort } from '#lib/reflectometer/offset-line.ts';

const frequencies = Float64Array.of(0, 1e6, 169.5e6, 1e9, 3e9);
const lossy = { delay: 40e-12, impedance: 47, loss: 3e9 };
const names = ['s11', 's12', 's21', 's22'] as const;

test('without loss it is the line of src/lib/network', () => {
	const offset = offsetTwoPort({ ...lossy, loss: 0 }, frequencies);
	const line = lineTwoPort(
		{
			characteristicImpedance: 47,
			length: 40e-12 * LIGHT_SPEED,
			velocityFactor: 1,
			conductorLoss: 0,
			dielectricLoss: 0
		},
		frequencies
	);
	for (const name of names)
		for (let i = 0; i < frequencies.length; i++)
			expect(magnitude(subtract(at(offset[name], i), at(line[name], i)))).toBeLessThan(1e-15);
});

// The law itself, step by step: a ladder of many equal sections, each a series resistance and reactance and a shunt
// capacitance (half at either end), seen into an end of 20 Ω. A section of θ rad has an impedance wrong by θ²/8 (from
// cosh θ = 1 + ZY/2), so twice that is allowed.
test.each([169.5e6, 1e9, 3e9])(
	'at %d Hz it is a ladder of resistances, inductances and capacitances',
	(f) => {
		const sections = 4000;
		const omega = 2 * Math.PI * f;
		const resistance = (3e9 * 40e-12 * Math.sqrt(f / 1e9)) / sections;
		const series = complex(resistance, (omega * 47 * 40e-12) / sections + resistance);
		const half = complex(0, (omega * (40e-12 / 47)) / sections / 2);
		const parallel = (z: Complex): Complex => divide(z, add(complex(1), multiply(half, z)));
		let impedance = complex(20);
		for (let k = 0; k < sections; k++) impedance = parallel(add(series, parallel(impedance)));
		const end = { re: Float64Array.of(-30 / 70), im: new Float64Array(1) };
		const seen = at(looking(offsetTwoPort(lossy, Float64Array.of(f)), end), 0);
		expect(magnitude(subtract(seen, gammaFromImpedance(impedance)))).toBeLessThan(
			((omega * 40e-12) / sections) ** 2 / 4
		);
	}
);

// By hand: 3e9 Ω/s over 40 ps is 0.12 Ω at 1 GHz; over 2·50 Ω 1.2e-3 Np, 0.010423 dB; half of it at 250 MHz. This is the
// first order; the second is a thousandth of it at most.
test.each([
	[1e9, 0.010423],
	[250e6, 0.0052116]
])('a matched line loses at %d Hz %d dB one way', (f, loss) => {
	const { s21 } = offsetTwoPort({ ...lossy, impedance: 50 }, Float64Array.of(f));
	expect(Math.abs((-20 * Math.log10(magnitude(at(s21, 0)))) / loss - 1)).toBeLessThan(1e-3);
});

test('at 0 Hz, and without delay, it is a through', () => {
	const atRest = offsetTwoPort(lossy, Float64Array.of(0));
	const none = offsetTwoPort({ ...lossy, delay: 0 }, frequencies);
	for (const [line, i] of [[atRest, 0], ...Array.from(frequencies, (_, k) => [none, k] as const)] as const) {
		expect(magnitude(at(line.s11, i))).toBe(0);
		expect(magnitude(subtract(at(line.s21, i), complex(1)))).toBeLessThan(1e-15);
	}
});

test('it is passive: no end of |Γ| ≤ 1 comes back larger', () => {
	const line = offsetTwoPort({ delay: 300e-12, impedance: 20, loss: 2e11 }, frequencies);
	for (const end of [complex(1), complex(-1), complex(0, 1), complex(0, -1), ZERO]) {
		const ends = complexArray(frequencies.length);
		ends.re.fill(end.re);
		ends.im.fill(end.im);
		const seen = looking(line, ends);
		for (let i = 0; i < frequencies.length; i++)
			expect(magnitude(at(seen, i))).toBeLessThanOrEqual(1 + 1e-12);
	}
});
