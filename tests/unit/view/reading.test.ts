import { render } from 'svelte/server';
import { expect, test } from 'vitest';
import type { Picture, PictureMarker } from '#lib/bench/picture.ts';
import { BenchSession } from '#lib/bench/session.ts';
import { complex } from '#lib/numeric/complex.ts';
import { chartSummary } from '#lib/view/chart/summary.ts';
import { tableRows } from '#lib/view/chart/table-rows.ts';
import ReadingPanel from '#lib/view/reading/ReadingPanel.svelte';
import { insideEllipse, verdict } from '#lib/view/reading/verdict.ts';
import { readingForNotebook, spreadWords } from '#lib/view/reading/words.ts';

type Command = readonly [name: string, given: Readonly<Record<string, unknown>>];

/** The mast bench after some commands, with all its averages taken. */
function bench(...commands: Command[]) {
	const session = new BenchSession();
	for (const [name, given] of commands) session.run({ name, arguments: given });
	return { setup: session.document.setup, picture: session.picture() };
}

/** A picture with some of one marker's values replaced. */
function withMarker(
	picture: Picture,
	reading: Partial<PictureMarker['reading']>,
	levels: Partial<PictureMarker['levels']> = {}
) {
	const [low, centre, high] = picture.markers;
	const changed = {
		reading: { ...centre.reading, ...reading },
		levels: { ...centre.levels, ...levels },
		drive: null
	};
	return { ...picture, markers: [low, changed, high] as const };
}

const plain = (text: string) => text.replace(/\u00a0/g, ' ');
const mast = bench();

test('the mast bench is clear, and the verdict says what the ellipse leaves out', () => {
	const found = verdict(mast.setup, mast.picture, 1, false);
	expect(found.texture).toBe('plain');
	expect(found.clause).toBe('Clear of both walls.');
	expect(found.words).toContain('frozen into the calibration');
	expect(found.words).toContain('cannot be seen in the spread');
});

const BY_DATA_SHEET: Command = ['choose device', { device: 'preamp by data sheet' }];

test('above the ceiling of a data sheet the reading is not valid', () => {
	// 0 dBm through the 20 dB pad and 0.2 dB of cable against a ceiling of −35 dBm.
	const { setup, picture } = bench(BY_DATA_SHEET, ['set level', { level: '0 dBm' }]);
	const found = verdict(setup, picture, 1, false);
	expect(found.texture).toBe('hatch');
	expect(found.clause).toContain('not valid');
	expect(plain(found.words)).toContain('stands −35 dBm: 14.8 dB too much');
});

test('above the ceiling of a circuit it is said what happens, and how far only once the truth is revealed', () => {
	const { setup, picture } = bench(['set level', { level: '0 dBm' }]);
	const before = verdict(setup, picture, 1, false);
	expect(before.texture).toBe('hatch');
	expect(before.clause).toBe('Over the ceiling: at this level Mast preamp answers differently than at rest.');
	expect(plain(before.words)).toMatch(
		/hears −20\.\d\d dBm; at −\d\d\.\d dBm Γ has moved by 0\.01 from rest\./
	);
	expect(before.words).toContain('The readings agree with each other all the same');
	expect(before.words).not.toContain('Ω');
	// R and X of (1 + Γ)/(1 − Γ) in 50 Ω, at rest and driven (definition of the reflection coefficient).
	const { truth, driven } = picture.markers[1].reading;
	const after = plain(verdict(setup, picture, 1, true).words);
	const [byR, byX] = [...after.matchAll(/is (\d+(?:\.\d+)?) Ω (lower|higher)/g)].map(
		([, size, way]) => Number(size) * (way === 'lower' ? -1 : 1)
	);
	const resistance = ({ re, im }: typeof truth) => (50 * (1 - re ** 2 - im ** 2)) / ((1 - re) ** 2 + im ** 2);
	const reactance = ({ re, im }: typeof truth) => (100 * im) / ((1 - re) ** 2 + im ** 2);
	expect(Math.abs(byR - (resistance(driven) - resistance(truth)))).toBeLessThan(0.06);
	expect(Math.abs(byX - (reactance(driven) - reactance(truth)))).toBeLessThan(0.06);
	const shift = Math.hypot(driven.re - truth.re, driven.im - truth.im);
	expect(Number(/Γ has moved by (\S+) from rest: /.exec(after)?.[1])).toBeCloseTo(shift, 2);
});

