import { expect, test } from 'vitest';
import { Simulation } from '#lib/bench/simulation.ts';
import { transferables } from '#lib/worker/protocol.ts';
import { after, blackBoxBench, command, pictureOf, requestFor } from '../bench/examples.ts';
import { long, short, threadOf, workOf } from './parts.ts';

test('a setup is shown, and shown again with more sweeps without being sent again', async () => {
	const thread = threadOf(0);
	thread.send({ type: 'show', work: workOf(short, 1) });
	await thread.finish();
	thread.send({ type: 'show', work: { revision: 2, firstSweep: short.firstSweep, sweeps: 5 } });
	await thread.finish();
	expect(thread.posted).toEqual([
		{ type: 'picture', picture: pictureOf(blackBoxBench, { sweeps: 3 }) },
		{ type: 'picture', picture: pictureOf(blackBoxBench, { sweeps: 5, revision: 2 }) }
	]);
});

test('of pictures asked for while one is worked out only the latest is made', async () => {
	const thread = threadOf(10);
	thread.send({ type: 'show', work: workOf(long, 1) });
	await thread.goOn();
	await thread.goOn();
	for (const revision of [2, 3, 4]) thread.send({ type: 'show', work: workOf(short, revision) });
	await thread.finish();
	expect(thread.posted.map((m) => m.type === 'picture' && m.picture.revision)).toEqual([4]);
	expect(thread.posted[0]).toEqual({
		type: 'picture',
		picture: { ...new Simulation().picture(short), revision: 4 }
	});
});

test('long work pauses after every slice once 5 ms have passed, and not before', async () => {
	const slow = threadOf(10);
	slow.send({ type: 'show', work: workOf(long, 1) });
	// 5 000 250 readings in slices of 100 000
	expect(await slow.finish()).toBeGreaterThanOrEqual(50);
	const instant = threadOf(0);
	instant.send({ type: 'show', work: workOf(long, 1) });
	expect(await instant.finish()).toBe(0);
	expect(instant.posted).toHaveLength(1);
});

test('a job is done to its end and tells how far it is', async () => {
	const thread = threadOf(10);
	thread.send({ type: 'job', id: 7, work: workOf(long, 1), deadline: 1e9 });
	await thread.finish();
	const progress = thread.posted.flatMap((m) => (m.type === 'progress' ? [m] : []));
	const total = 250 * 20_001;
	expect(progress.length).toBeGreaterThan(1);
	expect(progress.every((m) => m.id === 7 && m.total === total && m.done >= 0 && m.done <= total)).toBe(true);
	const steps = progress.map((m, i) => m.done - (progress[i - 1]?.done ?? 0));
	// even steps: what is said is what is done
	expect(Math.max(...steps)).toBeLessThan(1.5 * (total / progress.length));
	expect(thread.posted.at(-1)).toMatchObject({ type: 'finished', id: 7, picture: { sweepsTaken: 250 } });
});

test('the picture to show goes before jobs, even one already begun', async () => {
	const thread = threadOf(10);
	thread.send({ type: 'job', id: 1, work: workOf(long, 1), deadline: 1e9 });
	await thread.goOn();
	thread.send({ type: 'show', work: workOf(short, 2) });
	await thread.finish();
	const order = thread.posted.map((m) => m.type).filter((type) => type !== 'progress');
	expect(order).toEqual(['picture', 'finished']);
});

test('a job is cancelled while it runs, and while it waits', async () => {
	const thread = threadOf(10);
	thread.send({ type: 'job', id: 1, work: workOf(long, 1), deadline: 1e9 });
	thread.send({ type: 'job', id: 2, work: workOf(short, 1), deadline: 1e9 });
	thread.send({ type: 'job', id: 3, work: workOf(short, 1), deadline: 1e9 });
	await thread.goOn();
	thread.send({ type: 'cancel', id: 2 });
	thread.send({ type: 'cancel', id: 1 });
	thread.send({ type: 'cancel', id: 99 });
	await thread.finish();
	expect(thread.posted.map((m) => [m.type, 'id' in m && m.id])).toEqual([
		['failed', 2],
		['failed', 1],
		['finished', 3]
	]);
	expect(thread.posted[0]).toMatchObject({ fault: { code: 'worker-cancelled' } });
});

test('a job past its deadline is stopped', async () => {
	const thread = threadOf(10);
	thread.send({ type: 'job', id: 1, work: workOf(long, 1), deadline: 500 });
	await thread.finish();
	expect(thread.posted.at(-1)).toMatchObject({
		type: 'failed',
		id: 1,
		fault: { code: 'worker-late', finding: expect.stringContaining('0.5 s') as string }
	});
	expect(thread.posted.some((m) => m.type === 'finished')).toBe(false);
});

/** A calibration whose load reads what its open reads: no terms explain it. */
const hopeless = () => {
	const document = after(blackBoxBench, command('calibrate', { plane: 0, averages: 1 }));
	const request = structuredClone(requestFor(document));
	if (request.calibration === null) throw new Error('it is calibrated');
	Object.assign(request.calibration.setup.standards, {
		open: { capacitance: 0 },
		load: { resistance: 1e300, inductance: 0 }
	});
	return request;
};

test('what cannot be worked out is refused as plain data, and the engine goes on', async () => {
	const thread = threadOf(0);
	thread.send({ type: 'show', work: workOf(hopeless(), 1) });
	await thread.finish();
	expect(thread.posted[0]).toMatchObject({
		type: 'refused',
		revision: 1,
		fault: { code: expect.stringMatching(/^calibration-/) as string }
	});
	// it travels: a class would not
	expect(structuredClone(thread.posted[0])).toEqual(thread.posted[0]);
	thread.send({ type: 'job', id: 1, work: workOf(hopeless(), 1), deadline: 1e9 });
	thread.send({ type: 'show', work: workOf(short, 2) });
	await thread.finish();
	expect(thread.posted.slice(1).map((m) => m.type)).toEqual(['failed', 'picture']);
});

test('a mistake of our own is told as one', async () => {
	const thread = threadOf(0);
	thread.send({
		type: 'show',
		work: workOf({ ...short, setup: { ...short.setup, parts: null as never } }, 1)
	});
	await thread.finish();
	expect(thread.posted[0]).toMatchObject({ type: 'refused', fault: { code: 'worker-failed' } });
});

test('it says that it is there, also in the middle of work', async () => {
	const thread = threadOf(10);
	thread.send({ type: 'ping', id: 1 });
	thread.send({ type: 'show', work: workOf(long, 1) });
	await thread.goOn();
	thread.send({ type: 'ping', id: 2 });
	expect(thread.posted).toEqual([
		{ type: 'pong', id: 1 },
		{ type: 'pong', id: 2 }
	]);
	await thread.finish();
});

test('giving a picture away takes nothing from the simulation', () => {
	const simulation = new Simulation();
	const first = simulation.picture(short);
	const wanted = structuredClone(simulation.picture({ ...short, sweeps: 6 }));
	const again = new Simulation();
	const given = again.picture(short);
	structuredClone(given, { transfer: transferables(given) });
	expect(given.displayed.re).toHaveLength(0);
	expect(again.picture({ ...short, sweeps: 6 })).toEqual(wanted);
	expect(new Set(transferables(first)).size).toBe(transferables(first).length);
});
