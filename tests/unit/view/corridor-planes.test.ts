import { expect, test } from 'vitest';
import { deviceCatalogue } from '#lib/bench/device-catalogue.ts';
import type { Picture } from '#lib/bench/picture.ts';
import { setAttenuation, setExtensionDelay } from '#lib/view/corridor/commands.ts';
import { footWords, referencePlane } from '#lib/view/corridor/foot.ts';
import { levelsFor } from '#lib/view/corridor/layout.ts';
import { delayOfPlace, placeOfDelay, planeAt } from '#lib/view/corridor/reference-place.ts';
import { summaryOf } from '#lib/view/corridor/summary.ts';
import { columnsOf } from '#lib/view/line/columns.ts';
import { exampleLevels, exampleSetup } from './bench-picture-example.ts';

const scale = { planes: [100, 200, 300, 340], delays: [0, 0, 5e-10, 5.41e-10], left: 10, right: 480 };

test('a delay lies in proportion between its planes', () => {
	expect(placeOfDelay(scale, 2.5e-10, 1)).toBeCloseTo(250);
	expect(placeOfDelay(scale, 5.41e-10, 2)).toBe(340);
	expect(planeAt(scale, 5.412e-10, 2)).toBe(3);
	expect(planeAt(scale, 5.2e-10, 2)).toBeUndefined();
});

test('of two planes without delay between them the one it starts from is meant', () => {
	expect(placeOfDelay(scale, 0, 0)).toBe(100);
	expect(placeOfDelay(scale, 0, 1)).toBe(200);
});

test('beyond the ends the line goes on at its mean scale and stops at the edge', () => {
	const perSecond = 240 / 5.41e-10;
	expect(placeOfDelay(scale, 6e-10, 3)).toBeCloseTo(340 + 0.59e-10 * perSecond);
	expect(placeOfDelay(scale, 1e-7, 3)).toBe(480);
	expect(placeOfDelay(scale, -1e-7, 0)).toBe(10);
	expect(placeOfDelay({ planes: [100], delays: [0], left: 10, right: 480 }, 4e-11, 0)).toBeCloseTo(120);
});

test('the place of a delay leads back to the delay', () => {
	for (const delay of [-1e-11, 1e-10, 3.3e-10, 5.2e-10, 5.6e-10])
		expect(delayOfPlace(scale, placeOfDelay(scale, delay, 1))).toBeCloseTo(delay, 15);
	expect(delayOfPlace(scale, 150)).toBe(0);
});

const picture = (correction: Picture['correction'], delays = [0, 0, 6e-9, 6.041e-9]): Picture => {
	const one = { reading: { frequency: 169.525e6, driven: { re: 0.5, im: 0 } }, levels: exampleLevels };
	const found = { silence: null, lost: null };
	return { ...found, markers: [one, one, one], planeDelays: delays, correction } as unknown as Picture;
};
const calibrated = { kind: 'calibration', id: 'a', plane: 2, lineChanged: false, fit: 'same' } as const;
const columns = columnsOf(exampleSetup, 38, 748);
const extended = (delay: number, loss = 0) => ({
	...exampleSetup,
	processing: { ...exampleSetup.processing, extension: { delay, loss } }
});

test('the reference plane is the calibration plane moved by the extension', () => {
	const reference = referencePlane(extended(4.1e-11), picture(calibrated), columns)!;
	expect(reference).toMatchObject({ from: 2, calibrated: true, plane: 3, offset: '+41\u00a0ps' });
	expect(reference.x).toBe(columns.planes[3]);
	expect(referencePlane(extended(2e-11), picture(calibrated), columns)!.plane).toBeUndefined();
	expect(referencePlane(extended(0, 0.1), picture(calibrated), columns)!.offset).toBe(
		'0\u00a0ps, 0.10\u00a0dB'
	);
	expect(referencePlane(extended(0), picture({ kind: 'none' }), columns)).toMatchObject({
		from: 0,
		calibrated: false
	});
});

test('nothing is drawn from a picture of another line', () => {
	expect(referencePlane(exampleSetup, picture(calibrated, [0, 0]), columns)).toBeNull();
	expect(referencePlane(exampleSetup, null, columns)).toBeNull();
	expect(levelsFor({ ...exampleSetup, parts: [] }, picture(calibrated), 1)).toBeNull();
	expect(levelsFor(exampleSetup, picture(calibrated), 1)).toBe(exampleLevels);
});

test('words of the foot stay inside the drawing', () => {
	for (const width of [374, 620, 752]) {
		const narrow = columnsOf(exampleSetup, 38, width - 4);
		for (const delay of [-1e-9, 0, 4.1e-11, 1e-8]) {
			const reference = referencePlane(extended(delay), picture(calibrated), narrow)!;
			const words = footWords(reference, narrow.planes[2], width);
			expect(words.some((w) => w.text.startsWith('Reference plane'))).toBe(true);
			for (const w of words) expect(w.x).toBeGreaterThan(0);
		}
	}
});

test('handles write commands with units, within the settings’ limits', () => {
	expect(setAttenuation('pad', 21)).toEqual({
		name: 'set part',
		arguments: { part: 'pad', attenuation: '21 dB' }
	});
	expect(setAttenuation('pad', 95).arguments.attenuation).toBe('80 dB');
	expect(setAttenuation('pad', -3).arguments.attenuation).toBe('0 dB');
	expect(setExtensionDelay(4.1e-11 + 1e-12)).toEqual({
		name: 'set extension',
		arguments: { delay: '42 ps' }
	});
	expect(setExtensionDelay(1).arguments.delay).toBe('100 ns');
});

test('the sentence follows the data and says where the reading is not valid', () => {
	const text = summaryOf(exampleSetup, picture(calibrated), 1);
	expect(text).toContain('at 169.525\u00a0MHz');
	expect(text).toContain(
		'from \u221210.00\u00a0dBm to \u221230.25\u00a0dBm at the device, 4.8\u00a0dB over its ceiling'
	);
	expect(text).toContain(
		'\u221255.69\u00a0dBm at the receiver, 39.3\u00a0dB above its floor of \u221295.0\u00a0dBm'
	);
	expect(text).not.toContain('not valid');
	const { device } = deviceCatalogue.find(({ name }) => name === 'preamp by data sheet')!;
	expect(summaryOf({ ...exampleSetup, device }, picture(calibrated), 1)).toContain('not valid');
	expect(summaryOf(exampleSetup, null, 1)).toContain('being worked out');
});
