import { expect, test } from 'vitest';
import type { Picture } from '#lib/bench/picture.ts';
import { complex } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { frameFor, RADIUS } from '#lib/view/chart/frame.ts';
import { isNamed, moves, shiftOf } from '#lib/view/chart/shift.ts';
import { chartSummary } from '#lib/view/chart/summary.ts';
import { tableRows } from '#lib/view/chart/table-rows.ts';

const frame = frameFor(1);

function picture(truth: Complex, driven: Complex, more: Partial<Picture> = {}, gamma = driven): Picture {
	const reading = { frequency: 1e8, gamma, impedance: complex(50), truth, driven, spreadSingle: null };
	const rows = (value: Complex) => ({ re: Float64Array.of(value.re), im: Float64Array.of(value.im) });
	return {
		frequencies: Float64Array.of(1e8),
		displayed: rows(gamma),
		truth: rows(truth),
		driven: rows(driven),
		silence: null,
		lost: null,
		markers: [0, 1, 2].map(() => ({ reading })),
		...more
	} as unknown as Picture;
}

test('a shift is drawn once it can be told from the thickness of the marks', () => {
	const at = (size: number) => shiftOf(frame, { truth: complex(0.2), driven: complex(0.2, size) });
	expect(at(2.9 / RADIUS)).toBeNull();
	expect(at(3.1 / RADIUS)?.length).toBeCloseTo(3.1, 9);
	expect(isNamed(at(0.1)!)).toBe(false);
	expect(isNamed(at(0.2)!)).toBe(true);
	expect(shiftOf(frame, { truth: complex(0), driven: complex(NaN, NaN) })).toBeNull();
	expect(shiftOf(frame, { truth: complex(0), driven: complex(0) })).toBeNull();
});

test('figures of the driven truth stand where it differs in the third decimal', () => {
	expect(moves(picture(complex(0.2), complex(0.2, 0.0009)))).toBe(false);
	expect(moves(picture(complex(0.2), complex(0.2, 0.0011)))).toBe(true);
	expect(moves(picture(complex(0.2), complex(NaN, NaN)))).toBe(false);
	// Γ = 1/3 is 100 Ω, Γ = 0 is 50 Ω
	const [row] = tableRows(picture(complex(1 / 3), complex(0)));
	expect(row.truth.re).toBeCloseTo(100, 9);
	expect(row.driven.re).toBeCloseTo(50, 9);
});

test('the sentence tells truth at rest from truth at the present drive, once both are revealed', () => {
	const driven = picture(complex(0.2), complex(0.2, 0.1));
	expect(chartSummary(driven, 1, false)).not.toContain('truth');
	expect(chartSummary(driven, 1, true)).toContain(
		'The truth there is Γ = 0.200 at 0.0° at rest; at the present drive it is 0.224 at 26.6°, 0.100 away from it.'
	);
	expect(chartSummary(picture(complex(0.2), complex(0.2)), 1, true)).toMatch(/Γ = 0\.200 at 0\.0°\.$/);
});

test('without a reading the sentence says why', () => {
	const nothing = complex(NaN, NaN);
	const lost = picture(complex(0.2), nothing, { lost: { count: 1, frequency: 1e8, reason: 'unstable' } });
	expect(chartSummary(lost, 1, true)).toMatch(
		/at 100\.000\sMHz there is no reading\. Of the device no state that it stays in was found at the one frequency/
	);
	expect(chartSummary(lost, 1, true)).not.toMatch(/NaN|not defined/);
	const silent = picture(complex(0.2), nothing, { silence: { kind: 'transmitting', level: 40 } });
	expect(chartSummary(silent, 1, false)).toMatch(/No reading: the transmitter is keyed\.$/);
});
