import { expect, test } from 'vitest';
import { renormalised, scatteringFrom } from '#lib/files/touchstone-parameters.ts';
import type { PortMatrix } from '#lib/files/touchstone-parameters.ts';
import { add, complex, divide, multiply, negate, scale, subtract } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';

const real = (...values: number[]): PortMatrix => values.map((value) => complex(value));

function expectNear(got: PortMatrix | null, expected: PortMatrix, tolerance = 1e-12): void {
	expect(got?.length).toBe(expected.length);
	got?.forEach((entry, i) => {
		expect(Math.abs(entry.re - expected[i].re), `entry ${i}, real part`).toBeLessThanOrEqual(tolerance);
		expect(Math.abs(entry.im - expected[i].im), `entry ${i}, imaginary part`).toBeLessThanOrEqual(tolerance);
	});
}

/** Z of a pi of resistors: shunt a, series b, shunt c, by the voltage divider. */
function piImpedances(a: number, b: number, c: number): number[] {
	const sum = a + b + c;
	return [(a * (b + c)) / sum, (a * c) / sum, (a * c) / sum, (c * (a + b)) / sum];
}

/** S from the chain matrix [A B; C D] (Pozar, Microwave Engineering, 4th edition 2012, table 4.2). */
function fromChain(a: Complex, b: Complex, c: Complex, d: Complex, r: number): PortMatrix {
	const [bn, cn] = [scale(b, 1 / r), scale(c, r)];
	const sum = add(add(a, bn), add(cn, d));
	const determinant = subtract(multiply(a, d), multiply(b, c));
	return [
		divide(subtract(add(a, bn), add(cn, d)), sum),
		divide(scale(determinant, 2), sum),
		divide(complex(2), sum),
		divide(add(subtract(bn, a), subtract(d, cn)), sum)
	];
}

test('one-ports: match, open side, short side', () => {
	expectNear(scatteringFrom('Z', real(1)), real(0));
	expectNear(scatteringFrom('Z', real(3)), real(0.5));
	expectNear(scatteringFrom('Z', real(0)), real(-1));
	expectNear(scatteringFrom('Y', real(3)), real(-0.5));
	expectNear(scatteringFrom('Y', real(0)), real(1));
	expectNear(scatteringFrom('Z', [complex(0, 1)]), [complex(0, 1)]);
});

// Independent simulator: ngspice 39, circuit pad_pi_10_wrong (a 10 dB pi with its input shunt 5 % high).
test('Z and Y of a pad give what a circuit simulator finds', () => {
	const [a, b, c] = [101.05990603529777, 71.15124735378855, 96.24752955742645];
	const simulated = real(0.012523807000533127, 0.3201881415265867, 0.3201881415265867, 0.001252380700005995);
	const z = piImpedances(a, b, c);
	const y = [1 / a + 1 / b, -1 / b, -1 / b, 1 / b + 1 / c];
	for (const r of [50, 75, 5]) {
		const normalisedZ = real(...z.map((value) => value / r));
		const normalisedY = real(...y.map((value) => value * r));
		expectNear(renormalised(scatteringFrom('Z', normalisedZ) ?? [], r, 50), simulated);
		expectNear(renormalised(scatteringFrom('Y', normalisedY) ?? [], r, 50), simulated);
	}
});

// A series resistor has no Z matrix but a Y matrix: S11 = R/(R + 2R0), S21 = 2R0/(R + 2R0) by the voltage divider.
test('a series resistor from its Y matrix', () => {
	const y = 50 / 25;
	expectNear(scatteringFrom('Y', real(y, -y, -y, y)), real(0.2, 0.8, 0.8, 0.2));
	expect(scatteringFrom('Z', real(1e15, 1e15, 1e15, 1e15))).toBeNull();
});

test('a load of known impedance reads right at any reference', () => {
	const load = complex(30, -40);
	const gamma = (r: number) => divide(add(load, complex(-r)), add(load, complex(r)));
	for (const r of [1, 10, 75, 600]) expectNear(renormalised([gamma(r)], r, 50), [gamma(50)]);
});

test('a lossy, unsymmetrical, active two-port reads right at any reference', () => {
	const chains: [Complex, Complex, Complex, Complex][] = [
		[complex(1.4, 0.3), complex(20, 35), complex(0.01, -0.004), complex(0.8, 0.1)],
		[complex(-0.05, 0.01), complex(-3, 1), complex(-0.0004, 0.0001), complex(-0.02, 0.03)]
	];
	for (const chain of chains)
		for (const r of [1, 10, 75, 600])
			expectNear(renormalised(fromChain(...chain, r), r, 50), fromChain(...chain, 50));
});

test('there and back again', () => {
	const s = [complex(0.2, -0.6), complex(0.1, 0.3), complex(3, -1), complex(-0.4, 0.5)];
	expectNear(renormalised(renormalised(s, 50, 75) ?? [], 75, 50), s);
	expect(renormalised(s, 50, 50)).toBe(s);
});

test('no solution is no matrix', () => {
	expect(scatteringFrom('Z', real(-1))).toBeNull();
	expect(scatteringFrom('Y', real(-1, 0, 0, 2))).toBeNull();
	expect(renormalised(real(-2), 150, 50)).toBeNull();
	expect(renormalised([negate(complex(2)), complex(0), complex(0), complex(0.1)], 150, 50)).toBeNull();
});
