import { expect, test } from 'vitest';
import { captionsOf } from '#lib/view/line/captions.ts';
import { columnsOf } from '#lib/view/line/columns.ts';
import { circuitDevice } from '#lib/bench/device-catalogue.ts';
import { frontEnds } from '#lib/circuit/front-ends/catalogue.ts';
import { functionOf } from '#lib/view/line/device-function.ts';
import { deviceSpans, hasOutput, middleSpan } from '#lib/view/line/section.ts';
import { nextStop } from '#lib/view/line/stops.ts';
import { deviceValue, fitted, outputValue, partValue } from '#lib/view/line/words.ts';
import { exampleSetup } from './bench-picture-example.ts';

const widths = (columns: ReturnType<typeof columnsOf>) =>
	columns.all.map((c) => Math.round(c.width * 1000) / 1000);

test('columns share the width in proportion to their kind', () => {
	const columns = columnsOf(exampleSetup, 38, 38 + 522);
	expect(widths(columns)).toEqual([126, 104, 86, 66, 140]);
	expect(widths(columnsOf(exampleSetup, 0, 1044))).toEqual([252, 208, 172, 132, 280]);
	expect(columns.planes).toEqual([164, 268, 354, 420]);
	expect(columns.right).toBe(560);
});

test('no column is under its least width, and the rest share what is left', () => {
	const columns = columnsOf(exampleSetup, 38, 360);
	const [reflectometer, pad, cable, adapter, device] = widths(columns);
	expect(adapter).toBe(44);
	expect(reflectometer).toBeGreaterThanOrEqual(66);
	expect(pad).toBeGreaterThanOrEqual(56);
	expect(cable).toBeGreaterThanOrEqual(44);
	expect(device).toBeGreaterThanOrEqual(88);
	expect(columns.right).toBeCloseTo(360);
});

test('a line that does not fit is wider than its space', () => {
	expect(widths(columnsOf(exampleSetup, 0, 100))).toEqual([66, 56, 44, 44, 88]);
	expect(columnsOf(exampleSetup, 0, 100).right).toBe(298);
});

test('a line without parts has plane 0 between reflectometer and device', () => {
	const columns = columnsOf({ ...exampleSetup, parts: [] }, 0, 266);
	expect(columns.planes).toEqual([126]);
	expect(columns.all.map((c) => c.selection)).toEqual(['reflectometer', 'device']);
});

test('sections keep a lead of line and stay in their column', () => {
	expect(middleSpan({ left: 100, right: 204 }, 72, 16)).toEqual({ left: 116, right: 188 });
	expect(middleSpan({ left: 0, right: 44 }, 60, 7)).toEqual({ left: 7, right: 37 });
	for (const width of [88, 120, 140, 200]) {
		const { body, output } = deviceSpans({ left: 0, right: width }, true);
		expect(output!.right).toBeLessThanOrEqual(width);
		expect(output!.left).toBeGreaterThan(body.right);
	}
	expect(deviceSpans({ left: 0, right: 140 }, false).output).toBeUndefined();
});

test('set values are written with their units', () => {
	const [pad, cable, adapter] = exampleSetup.parts;
	expect(partValue(pad, null, 104)).toBe('20\u00a0dB');
	expect(partValue(cable, 0.2, 140)).toBe('1.2\u00a0m, 0.20\u00a0dB');
	expect(partValue(cable, 0.2, 44)).toBe('1.2\u00a0m');
	expect(partValue(cable, null, 140)).toBe('1.2\u00a0m');
	expect(partValue(adapter, 0.05, 66)).toMatch(/\u00a0Ω$/);
	expect(outputValue({ kind: 'impedance', resistance: 50, reactance: 0 })).toBe('50\u00a0Ω');
	expect(outputValue({ kind: 'open' })).toBe('open');
	expect(deviceValue({ kind: 'impedance', name: 'x', resistance: 109.3, reactance: -77.1 })).toBe(
		'109.3\u00a0\u2212\u00a0j77.1\u00a0Ω'
	);
	expect(deviceValue({ kind: 'impedance', name: 'x', resistance: 25, reactance: 25 })).toBe(
		'25\u00a0+\u00a0j25\u00a0Ω'
	);
});

test('under a front end stands where its switches stand, the unusual ones first where there is little room', () => {
	const { device } = exampleSetup;
	expect(deviceValue(device)).toBe('supply on, receive');
	const thrown = { ...device, positions: { path: 'transmit' } } as typeof device;
	expect(deviceValue(thrown)).toBe('supply on, transmit');
	expect(deviceValue(thrown, { left: 0, right: 60 })).toBe('transmit');
	expect(deviceValue(device, { left: 0, right: 60 })).toBe('supply on');
	expect(hasOutput(device)).toBe(true);
});

test('every front end of the catalogue has a drawing for what it does', () => {
	const drawn = frontEnds.map((frontEnd) => [frontEnd.name, functionOf(circuitDevice(frontEnd))]);
	expect(Object.fromEntries(drawn)).toMatchObject({
		'mast preamp': 'bypassed amplifier',
		cascode: 'amplifier',
		'active whip': 'high-impedance input',
		'level detector': 'detector',
		limiter: 'limiter',
		'varactor tag': 'tuned circuit'
	});
	expect(drawn.map(([, kind]) => kind)).not.toContain('network');
});

test('a name that does not fit is shortened, or left to the drawing in a narrow column', () => {
	expect(fitted('Pad', 15, 44)).toBe('Pad');
	expect(fitted('River-gauge mast preamp', 15, 100)).toMatch(/^River-gauge.*…$/);
	expect(fitted('River-gauge mast preamp', 15, 44)).toBe('');
});

test('the whole name of the selected part is shown and its neighbours give way', () => {
	const setup = {
		...exampleSetup,
		parts: exampleSetup.parts.map((p) => ({ ...p, name: `A long name for ${p.id}` }))
	};
	const columns = columnsOf(setup, 38, 370);
	const spans = deviceSpans(columns.all.at(-1)!, true);
	const around = { level: '', losses: [null, null, null], width: 374 };
	const names = (selected: string | null) =>
		captionsOf(setup, columns, spans, { ...around, selected }).map((c) => c.name);
	expect(names(null)[2]).toBe('');
	const chosen = columns.all[2].selection;
	expect(names(chosen)[2]).toBe(setup.parts[1].name);
	expect(names(chosen)[1]).toBe('');
});

test('arrow keys, Home and End walk the stops and end at the ends', () => {
	expect(nextStop('ArrowRight', 0, 3)).toBe(1);
	expect(nextStop('ArrowRight', 2, 3)).toBe(2);
	expect(nextStop('ArrowLeft', 0, 3)).toBe(0);
	expect(nextStop('Home', 2, 3)).toBe(0);
	expect(nextStop('End', 0, 3)).toBe(2);
	expect(nextStop('Enter', 1, 3)).toBeUndefined();
});
