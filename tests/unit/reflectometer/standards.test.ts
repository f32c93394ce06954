import { expect, test } from 'vitest';
import { at } from '#lib/numeric/complex.ts';
import { impedanceFromGamma } from '#lib/network/impedance.ts';
import { standardGamma } from '#lib/reflectometer/standards.ts';

const frequencies = Float64Array.of(0, 169.5e6, 3e9);
const ideal = { open: { capacitance: 0 }, short: { inductance: 0 }, load: { resistance: 50, inductance: 0 } };
const real = {
	open: { capacitance: 50e-15 },
	short: { inductance: 0.1e-9 },
	load: { resistance: 51, inductance: 0.2e-9 }
};

test('ideal standards are exact at every frequency, 0 Hz included', () => {
	for (let i = 0; i < frequencies.length; i++) {
		const [open, short, load] = (['open', 'short', 'load'] as const).map((name) =>
			at(standardGamma(name, ideal, frequencies), i)
		);
		expect([open.re, Math.abs(open.im)]).toEqual([1, 0]);
		expect([short.re, Math.abs(short.im)]).toEqual([-1, 0]);
		expect([Math.abs(load.re), Math.abs(load.im)]).toEqual([0, 0]);
	}
});

test('real standards have the impedance they are made of', () => {
	const omega = 2 * Math.PI * 169.5e6;
	const open = impedanceFromGamma(at(standardGamma('open', real, frequencies), 1));
	expect(-1 / (open.im * omega)).toBeCloseTo(50e-15, 22);
	const short = impedanceFromGamma(at(standardGamma('short', real, frequencies), 1));
	expect(short.im / omega).toBeCloseTo(0.1e-9, 18);
	const load = impedanceFromGamma(at(standardGamma('load', real, frequencies), 1));
	expect(load.re).toBeCloseTo(51, 10);
	expect(load.im / omega).toBeCloseTo(0.2e-9, 18);
});

// A small capacitance counts as a delay of C·Z0 and a small inductance as L/Z0, there and back: −2ω·C·Z0 and −2ω·L/Z0
// of phase, the first term of the exact −2·atan; common practice, no source. 50 fF: 2.5 ps; 0.1 nH: 2 ps.
test.each([
	['open', 2.5e-12, 0],
	['short', 2e-12, Math.PI]
] as const)('the %s turns its reflection like a line of %d s', (name, delay, ideally) => {
	const { re, im } = at(standardGamma(name, real, frequencies), 1);
	const lag = (ideally - Math.atan2(im, re)) / (4 * Math.PI * 169.5e6);
	expect(Math.abs(lag - delay)).toBeLessThan(1e-4 * delay);
});
