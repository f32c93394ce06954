import { expect, test } from 'vitest';
import { complexArray, put } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import type { DriveCurve, PictureMarker } from '#lib/bench/picture.ts';
import { gammaFromImpedance } from '#lib/network/impedance.ts';
import { axisOf } from '#lib/view/corridor/axis.ts';
import { STRIP, besideLayout, held, isOn, uprightLayout } from '#lib/view/drive/drive-layout.ts';
import { curvePath, isInside, valueScale } from '#lib/view/drive/drive-scale.ts';
import { endNames, endOf } from '#lib/view/drive/end-names.ts';
import { driveView, rowAt } from '#lib/view/drive/drive-view.ts';
import type { DriveView } from '#lib/view/drive/drive-view.ts';
import { driveSummary, gainShown, namesOf, ohmsShown, orderWords } from '#lib/view/drive/drive-words.ts';
import { levelNames } from '#lib/view/drive/level-names.ts';
import { exampleLevels } from './bench-picture-example.ts';

/** A device of 40 − j10 Ω and 18 dB at rest, worked out by hand: 2 Ω and 1 dB less at every step of 10 dB from −40 dBm. */
const IMPEDANCES: readonly Complex[] = [0, 0, 2, 4, 6].map((less) => ({ re: 40 - less, im: -10 - 2 * less }));
const LEVELS = [-50, -40, -30, -20, -10];
const GAINS = [18, 18, 17, 16, 15];

const gammas = (impedances: readonly Complex[]) => {
	const values = complexArray(impedances.length);
	impedances.forEach((z, i) => put(values, i, gammaFromImpedance(z)));
	return values;
};

const curve: DriveCurve = {
	levels: Float64Array.from(LEVELS),
	gamma: gammas(IMPEDANCES),
	gainDb: Float64Array.from(GAINS),
	rest: gammaFromImpedance(IMPEDANCES[0]),
	ceiling: -35,
	compression: -30,
	followed: true,
	breaking: -12
};

function marker(level: number, driven: Complex, drive: DriveCurve | null = curve): PictureMarker {
	return {
		drive,
		levels: { ...exampleLevels, outgoing: [0, level] },
		reading: { driven: gammaFromImpedance(driven) }
	} as unknown as PictureMarker;
}

const view = (revealed: boolean, drive: DriveCurve = curve): DriveView =>
	driveView(marker(-25, { re: 37, im: -16 }, drive), revealed, 0.01)!;

test('before the truth is revealed only changes from rest are told', () => {
	const hidden = view(false);
	expect(hidden.rows.map((row) => row.level)).toEqual(LEVELS);
	[0, 0, -2, -4, -6].forEach((change, i) => {
		expect(hidden.rows[i].resistance).toBeCloseTo(change, 9);
		expect(hidden.rows[i].reactance).toBeCloseTo(2 * change, 9);
		expect(hidden.rows[i].gain).toBeCloseTo(GAINS[i] - 18, 9);
	});
	expect(hidden.rest).toMatchObject({ resistance: 0, reactance: 0, gain: 0, moved: 0 });
	// 37 − j16 Ω and 16.5 dB is what it presents now
	const said = driveSummary(hidden, 169.525e6, 'the preamp');
	expect(said).not.toMatch(/\b37\.0|16\.0|16\.50/);
	expect(said).toContain('counted from rest');
	expect(said).toContain('ΔR is \u22123.00\u00a0Ω, ΔX \u22126.00\u00a0Ω, Δ gain \u22121.50\u00a0dB');
});

test('once revealed the values themselves, the present one among them', () => {
	const shown = view(true);
	expect(shown.rows[0].resistance).toBeCloseTo(40, 9);
	expect(shown.rows[4].reactance).toBeCloseTo(-22, 9);
	expect(shown.now?.resistance).toBeCloseTo(37, 9);
	expect(shown.now?.gain).toBeCloseTo(16.5, 9);
	// |Γ(37 − j16) − Γ(40 − j10)| by hand: 100·|Δz| / (|z1 + 50|·|z2 + 50|) with Δz = −3 − j6
	const byHand = (100 * Math.hypot(3, 6)) / (Math.hypot(87, 16) * Math.hypot(90, 10));
	expect(shown.now?.moved).toBeCloseTo(byHand, 9);
	const words = driveSummary(shown, 169.525e6, 'the preamp');
	expect(words).toContain('R is 37.0\u00a0Ω, X \u221216.0\u00a0Ω, gain 16.50\u00a0dB');
	expect(words).toContain('It breaks at \u221212.0\u00a0dBm.');
});

test('where there is no curve, no state or no level there is nothing to show of it', () => {
	expect(driveView(marker(-25, { re: 1, im: 1 }, null), true, 0.01)).toBeNull();
	const one = { ...curve, levels: Float64Array.of(-50), gamma: gammas(IMPEDANCES.slice(0, 1)) };
	expect(driveView(marker(-25, { re: 1, im: 1 }, one), true, 0.01)).toBeNull();
	const lost = driveView(marker(-25, { re: NaN, im: NaN }), true, 0.01)!;
	expect(lost.now).toBeNull();
	expect(driveSummary(lost, 1e8, 'it')).toContain('no state is known');
	expect(driveView(marker(-Infinity, { re: 37, im: -16 }), true, 0.01)?.now).toBeNull();
});

