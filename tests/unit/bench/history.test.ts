import { expect, test } from 'vitest';
import { z } from 'zod';
import { Fault } from '#lib/fault.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { calibrations } from '#lib/bench/calibrations.ts';
import {
	EMPTY_HISTORY,
	history as schema,
	MOST_CALIBRATIONS,
	sweepTime,
	withCalibration,
	withSweeps
} from '#lib/bench/history.ts';
import type { History } from '#lib/bench/history.ts';
import { after, command } from './examples.ts';

const { setup } = defaultBench;

test('a sweep takes one over the bandwidth a point, and a retrace', () => {
	// 201 points at 300 Hz: 0.67 s of dwell; the retrace is 5 ms.
	expect(sweepTime(setup)).toBeCloseTo(0.67 + 0.005, 12);
});

test('sweeps move time and numbers on, and none are taken twice', () => {
	const once = withSweeps(EMPTY_HISTORY, setup, 64);
	expect(once).toMatchObject({ nextSweep: 64, events: [{ kind: 'sweeps', at: 0, first: 0, count: 64 }] });
	expect(once.time).toBeCloseTo(64 * 0.675, 9);
	const calibrated = withCalibration(once, setup, 2, 16).history;
	expect(calibrated.nextSweep).toBe(64 + 48);
	expect(calibrated.time).toBeCloseTo((64 + 48) * 0.675, 9);
	const taken = calibrated.events.flatMap((event) =>
		'first' in event ? Array.from({ length: event.count }, (_, i) => event.first + i) : []
	);
	expect(new Set(taken).size).toBe(taken.length);
	expect(Math.max(...taken) + 1).toBe(calibrated.nextSweep);
	expect(withSweeps(once, setup, 0)).toBe(once);
});

test('runs at one pace are one event; another pace begins another', () => {
	let history: History = EMPTY_HISTORY;
	for (let i = 0; i < 1000; i++) history = withSweeps(history, setup, 3);
	expect(history.events).toEqual([{ kind: 'sweeps', at: 0, first: 0, count: 3000 }]);
	expect(history.time).toBeCloseTo(3000 * 0.675, 6);
	const slower = { ...setup, receiver: { ...setup.receiver, bandwidth: 30 } };
	history = withSweeps(history, slower, 2);
	expect(history.events[1]).toMatchObject({ kind: 'sweeps', first: 3000, count: 2 });
	expect(history.events[1].at).toBeCloseTo(3000 * 0.675, 6);
});

test('a history can always be written, however long someone plays', { timeout: 30_000 }, () => {
	let history: History = EMPTY_HISTORY;
	const paces = [10, 30, 100].map((bandwidth) => ({ ...setup, receiver: { ...setup.receiver, bandwidth } }));
	for (let i = 0; i < 21_000; i++) history = withSweeps(history, paces[i % 3], 1);
	expect(history.nextSweep).toBe(21_000);
	expect(z.safeEncode(schema, history).success).toBe(true);
});

test('calibrations past the number that can be kept are refused, and the bench stays as it is', () => {
	let document = defaultBench;
	for (let i = 1; i < MOST_CALIBRATIONS; i++)
		document = { ...document, history: withCalibration(document.history, setup, 0, 1).history };
	expect(z.safeEncode(schema, document.history).success).toBe(true);
	expect(calibrations(document.history)).toHaveLength(MOST_CALIBRATIONS);
	expect(() => after(document, command('calibrate', { plane: 0, averages: 1 }))).toThrow(Fault);
});

test('a calibration freezes what its standards were read with, and nothing behind its plane', () => {
	const made = withCalibration(EMPTY_HISTORY, setup, 1, 8);
	const [calibration] = calibrations(made.history);
	expect(calibration).toMatchObject({ id: made.calibration, plane: 1, averages: 8 });
	expect(calibration.setup.parts.map((p) => p.id)).toEqual(['pad']);
	expect(calibration.setup.source).toEqual(setup.source);
	expect(calibration.standards.map((s) => [s.standard, s.first, s.count])).toEqual([
		['open', 0, 8],
		['short', 8, 8],
		['load', 16, 8]
	]);
	expect(Object.keys(calibration.setup)).not.toContain('device');
});

test('names of calibrations are never given twice, whatever a file brought along', () => {
	const odd: History = {
		...defaultBench.history,
		events: defaultBench.history.events.map((e) =>
			e.kind === 'standard measured' ? { ...e, calibration: 'calibration-2' } : e
		)
	};
	const { history, calibration } = withCalibration(odd, setup, 2, 1);
	expect(calibration).not.toBe('calibration-2');
	expect(calibrations(history)).toHaveLength(2);
	expect(calibrations(history).every((c) => c.standards.length === 3)).toBe(true);
});

test('an unfinished calibration is none', () => {
	const { history } = withCalibration(EMPTY_HISTORY, setup, 2, 4);
	expect(calibrations({ ...history, events: history.events.slice(0, 2) })).toEqual([]);
});
