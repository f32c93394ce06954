import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { Fault } from '#lib/fault.ts';
import type { Picture } from '#lib/bench/picture.ts';
import { Simulation } from '#lib/bench/simulation.ts';
import { SimulationClient } from '#lib/worker/client.ts';
import { FakePort, long, short } from './parts.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

/** A client, the ports it has opened, and what it told. */
function start() {
	const ports: FakePort[] = [];
	const pictures: Picture[] = [];
	const told: Fault[] = [];
	const client = new SimulationClient(
		() => {
			const port = new FakePort();
			ports.push(port);
			return port;
		},
		{ onPicture: (picture) => pictures.push(picture), onFault: (fault) => told.push(fault) }
	);
	const codes = (): string[] => told.map((fault) => fault.code);
	return { client, ports, pictures, codes, told };
}

const picture = (revision: number): Picture => ({ ...new Simulation().picture(short), revision });
const plain = { code: 'calibration-unsolvable', place: 'a', finding: 'b', remedy: 'c' };

test('a setup travels once, however often it is shown', () => {
	const { client, ports } = start();
	client.show({ ...short, revision: 1 });
	client.show({ ...short, revision: 2, sweeps: 9 });
	client.show({ ...long, revision: 3 });
	expect(ports[0].received.map((m) => m.type === 'show' && m.work.bench?.setup)).toEqual([
		short.setup,
		undefined,
		long.setup
	]);
	client.close();
});

test('only the answer to the latest request is shown', () => {
	const { client, ports, pictures, codes } = start();
	client.show({ ...short, revision: 1 });
	client.show({ ...short, revision: 2 });
	ports[0].reply({ type: 'picture', picture: picture(1) });
	ports[0].reply({ type: 'refused', revision: 1, fault: plain });
	expect([pictures, codes()]).toEqual([[], []]);
	ports[0].reply({ type: 'picture', picture: picture(2) });
	ports[0].reply({ type: 'refused', revision: 2, fault: plain });
	expect(pictures.map((p) => p.revision)).toEqual([2]);
	expect(codes()).toEqual(['calibration-unsolvable']);
	client.close();
});

test('jobs answer each their own', async () => {
	const { client, ports } = start();
	const progress = vi.fn();
	const first = client.job(short, 1000, progress);
	const second = client.job(short, 1000);
	const [one, two] = ports[0].received.map((m) => (m.type === 'job' ? m.id : -1));
	ports[0].reply({ type: 'progress', id: one, done: 5, total: 10 });
	ports[0].reply({ type: 'failed', id: two, fault: plain });
	ports[0].reply({ type: 'finished', id: one, picture: picture(4) });
	await expect(second.result).rejects.toMatchObject({ code: 'calibration-unsolvable', name: 'Fault' });
	expect((await first.result).revision).toBe(4);
	expect(progress.mock.calls).toEqual([[5, 10]]);
	second.cancel();
	expect(ports[0].received.at(-1)).toEqual({ type: 'cancel', id: two });
	client.close();
});

test('when the thread dies another takes its place and gets the bench again', async () => {
	const { client, ports, pictures, codes } = start();
	client.show({ ...short, revision: 1 });
	const { result } = client.job(short, 1000);
	const lost = expect(result).rejects.toMatchObject({ code: 'worker-failed' });
	ports[0].die('out of memory');
	await lost;
	expect(ports).toHaveLength(2);
	expect(ports[0].closed).toBe(true);
	expect(codes()).toEqual(['worker-failed']);
	expect(ports[1].received).toMatchObject([
		{ type: 'show', work: { revision: 1, bench: { setup: short.setup } } }
	]);
	// what the dead one still had under way counts no more
	ports[0].reply({ type: 'picture', picture: picture(1) });
	ports[0].die('again');
	expect([pictures, codes().length]).toEqual([[], 1]);
	ports[1].reply({ type: 'picture', picture: picture(1) });
	expect(pictures).toHaveLength(1);
	client.close();
});

test('threads that keep dying are not started for ever; the next request tries once more', () => {
	const { client, ports, codes } = start();
	client.show({ ...short, revision: 1 });
	for (let i = 0; i < 3; i++) ports[i].die('no memory');
	expect(ports).toHaveLength(3);
	expect(codes()).toEqual(['worker-failed', 'worker-failed', 'worker-given-up']);
	vi.advanceTimersByTime(60_000);
	expect(ports).toHaveLength(3);
	client.show({ ...short, revision: 2 });
	expect(ports).toHaveLength(4);
	expect(ports[3].received).toMatchObject([
		{ type: 'show', work: { revision: 2, bench: { setup: short.setup } } }
	]);
	ports[3].die('no memory');
	expect(ports).toHaveLength(4);
	// an answer puts trust in it again
	client.show({ ...short, revision: 3 });
	ports[4].reply({ type: 'picture', picture: picture(3) });
	ports[4].die('once');
	expect(ports).toHaveLength(6);
	client.close();
});

test('a thread that answers is left alone, one that is silent is replaced', () => {
	const { client, ports, codes } = start();
	client.show({ ...short, revision: 1 });
	for (let second = 0; second < 30; second++) {
		vi.advanceTimersByTime(1000);
		const asked = ports[0].received.at(-1);
		if (asked?.type === 'ping') ports[0].reply({ type: 'pong', id: asked.id });
	}
	expect(ports).toHaveLength(1);
	vi.advanceTimersByTime(6000);
	expect(ports).toHaveLength(1);
	vi.advanceTimersByTime(1000);
	expect(ports).toHaveLength(2);
	expect(codes()).toEqual(['worker-silent']);
	expect(ports[1].received).toMatchObject([{ type: 'show' }]);
	client.close();
});

test('a computer that slept is no silent thread', () => {
	const { client, ports } = start();
	vi.advanceTimersByTime(1000);
	// an hour passes in which no timer runs
	vi.setSystemTime(Date.now() + 3_600_000);
	vi.spyOn(performance, 'now').mockReturnValue(performance.now() + 3_600_000);
	vi.advanceTimersByTime(1000);
	expect(ports).toHaveLength(1);
	vi.restoreAllMocks();
	client.close();
});

test('closed, it asks nothing more and gives up what it was waiting for', async () => {
	const { client, ports } = start();
	const { result } = client.job(short, 1000);
	const given = expect(result).rejects.toMatchObject({ code: 'worker-cancelled' });
	client.close();
	await given;
	const before = ports[0].received.length;
	vi.advanceTimersByTime(60_000);
	expect(ports[0].received).toHaveLength(before);
	expect(ports[0].closed).toBe(true);
	expect(ports).toHaveLength(1);
});