test('which of impedance and gain goes first is said, whichever it is', () => {
	expect(orderWords(view(false))).toMatch(/the impedance moves 5\.0\u00a0dB before the gain\.$/);
	expect(orderWords({ ...view(false), compression: -38 })).toMatch(
		/the gain goes 3\.0\u00a0dB before the impedance\.$/
	);
	expect(orderWords({ ...view(false), ceiling: null })).toMatch(/^\|ΔΓ\| stays under 0\.010; /);
	expect(orderWords({ ...view(false), compression: null })).toMatch(/the gain does not fall by 1\u00a0dB\.$/);
	const onePort = view(false, { ...curve, gainDb: null, compression: null });
	expect(orderWords(onePort)).toBe('|ΔΓ| reaches 0.010 at \u221235.0\u00a0dBm.');
});

test('figures: a change with its sign, a value without', () => {
	expect(ohmsShown(-0.084, false)).toBe('\u22120.08');
	expect(ohmsShown(12.34, false)).toBe('+12.3');
	expect(ohmsShown(12.34, true)).toBe('12.3');
	expect(ohmsShown(NaN, true)).toBe('not known');
	expect(gainShown(0.5, false)).toBe('+0.50');
	expect(namesOf({ revealed: false }).resistance).toBe('ΔR');
});

const axis = axisOf({ top: 0, bottom: -100 }, 100, 500);

test('beside the device a level stands where the corridor has it, and values grow to the right', () => {
	const layout = besideLayout(axis, 600, true);
	expect(layout.level(-25)).toBe(axis.y(-25));
	expect(held(layout, 30)).toBe(100);
	expect(held(layout, NaN)).toBe(500);
	expect(isOn(layout, -25)).toBe(true);
	expect(isOn(layout, 10)).toBe(false);
	expect(layout.panels.map(({ kind }) => kind)).toEqual(['impedance', 'gain']);
	for (const { from, to } of layout.panels) expect(to).toBeGreaterThan(from);
	expect(layout.panels[1].to).toBeLessThan(600 + STRIP);
	expect(besideLayout(axis, 600, false).panels).toHaveLength(1);
});

test('upright levels go from left to right and values upward', () => {
	const layout = uprightLayout(view(true));
	expect(layout.level(-10)).toBeGreaterThan(layout.level(-50));
	for (const { from, to } of layout.panels) expect(to).toBeLessThan(from);
	expect(layout.rules.every((rule) => rule % 20 === 0)).toBe(true);
});

test('a scale holds rest, now and the curve a little past what happens, at round figures', () => {
	const shown = view(true);
	const layout = besideLayout(axis, 600, true);
	const scale = valueScale(shown, layout.panels[0]);
	// until −25 + 6 dBm: R from 36 to 40, X from −18 to −10
	expect(scale.lowest).toBe(-20);
	expect(scale.highest).toBe(40);
	expect(scale.at(scale.lowest)).toBe(layout.panels[0].from);
	expect(scale.ticks).toContain(0);
	expect(isInside(shown.now, scale, 'resistance')).toBe(true);
	// X at −10 dBm has run out of the panel, R has not
	expect(endOf(shown, layout, scale, 'resistance')?.[1]).toBe(axis.y(-10));
	expect(endOf(shown, layout, scale, 'reactance')?.[1]).toBe(axis.y(-20));
	const still = { ...shown, rows: [shown.rows[0]], now: null, ceiling: null, compression: null };
	const least = valueScale(still, layout.panels[1]);
	expect(least.highest - least.lowest).toBeGreaterThanOrEqual(2);
});

test('values that are not finite leave a gap in the curve and never reach the drawing', () => {
	const rows = view(true).rows.map((row, i) =>
		i === 2 ? { ...row, resistance: Infinity, reactance: NaN } : row
	);
	const broken = { ...view(true), rows };
	const layout = besideLayout(axis, 600, true);
	const scale = valueScale(broken, layout.panels[0]);
	for (const name of ['resistance', 'reactance'] as const) {
		const path = curvePath(broken, layout, scale, name);
		expect(path).not.toMatch(/NaN|Infinity/);
		expect(path.match(/M/g)).toHaveLength(2);
	}
});

test('a row between two levels lies on a straight line, none outside', () => {
	const { rows } = view(true);
	expect(rowAt(rows, -35)?.resistance).toBeCloseTo(39, 9);
	expect(rowAt(rows, -60)).toBeNull();
	expect(rowAt(rows, 0)).toBeNull();
	expect(rowAt(rows, null)).toBeNull();
});

test('levels are named once: beside the device only where the gain is lost, upright all of them', () => {
	const beside = levelNames(view(true), besideLayout(axis, 600, true));
	expect(beside.map(({ kind }) => kind)).toEqual(['compression']);
	const upright = levelNames(view(true), uprightLayout(view(true)));
	expect(upright.map(({ text }) => text)).toEqual([
		'ceiling \u221235.0',
		'\u22121\u00a0dB of gain \u221230.0',
		'breaks \u221212.0'
	]);
	expect(new Set(upright.map(({ y }) => y)).size).toBe(3);
});

test('names of curves that end close together do not lie on each other', () => {
	const layout = besideLayout(axis, 600, true);
	const scale = valueScale(view(true), layout.panels[0]);
	const panel = { ...layout.panels[0], scale };
	const [r, x] = endNames(view(true), layout, panel, []);
	expect(r.y).not.toBe(x.y);
	// two curves that are one: the names part upward and downward, or to the sides
	const one = view(true).rows.map((row) => ({ ...row, reactance: row.resistance + 0.2 }));
	const [first, second] = endNames({ ...view(true), rows: one }, layout, panel, []);
	expect(Math.abs(first.y - second.y) >= 15 || first.anchor !== second.anchor).toBe(true);
	// the name of a level in the way
	const name = {
		kind: 'compression',
		text: '',
		x: panel.from + 5,
		y: r.y,
		anchor: 'start',
		along: 0
	} as const;
	expect(Math.abs(endNames(view(true), layout, panel, [name])[0].y - r.y)).toBeGreaterThanOrEqual(14);
});