test('under 6 dB above the floor the reading is lost in noise', () => {
	const { setup, picture } = bench(
		['set level', { level: '-60 dBm' }],
		['set bandwidth', { bandwidth: '30 kHz' }]
	);
	expect(verdict(setup, picture, 1, false)).toMatchObject({ texture: 'grain', clause: 'Lost in noise.' });
});

test('without a calibration the reading is not corrected', () => {
	const { setup, picture } = bench(['use calibration', { calibration: null }]);
	expect(verdict(setup, picture, 1, false)).toMatchObject({
		texture: 'plain',
		clause: 'Not corrected: no calibration is in use.'
	});
});

test('a reference plane beside the connector is named from the settings, its distance only from the truth', () => {
	const bare = bench(['set extension', { delay: '0 ps', loss: '0 dB' }]);
	const before = verdict(bare.setup, bare.picture, 1, false);
	expect(before.texture).toBe('plane');
	expect(plain(before.words)).toContain('Calibrated at plane 2, no extension to plane 3');
	expect(plain(verdict(bare.setup, bare.picture, 1, true).words)).toMatch(
		/It lies \d+(\.\d)? ps before plane 3/
	);
	// A wrong extension: the settings alone do not give it away.
	const wrong = bench(['set extension', { delay: '300 ps', loss: '0 dB' }]);
	expect(verdict(wrong.setup, wrong.picture, 1, false).texture).toBe('plain');
	expect(plain(verdict(wrong.setup, wrong.picture, 1, true).words)).toContain('ps beyond plane 3');
});

test('limits of 3 dB to the ceiling and 20 dB above the floor are close', () => {
	const ceiling = withMarker(mast.picture, {}, { ceilingMargin: 2.9, floorMargin: 40 });
	expect(verdict(mast.setup, ceiling, 1, false)).toMatchObject({
		texture: 'hatch',
		clause: 'Close to the ceiling.'
	});
	const floor = withMarker(mast.picture, {}, { ceilingMargin: 10, floorMargin: 19.9 });
	expect(verdict(mast.setup, floor, 1, false)).toMatchObject({
		texture: 'grain',
		clause: 'Noise limits this reading.'
	});
});

test('frequencies outside the data or the calibration are named', () => {
	expect(verdict(mast.setup, { ...mast.picture, deviceOutsideBand: true }, 1, false).clause).toContain(
		'device’s data'
	);
	const correction = { kind: 'calibration', id: 'c', plane: 3, lineChanged: false, fit: 'outside' } as const;
	expect(verdict(mast.setup, { ...mast.picture, correction }, 1, false).clause).toContain(
		'calibration’s band'
	);
});

test('a device without a stated ceiling is not called clear of it', () => {
	const { setup, picture } = bench(BY_DATA_SHEET, ['set ceiling', { ceiling: null }]);
	const found = verdict(setup, picture, 1, false);
	expect(found.clause).toContain('no ceiling is stated');
	expect(found.words).toContain('too loud');
});

test('a steady error is named only once the truth is revealed', () => {
	const region = { semiMajor: 0.01, semiMinor: 0.005, angle: 0 };
	const { driven } = mast.picture.markers[1].reading;
	const away = withMarker(mast.picture, { region, expected: complex(driven.re + 0.034, driven.im) });
	expect(verdict(mast.setup, away, 1, false).clause).toBe('Clear of both walls.');
	const found = verdict(mast.setup, away, 1, true);
	expect(found.clause).toBe('The readings agree with each other and are wrong all the same.');
	expect(found.words).toContain('0.034 of Γ');
});

test('what the level moves is not mistaken for a steady error', () => {
	const region = { semiMajor: 0.01, semiMinor: 0.005, angle: 0 };
	const driven = complex(0.1, 0.2);
	const reading = { region, driven, expected: driven, truth: complex(0.13, 0.2) };
	const below = withMarker(mast.picture, reading, { ceilingMargin: 8 });
	expect(verdict(mast.setup, below, 1, false).clause).toBe('Clear of both walls.');
	const found = verdict(mast.setup, below, 1, true);
	expect(found).toMatchObject({ texture: 'hatch', clause: 'Below the ceiling, and moved all the same.' });
	expect(found.words).toContain('0.03');
	expect(found.also).toBeUndefined();
	const over = verdict(mast.setup, withMarker(mast.picture, reading, { ceilingMargin: -1 }), 1, true);
	expect(over.clause).toContain('Over the ceiling');
	expect(over.also).toBeUndefined();
});

