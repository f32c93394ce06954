import { expect, test } from 'vitest';
import fc from 'fast-check';
import { Fault } from '#lib/fault.ts';
import { execute } from '#lib/bench/command.ts';
import type { BenchDocument, CommandRecord } from '#lib/bench/command.ts';
import { commands } from '#lib/bench/commands.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { deviceCatalogue } from '#lib/bench/device-catalogue.ts';
import {
	bail,
	clearMark,
	EMPTY_UNDO,
	nextRedo,
	nextUndo,
	redo,
	remember,
	setMark,
	undo
} from '#lib/bench/undo.ts';
import type { UndoList } from '#lib/bench/undo.ts';
import { command } from './examples.ts';

interface Bench {
	readonly document: BenchDocument;
	readonly list: UndoList;
}

const START: Bench = { document: defaultBench, list: EMPTY_UNDO };

function run({ document, list }: Bench, record: CommandRecord): Bench {
	const outcome = execute(document, record, commands);
	return { document: outcome.document, list: remember(list, outcome) };
}

function travel({ document, list }: Bench, way: typeof undo): Bench {
	const { setup, list: left } = way(list, document.setup);
	return { document: { ...document, setup }, list: left };
}

const level = (dbm: number): CommandRecord => command('set level', { level: `${dbm} dBm` });

const anyPart = fc.constantFrom('pad', 'cable', 'adapter', 'pad-2', 'cable-2');
const anyKind = fc.constantFrom('pad', 'cable', 'adapter');
const anyCommand: fc.Arbitrary<CommandRecord> = fc.oneof(
	fc.integer({ min: -60, max: 10 }).map(level),
	fc.integer({ min: 1, max: 300 }).map((averages) => command('set averages', { averages })),
	fc.integer({ min: 1, max: 99 }).map((points) => command('set sweep', { points })),
	fc.integer({ min: 1, max: 99 }).map((ps) => command('set extension', { delay: `${ps} ps` })),
	fc.tuple(anyKind, anyPart).map(([kind, after]) => command('add part', { kind, after })),
	anyPart.map((part) => command('remove part', { part })),
	fc.tuple(anyKind, anyPart).map(([kind, part]) => command('replace part', { kind, part })),
	fc.integer({ min: 0, max: 40 }).map((db) => command('set part', { part: 'pad', attenuation: `${db} dB` })),
	fc
		.integer({ min: 5, max: 90 })
		.map((ohm) => command('set part', { part: 'adapter', impedance: `${ohm} ohm` })),
	fc
		.constantFrom(...deviceCatalogue.map((d) => d.name))
		.map((device) => command('choose device', { device })),
	fc
		.integer({ min: 0, max: 99 })
		.map((ohm) => command('set device', { resistance: `${ohm} Ω`, reactance: '5 Ω' })),
	fc.integer({ min: 0, max: 3 }).map((plane) => command('calibrate', { plane, averages: 2 })),
	fc.constantFrom(null, 'calibration-1').map((calibration) => command('use calibration', { calibration }))
);

test('any sequence is undone step by step to the identical setups, and redone', { timeout: 30_000 }, () => {
	let refused = 0;
	fc.assert(
		fc.property(fc.array(anyCommand, { maxLength: 25 }), (records) => {
			const trail: Bench[] = [START];
			for (const record of records) {
				try {
					trail.push(run(trail[trail.length - 1], record));
				} catch (fault) {
					if (!(fault instanceof Fault)) throw fault;
					refused += 1;
				}
			}
			const last = trail[trail.length - 1];
			// a command that changed nothing is no step
			const setups = trail.map((b) => b.document.setup).filter((s, i, all) => i === 0 || s !== all[i - 1]);
			let bench = last;
			for (const setup of setups.slice(0, -1).reverse()) {
				bench = travel(bench, undo);
				expect(bench.document.setup).toEqual(setup);
				expect(bench.document.history).toBe(last.document.history);
			}
			expect(nextUndo(bench.list)).toBeNull();
			expect(travel(bench, undo)).toEqual(bench);
			for (const setup of setups.slice(1)) {
				bench = travel(bench, redo);
				expect(bench.document.setup).toEqual(setup);
			}
			expect(nextRedo(bench.list)).toBeNull();
			expect(bench.document).toEqual(last.document);
		}),
		{ seed: 1694, numRuns: 80 }
	);
	// refusals are among the sequences, so that they are known to leave no trace
	expect(refused).toBeGreaterThan(30);
});

test('a calibration undone is not used, but stays in the history and can be chosen', () => {
	const calibrated = run(START, command('calibrate', { plane: 2, averages: 2 }));
	const undone = travel(calibrated, undo);
	expect(undone.document.setup).toEqual(defaultBench.setup);
	expect(undone.document.history.events).toHaveLength(6);
	const chosen = run(undone, command('use calibration', { calibration: 'calibration-2' }));
	expect(chosen.document).toEqual(calibrated.document);
});

test('a new edit forgets what could be redone; one that changes nothing does not', () => {
	const undone = travel(run(START, level(-30)), undo);
	expect(nextRedo(undone.list)).toBe('Set the source level');
	const same = run(undone, level(-20));
	expect(nextRedo(same.list)).toBe('Set the source level');
	const equal = run(same, command('set part', { part: 'pad', resistorErrors: ['0 %', '0 %', '0 %'] }));
	expect(nextRedo(equal.list)).toBe('Set the source level');
	expect(nextRedo(run(equal, level(-21)).list)).toBeNull();
});

test('a drag is one step, forward and back', () => {
	let bench = run(START, level(-30));
	const before = bench.document.setup;
	bench = { ...bench, list: setMark(bench.list) };
	for (let dbm = -31; dbm >= -50; dbm--) bench = run(bench, level(dbm));
	bench = { ...bench, list: clearMark(bench.list) };
	expect(bench.list.done).toHaveLength(2);
	const dragged = bench.document.setup;
	bench = travel(bench, undo);
	expect(bench.document.setup).toEqual(before);
	expect(travel(bench, redo).document.setup).toEqual(dragged);
	// after the mark is gone the next edit is a step of its own
	expect(run(travel(bench, redo), level(-10)).list.done).toHaveLength(3);
});

test('a drag given up leaves nothing behind', () => {
	const settled = run(START, level(-30));
	let bench: Bench = { ...settled, list: setMark(settled.list) };
	expect(travel(bench, bail)).toEqual(settled);
	for (const dbm of [-31, -32]) bench = run(bench, level(dbm));
	const given = travel(bench, bail);
	expect(given.document).toEqual(settled.document);
	expect(given.list).toEqual(settled.list);
});

test('what could be redone before a drag can be redone when the drag is given up', () => {
	const undone = travel(run(START, level(-30)), undo);
	const dragged = run({ ...undone, list: setMark(undone.list) }, level(-40));
	const given = travel(dragged, bail);
	expect(given.document.setup).toEqual(defaultBench.setup);
	expect(travel(given, redo).document.setup.source.level).toBe(-30);
});

test('the list keeps the latest 500 steps, even while something is dragged', () => {
	let bench = START;
	for (let i = 0; i < 510; i++) bench = run(bench, level(i % 2 === 0 ? -30 : -31));
	expect(bench.list.done).toHaveLength(500);
	bench = { ...bench, list: setMark(bench.list) };
	for (const dbm of [-40, -41, -42]) bench = run(bench, level(dbm));
	expect(bench.list.done).toHaveLength(500);
	expect(travel(bench, bail).document.setup.source.level).toBe(-31);
});
