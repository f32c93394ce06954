import { expect, test } from 'vitest';
import { add, at, complex, divide, magnitude, multiply, subtract } from '#lib/numeric/complex.ts';
import { gammaFromImpedance, impedanceFromGamma } from '#lib/network/impedance.ts';
import { LIGHT_SPEED, lineTwoPort } from '#lib/network/line.ts';
import { looking } from '#lib/network/two-port.ts';
import { definitionGamma } from '#lib/reflectometer/standard-definition.ts';
import type { StandardDefinition } from '#lib/reflectometer/standard-definition.ts';
import { standardGamma } from '#lib/reflectometer/standards.ts';

const frequencies = Float64Array.of(0, 169.5e6, 2e9, 3e9);
const gammaAt = (definition: StandardDefinition, f: number) =>
	at(definitionGamma(definition, Float64Array.of(f)), 0);

test('definitions of one coefficient are the standards of standards.ts', () => {
	const definitions = {
		open: { capacitance: 50e-15 },
		short: { inductance: 0.1e-9 },
		load: { resistance: 51, inductance: 0.2e-9 }
	};
	const full: Readonly<Record<'open' | 'short' | 'load', StandardDefinition>> = {
		open: { kind: 'open', capacitance: [50e-15, 0, 0, 0] },
		short: { kind: 'short', inductance: [0.1e-9, 0, 0, 0] },
		load: { kind: 'load', resistance: 51, inductance: 0.2e-9 }
	};
	for (const name of ['open', 'short', 'load'] as const)
		expect(definitionGamma(full[name], frequencies)).toEqual(standardGamma(name, definitions, frequencies));
});

// By hand: ωC = 2π·169.5 MHz·50 fF = 53.2500 µS, times 50 Ω 2.66250e-3; twice its arctangent is 5.32499e-3 rad = 0.305100°.
test('an open of 50 fF lags by 0.3051° at 169.5 MHz', () => {
	const { re, im } = gammaAt({ kind: 'open', capacitance: [50e-15, 0, 0, 0] }, 169.5e6);
	expect((-Math.atan2(im, re) * 180) / Math.PI).toBeCloseTo(0.3051, 5);
	expect(Math.hypot(re, im)).toBeCloseTo(1, 14);
});

// By hand at 2 GHz: 50 fF − 3e-25·2e9 F + 4e-35·4e18 F + 5e-45·8e27 F = (50 − 0.6 + 0.16 + 0.04) fF = 49.6 fF;
// 10 pH + 2e-21·2e9 H + 1e-30·4e18 H − 2.5e-40·8e27 H = (10 + 4 + 4 − 2) pH = 16 pH.
test('the polynomials give the capacitance and the inductance at 2 GHz', () => {
	const open = gammaAt({ kind: 'open', capacitance: [50e-15, -3e-25, 4e-35, 5e-45] }, 2e9);
	const short = gammaAt({ kind: 'short', inductance: [10e-12, 2e-21, 1e-30, -2.5e-40] }, 2e9);
	const omega = 2 * Math.PI * 2e9;
	expect(-1 / impedanceFromGamma(open).im / omega / 1e-15).toBeCloseTo(49.6, 9);
	expect(impedanceFromGamma(short).im / omega / 1e-12).toBeCloseTo(16, 9);
});

// By hand: (51 + jωL)/(1 + jωC(51 + jωL)) with ωL = 2.51327 Ω, ωC = 0.502655 mS at 2 GHz.
test('a load has its capacitance across resistance and inductance', () => {
	const load = { kind: 'load', resistance: 51, inductance: 0.2e-9, capacitance: 40e-15 } as const;
	const series = complex(51, 2 * Math.PI * 2e9 * 0.2e-9);
	const across = divide(series, add(complex(1), multiply(complex(0, 2 * Math.PI * 2e9 * 40e-15), series)));
	expect(magnitude(subtract(impedanceFromGamma(gammaAt(load, 2e9)), across))).toBeLessThan(1e-12);
	expect(across.re).toBeCloseTo(51.0957, 3);
});

test('a load of 0 Ω is a short, capacitance or not', () => {
	expect(gammaAt({ kind: 'load', resistance: 0, inductance: 0, capacitance: 1e-12 }, 1e9).re).toBe(-1);
});

test('an arbitrary impedance is itself at every frequency', () => {
	const gamma = definitionGamma({ kind: 'arbitrary', resistance: 25, reactance: 0 }, frequencies);
	for (const re of gamma.re) expect(re).toBeCloseTo(-1 / 3, 15);
	expect(gammaAt({ kind: 'arbitrary', resistance: Infinity, reactance: 0 }, 1e9)).toEqual(complex(1));
});

test('behind a lossless offset a standard is seen through that line', () => {
	const offset = { delay: 31e-12, impedance: 51.5, loss: 0 };
	const line = lineTwoPort(
		{
			characteristicImpedance: 51.5,
			length: 31e-12 * LIGHT_SPEED,
			velocityFactor: 1,
			conductorLoss: 0,
			dielectricLoss: 0
		},
		frequencies
	);
	const bare: readonly StandardDefinition[] = [
		{ kind: 'open', capacitance: [50e-15, 1e-24, 0, 0] },
		{ kind: 'short', inductance: [5e-12, 0, 0, 0] },
		{ kind: 'load', resistance: 50.4, inductance: 30e-12 },
		{ kind: 'arbitrary', resistance: 25, reactance: -40 }
	];
	for (const definition of bare) {
		const seen = definitionGamma({ ...definition, offset }, frequencies);
		const expected = looking(line, definitionGamma(definition, frequencies));
		for (let i = 0; i < frequencies.length; i++)
			expect(magnitude(subtract(at(seen, i), at(expected, i)))).toBeLessThan(1e-14);
	}
});

// Pozar, *Microwave Engineering*, 4th ed., 2012, eq. 2.91: Zin = Zc·(ZL + Zc·tanh γl)/(Zc + ZL·tanh γl); a short leaves
// Zc·tanh γl. For a short line that is its series impedance: 0.1 Ω·√0.1695·(1 + j) + jω·50 Ω·20 ps at 169.5 MHz, by hand
// 0.041170 + j·1.106169 Ω, up to the cube of γl: 2e-4 of it.
test('a short behind a short lossy offset is the series impedance of the line', () => {
	const offset = { delay: 20e-12, impedance: 50, loss: 5e9 };
	const gamma = gammaAt({ kind: 'short', inductance: [0, 0, 0, 0], offset }, 169.5e6);
	const impedance = impedanceFromGamma(gamma);
	expect(impedance.re / 0.04117).toBeCloseTo(1, 3);
	expect(impedance.im / 1.106169).toBeCloseTo(1, 3);
});

test('a quarter wave turns a load into its counterpart', () => {
	// Zc²/R = 50·50/51
	const offset = { delay: 250e-12, impedance: 50, loss: 0 };
	const seen = gammaAt({ kind: 'load', resistance: 51, inductance: 0, offset }, 1e9);
	expect(magnitude(subtract(seen, gammaFromImpedance(complex(2500 / 51))))).toBeLessThan(1e-14);
});