const NOTHING = complex(NaN, NaN);

test('without a reading the verdict and the table say why, and nothing else', () => {
	const silenced = (silence: Picture['silence']) => ({
		...withMarker(mast.picture, { gamma: NOTHING, expected: NOTHING, region: null, spreadSingle: NaN }),
		silence
	});
	const words = (silence: Picture['silence']) => {
		const { clause, words, also } = verdict(mast.setup, silenced(silence), 1, true);
		expect(also).toBeUndefined();
		return plain(`${clause} ${words}`);
	};
	expect(words({ kind: 'oscillating', frequency: 181e6 })).toMatch(
		/^No reading: the bench oscillates near 181 MHz by itself\. .*termination.*supply/
	);
	expect(words({ kind: 'transmitting', level: 22.6 })).toMatch(
		/^No reading: the transmitter is keyed\. 22\.6 dBm/
	);
	expect(words({ kind: 'broken' })).toMatch(
		/^No reading: what a broken device .* presents is not known\. Replace Mast preamp/
	);
	const html = panel(silenced({ kind: 'transmitting', level: 22.6 }));
	expect(html.match(/no reading: the transmitter is keyed/g)).toHaveLength(3);
	expect(html).toContain('Spread: none, since there is no reading.');
	expect(html).not.toContain('not defined');
	const note = readingForNotebook(mast.setup, silenced({ kind: 'broken' }), 1, false);
	expect(plain(note)).toMatch(/^169\.525 MHz: no reading\. Source −20 dBm/);
});

test('frequencies without a state are counted, and only the marker among them has no reading', () => {
	const lost = { count: 3, frequency: 169.5e6, reason: 'not found' } as const;
	const some = plain(verdict(mast.setup, { ...mast.picture, lost }, 1, false).words);
	expect(some).toContain('no state was found at 3 of 201 frequencies from 169.500 MHz: no reading there.');
	const here = { ...withMarker(mast.picture, { gamma: NOTHING }), lost };
	expect(verdict(mast.setup, here, 1, false).clause).toBe('No reading at this frequency.');
	expect(verdict(mast.setup, here, 0, false).clause).not.toContain('No reading at this frequency');
});

test('a reading of a damaged bench says so first', () => {
	const crossed = { quantity: 'input power', limit: 10, reached: 12 } as const;
	const event = { part: 'device', name: 'Mast preamp', element: 'Q1', crossed, frequency: 169.4e6 };
	const found = verdict(mast.setup, mast.picture, 1, false, [{ ...event, cause: 'source' }]);
	expect(found.clause).toBe('Mast preamp is damaged.');
	expect(found.words).toContain('Undo does not mend it');
});

test('a correction that does not hold is said before what is broken or too loud', () => {
	const crossed = { quantity: 'input power', limit: 10, reached: 12 } as const;
	const event = { part: 'device', name: 'Mast preamp', element: 'Q1', crossed, frequency: 169.4e6 };
	const loud = withMarker(mast.picture, {}, { ceilingMargin: -4 });
	const held = { kind: 'calibration', id: 'c', plane: 2, lineChanged: false, fit: 'same' } as const;
	const spoiled: [Picture['correction'], string][] = [
		[{ kind: 'none' }, 'Not corrected: no calibration is in use.'],
		[{ ...held, lineChanged: true }, 'The line has changed since it was calibrated.'],
		[{ ...held, fit: 'outside' }, 'Outside the calibration’s band.']
	];
	for (const [correction, clause] of spoiled) {
		const damage = [{ ...event, cause: 'source' as const }];
		const found = verdict(mast.setup, { ...loud, correction }, 1, false, damage);
		expect(found.clause).toBe(clause);
		expect(found.words).not.toContain('as it answers since');
		expect(found.also).toEqual(['Mast preamp is damaged.', expect.stringContaining('Over the ceiling')]);
		if (correction.kind === 'calibration') expect(found.words).toContain('Calibrate again');
	}
});

