import { expect, test } from 'vitest';
import { riceMean, riceProbability } from '#lib/numeric/rice.ts';

// Rice 1945, section 3.10; values by scipy.stats.rice of SciPy 1.17.1.
test.each([
	[0, 1.2533141373155001],
	[0.5, 1.330447340610703],
	[1, 1.548572460551145],
	[2, 2.2723834280687423],
	[5, 5.101069639492125],
	[40, 40.01250195495964],
	[1000, 1000.000500000125]
])('a centre of %d deviations is read as %d on average', (centre, mean) => {
	expect(Math.abs(riceMean(centre, 1) / mean - 1)).toBeLessThan(1e-13);
	expect(Math.abs(riceMean(centre * 0.02, 0.02) / (mean * 0.02) - 1)).toBeLessThan(1e-13);
});

// scipy.stats.rice.cdf of SciPy 1.17.1; the first is also 1 − e^(−1/2), Rayleigh's distribution.
test.each([
	[0, 1, 0.3934693402873665],
	[0.5, 0.3, 0.03894058342992185],
	[1, 2, 0.73098793996409],
	[2, 1, 0.08189230363059402],
	[2, 4, 0.9658651550685561],
	[5, 3, 0.01661632956724397],
	[5, 6, 0.8181495770548568],
	[40, 38.5, 0.06517262997128738],
	[1000, 1001, 0.8412237909224333],
	[0.1, 6, 0.9999999833716959]
])('centre %d, at most %d deviations', (centre, magnitude, probability) => {
	expect(Math.abs(riceProbability(magnitude, centre, 1) - probability)).toBeLessThan(1e-11);
	expect(Math.abs(riceProbability(magnitude * 3, centre * 3, 3) - probability)).toBeLessThan(1e-11);
});

// Definition of a distribution function: the mean is the integral of one minus it.
test.each([0, 0.7, 3, 12])('mean and distribution of a centre of %d belong together', (centre) => {
	const step = 1 / 64;
	let sum = 0;
	for (let r = step / 2; r < centre + 10; r += step) sum += (1 - riceProbability(r, centre, 1)) * step;
	expect(Math.abs(sum - riceMean(centre, 1))).toBeLessThan(1e-4);
});

test('without noise the magnitude is the centre', () => {
	expect(riceMean(0.3, 0)).toBe(0.3);
	expect(riceProbability(0.29, 0.3, 0)).toBe(0);
	expect(riceProbability(0.3, 0.3, 0)).toBe(1);
});

test('beyond the reach of the noise nothing is left', () => {
	expect(riceProbability(0, 0, 1)).toBe(0);
	expect(riceProbability(20, 100, 1)).toBe(0);
	expect(riceProbability(120, 100, 1)).toBe(1);
});
