import { expect, test } from 'vitest';
import { at, complex, magnitude, subtract } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { impedanceFromGamma } from '#lib/network/impedance.ts';
import { solveThreeTerms } from '#lib/reflectometer/calibration.ts';
import { gammaFromRaw, rawFromGamma } from '#lib/reflectometer/correction.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { measuredStandard } from '#lib/reflectometer/standard.ts';
import type { Standard } from '#lib/reflectometer/standard.ts';
import { definitionGamma } from '#lib/reflectometer/standard-definition.ts';
import type { StandardDefinition } from '#lib/reflectometer/standard-definition.ts';

const frequencies = Float64Array.of(160e6, 169.5e6, 180e6);
const terms = portErrorTerms(
	{
		directivity: { size: -20, delay: 0.4e-9 },
		sourceMatch: { size: -14, delay: 0.7e-9 },
		tracking: { size: -6, delay: 1.1e-9 }
	},
	frequencies
);
const read = (gamma: ComplexArray): ComplexArray => rawFromGamma(terms, gamma);
const load = (resistance: number): StandardDefinition => ({ kind: 'load', resistance, inductance: 0 });
const same = (definition: StandardDefinition): Standard => ({ declared: definition, actual: definition });
const open = same({ kind: 'open', capacitance: [0, 0, 0, 0] });
const short = same({ kind: 'short', inductance: [0, 0, 0, 0] });
const worn: Standard = { declared: load(50), actual: load(51) };

/** What a part reads after a calibration with an ideal open and short and the load. */
function readAs(third: Standard, part: StandardDefinition): ComplexArray {
	const [first, second, last] = [open, short, third].map((s) => measuredStandard(s, frequencies, read));
	return gammaFromRaw(
		solveThreeTerms([first, second, last], frequencies),
		read(definitionGamma(part, frequencies))
	);
}

test('a load of 51 Ω declared as 50 Ω and measured again reads 50 Ω: nothing shows', () => {
	const again = readAs(worn, worn.actual);
	for (let i = 0; i < frequencies.length; i++) expect(magnitude(at(again, i))).toBeLessThan(1e-14);
});

// The load sets the reference impedance (proof in the comment of `measuredStandard`): Z reads as Z·50/51. 25 Ω reads
// 24.5098 Ω by hand, Γ −0.342105 instead of −0.333333.
test('a known part that was not used reads wrong by the ratio of the loads', () => {
	const part = readAs(worn, load(25));
	for (let i = 0; i < frequencies.length; i++) {
		expect(impedanceFromGamma(at(part, i)).re).toBeCloseTo(24.50980392, 7);
		expect(at(part, i).re).toBeCloseTo(-0.342105263, 8);
	}
});

test.each([
	{ resistance: 25, inductance: 30e-9 },
	{ resistance: 300, inductance: 0, capacitance: 5e-12 }
])('so does every other impedance, whatever the load really is: $resistance Ω', (part) => {
	// the ratio may be complex: the load also has an inductance that nobody declared
	const third: Standard = { declared: load(50), actual: { kind: 'load', resistance: 51, inductance: 2e-9 } };
	const definition: StandardDefinition = { kind: 'load', ...part };
	const found = readAs(third, definition);
	const truth = definitionGamma(definition, frequencies);
	const actual = definitionGamma(third.actual, frequencies);
	for (let i = 0; i < frequencies.length; i++) {
		const z = impedanceFromGamma(at(truth, i));
		const za = impedanceFromGamma(at(actual, i));
		// Z·50/Za against what is read, multiplied out
		const shown = impedanceFromGamma(at(found, i));
		const left = complex(shown.re * za.re - shown.im * za.im, shown.re * za.im + shown.im * za.re);
		expect(magnitude(subtract(left, complex(50 * z.re, 50 * z.im)))).toBeLessThan(1e-9 * magnitude(left));
	}
});