test('inside an ellipse that is turned', () => {
	const region = { semiMajor: 2, semiMinor: 1, angle: Math.PI / 2 };
	expect(insideEllipse(complex(0, 1.9), region)).toBe(true);
	expect(insideEllipse(complex(1.9, 0), region)).toBe(false);
	expect(insideEllipse(complex(0.5, 0), { semiMajor: 1, semiMinor: 0, angle: 0 })).toBe(true);
	expect(insideEllipse(complex(0.5, 0.1), { semiMajor: 1, semiMinor: 0, angle: 0 })).toBe(false);
});

test('the spread says of which readings it is', () => {
	const picture = withMarker(mast.picture, { spreadSingle: 0.0411, spreadAverage: 0.00514 });
	expect(plain(spreadWords(picture, picture.markers[1].reading))).toBe(
		'Spread of Γ, 95 % within 0.041 for single readings and 0.0051 for the average, worth 64 readings.'
	);
	const few = withMarker(mast.picture, { spreadSingle: null, spreadAverage: null });
	expect(spreadWords(few, few.markers[1].reading)).toBe('Spread: known after three sweeps.');
});

test('the notebook gets value, spread, settings and time', () => {
	const text = plain(readingForNotebook(mast.setup, mast.picture, 1, false));
	expect(text).toMatch(
		/^169\.525 MHz: \d+\.\d [+−] j\d+\.\d Ω, Γ 0\.\d{3} at −?\d+\.\d°, return loss \d+\.\d\d dB, SWR \d\.\d\d\. /
	);
	expect(text).toContain('Spread of Γ, 95 % within');
	expect(text).toContain(
		'Source −20 dBm, bandwidth 300 Hz, average worth 64 readings, calibrated at plane 2, extension +41 ps, ' +
			'supply on, receive.'
	);
	const off = bench(['set switch', { switch: 'supply', position: 'off' }]);
	expect(readingForNotebook(off.setup, off.picture, 1, false)).toContain('supply off, receive.');
	expect(text).toMatch(/Sweeps \d+ to \d+\. Clear of both walls\.$/);
});

test('the summary of the chart follows the data and keeps the truth to itself', () => {
	const text = plain(chartSummary(mast.picture, 1, false));
	expect(text).toContain('from 169.400 MHz to 169.650 MHz');
	expect(text).not.toContain('truth');
	expect(chartSummary(mast.picture, 1, true)).toContain('The truth there is');
	expect(chartSummary(null, 1, false)).toContain('no reading yet');
});

test('the table of the chart has 21 rows of a sweep of 201', () => {
	const rows = tableRows(mast.picture);
	expect(rows).toHaveLength(21);
	expect(rows[10].frequency).toBeCloseTo(169.525e6, 0);
	const middle = mast.picture.displayed.re[100];
	expect(rows[10].gamma.re).toBe(middle);
});

const panel = (picture: Picture | null, revealed = false) =>
	plain(
		render(ReadingPanel, {
			props: {
				setup: mast.setup,
				picture,
				marker: 1,
				revealed,
				onmarker: () => undefined,
				onreveal: () => undefined,
				oncopy: () => undefined
			}
		}).body
	);

test('the panel hides the truth until it is revealed', () => {
	expect(panel(mast.picture)).not.toContain('truth-line');
	expect(panel(mast.picture, true)).toContain('truth-line');
});

test('the panel needs no style attribute, and without a picture shows an empty chart', () => {
	const empty = panel(null);
	expect(empty).toContain('No reading yet.');
	expect(empty).not.toContain('Copy to notebook');
	for (const html of [empty, panel(mast.picture)]) expect(html).not.toMatch(/\sstyle=/);
});

test('a reading beyond |Γ| = 1 is written without an SWR', () => {
	const html = panel(
		withMarker(mast.picture, {
			gamma: complex(1.2, 0.1),
			impedance: complex(-200, 90),
			returnLossDb: -1.61,
			swr: Infinity
		})
	);
	expect(html).toContain('>none<');
	expect(html).toContain('−1.61');
	expect(html).toContain('more returns than went out');
});
