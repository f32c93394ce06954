import { expect, test } from 'vitest';
import { blackBoxBench, after, benchWith, command, pictureOf, QUIET, requestFor } from './examples.ts';
import { CLOUD } from '#lib/bench/marker.ts';
import type { Picture } from '#lib/bench/picture.ts';
import { Simulation } from '#lib/bench/simulation.ts';
import type { PictureRequest } from '#lib/bench/simulation.ts';

/** Room for a busy machine; alone each takes a second. */
const SLOW = { timeout: 30_000 };

const furthest = (a: Picture['displayed'], b: Picture['displayed']): number =>
	Math.max(...a.re.map((re, i) => Math.hypot(re - b.re[i], a.im[i] - b.im[i])));

test('more sweeps go on where the picture was: the same as from scratch', () => {
	const going = new Simulation();
	for (const sweeps of [1, 2, 7, 63, 64]) going.picture(requestFor(blackBoxBench, { sweeps }));
	const onward = going.picture(requestFor(blackBoxBench, { sweeps: 130 }));
	const fresh = pictureOf(blackBoxBench, { sweeps: 130 });
	expect(furthest(onward.displayed, fresh.displayed)).toBeLessThan(1e-12);
	// the draws of the single readings are the same to the last bit
	expect(onward.markers.map((m) => m.reading.cloud)).toEqual(fresh.markers.map((m) => m.reading.cloud));
	expect(onward.effectiveAverages).toBeCloseTo(fresh.effectiveAverages, 12);
	expect(onward.markers[1].reading.scatter.rr).toBeCloseTo(fresh.markers[1].reading.scatter.rr, 15);
});

test('fewer sweeps than were taken begin anew', () => {
	const going = new Simulation();
	going.picture(requestFor(blackBoxBench, { sweeps: 64 }));
	expect(going.picture(requestFor(blackBoxBench, { sweeps: 5 }))).toEqual(
		pictureOf(blackBoxBench, { sweeps: 5 })
	);
});

test.each([
	command('set averages', { averages: 16 }),
	command('set level', { level: '-30 dBm' }),
	command('set bandwidth', { bandwidth: '100 Hz' }),
	command('set seed', { seed: 2 }),
	command('set extension', { delay: '0 ps' }),
	command('choose device', { device: 'short' }),
	command('set part', { part: 'pad', attenuation: '10 dB' }),
	command('calibrate', { plane: 3, averages: 2 }),
	command('set sweep', { points: 200 })
])('after %j a bench that has shown something else reads as a fresh one', (record) => {
	const simulation = new Simulation();
	simulation.picture(requestFor(blackBoxBench, { firstSweep: 500 }));
	const request = requestFor(after(blackBoxBench, record), { firstSweep: 500, sweeps: 64 });
	expect(simulation.picture(request)).toEqual(new Simulation().picture(request));
});

test('a picture given up in the middle leaves nothing wrong behind', SLOW, () => {
	const big = after(
		blackBoxBench,
		command('set sweep', { points: 12_000 }),
		command('set averages', { averages: 25 })
	);
	const document = {
		...big,
		setup: { ...big.setup, processing: { ...big.setup.processing, calibration: null } }
	};
	const wanted = pictureOf(document);
	for (const given of [1, 2, 3, 4]) {
		const simulation = new Simulation();
		const slices = simulation.pictureSlices(requestFor(document));
		for (let i = 0; i < given; i++) slices.next();
		expect(furthest(simulation.picture(requestFor(document)).displayed, wanted.displayed)).toBe(0);
	}
});

test('it pauses every few milliseconds: at least once in 100 000 readings, and says how far it is', () => {
	const document = after(blackBoxBench, command('set sweep', { points: 10_001 }));
	const slices = new Simulation().pictureSlices(requestFor(document, { sweeps: 64, calibration: null }));
	const done: number[] = [];
	for (let step = slices.next(); !step.done; step = slices.next()) done.push(step.value);
	const steps = [...done, 64 * 10_001].map((value, i) => value - (done[i - 1] ?? 0));
	expect(Math.max(...steps)).toBeLessThanOrEqual(100_000);
	expect(done.length).toBeGreaterThanOrEqual(6);
	expect(done).toEqual([...done].sort((a, b) => a - b));
});

test('a calibration of many readings pauses too', () => {
	const document = after(
		blackBoxBench,
		command('set sweep', { points: 10_000 }),
		command('calibrate', { plane: 2, averages: 50 })
	);
	const slices = new Simulation().pictureSlices(requestFor(document, { sweeps: 1 }));
	let pauses = 0;
	for (let step = slices.next(); !step.done; step = slices.next()) pauses += 1;
	// 3 standards of 500 000 readings
	expect(pauses).toBeGreaterThanOrEqual(15);
});

test('no sweeps yet: no reading, but levels and truth', () => {
	const picture = pictureOf(blackBoxBench, { sweeps: 0 });
	expect(picture.sweepsTaken).toBe(0);
	expect(picture.effectiveAverages).toBe(0);
	expect(picture.displayed.re.every(Number.isNaN)).toBe(true);
	expect(picture.markers[1].levels.outgoing[0]).toBeCloseTo(-20, 1);
	expect(picture.markers[1].reading.region).toBeNull();
	expect(picture.truth.re.every(Number.isFinite)).toBe(true);
});

/** The mast preamp, calibrated at plane 2 with next to no noise. */
const quiet = after(benchWith(QUIET), command('calibrate', { plane: 2, averages: 10_000 }));

// Definition of a port extension: it removes a matched lossless line, here the 41 ps adapter. The delay of 8.604 mm at
// 0.7 of the speed of light (299 792 458 m/s, SI) is 41.0 ps; noise left over is below 1e-8.
test('with next to no noise the extended reading is the truth', SLOW, () => {
	const delay = 8.604e-3 / (0.7 * 299_792_458);
	const document = after(quiet, command('set extension', { delay: `${delay} s` }));
	const picture = pictureOf(document);
	expect(picture.correction).toEqual({
		kind: 'calibration',
		id: 'calibration-2',
		plane: 2,
		lineChanged: false,
		fit: 'same'
	});
	expect(furthest(picture.expected, picture.truth)).toBeLessThan(1e-8);
	expect(furthest(picture.displayed, picture.truth)).toBeLessThan(1e-7);
	const off = pictureOf(after(document, command('set extension', { delay: '0 ps' })));
	// without it the reading is turned by 4πfτ = 5 degrees
	const turned = 2 * Math.sin(2 * Math.PI * off.frequencies[20] * delay);
	const size = Math.hypot(off.truth.re[20], off.truth.im[20]);
	expect(
		Math.hypot(off.expected.re[20] - off.truth.re[20], off.expected.im[20] - off.truth.im[20])
	).toBeCloseTo(turned * size, 7);
});

test('calibrated at the device no extension is wanted, uncorrected the pad is seen', SLOW, () => {
	const atDevice = after(
		benchWith(QUIET),
		command('calibrate', { plane: 3, averages: 10_000 }),
		command('set extension', { delay: '0 ps' })
	);
	expect(furthest(pictureOf(atDevice).expected, pictureOf(atDevice).truth)).toBeLessThan(1e-8);
	const raw = pictureOf(after(atDevice, command('use calibration', { calibration: null })));
	expect(raw.correction).toEqual({ kind: 'none' });
	// −28 dB of directivity stands before an echo that has lost 40 dB
	expect(Math.hypot(raw.expected.re[10], raw.expected.im[10])).toBeCloseTo(10 ** (-28 / 20), 2);
});

test('a calibration at other frequencies is interpolated, beyond its band held and flagged', SLOW, () => {
	const narrower = after(quiet, command('set sweep', { start: '169.45 MHz', stop: '169.6 MHz', points: 77 }));
	const inside = pictureOf(narrower);
	expect(inside.correction).toMatchObject({ fit: 'interpolated' });
	expect(furthest(inside.expected, inside.truth)).toBeLessThan(1e-3);
	const wider = pictureOf(after(quiet, command('set sweep', { start: '169 MHz' })));
	expect(wider.correction).toMatchObject({ fit: 'outside' });
	expect(wider.deviceOutsideBand).toBe(false);
	expect(pictureOf(after(quiet, command('set sweep', { start: '150 MHz' }))).deviceOutsideBand).toBe(true);
});

test('a calibration that cannot be solved is a fault, and the next picture is sound', () => {
	const one = pictureOf(blackBoxBench);
	const simulation = new Simulation();
	const dead = structuredClone(requestFor(blackBoxBench)) as PictureRequest;
	const broken = {
		...dead,
		calibration: dead.calibration && {
			...dead.calibration,
			setup: {
				...dead.calibration.setup,
				standards: { ...dead.calibration.setup.standards, open: { capacitance: Infinity } }
			}
		}
	};
	expect(() => simulation.picture(broken)).toThrow();
	expect(simulation.picture(requestFor(blackBoxBench))).toEqual(one);
});

test('other seeds and other sweep numbers are other noise, the same ones the same', () => {
	const cloud = (changes: Partial<PictureRequest>, seed = 1694): number[] => [
		...pictureOf(benchWith({ seed }), changes).markers[1].reading.cloud.re
	];
	expect(cloud({})).toEqual(cloud({}));
	expect(cloud({})).not.toEqual(cloud({}, 1695));
	const first = cloud({ firstSweep: 1000, sweeps: 5 });
	expect(cloud({ firstSweep: 1002, sweeps: 3 })).toEqual(first.slice(2));
});

test('the cloud keeps the latest single readings, oldest first', () => {
	const all = pictureOf(blackBoxBench, { sweeps: CLOUD }).markers[1].reading.cloud.re;
	const later = pictureOf(blackBoxBench, { sweeps: CLOUD + 30 }).markers[1].reading.cloud.re;
	expect(later).toHaveLength(CLOUD);
	expect([...later.slice(0, -30)]).toEqual([...all.slice(30)]);
});

test('the marker in the middle of an even number of points lies between two of them', () => {
	const picture = pictureOf(after(blackBoxBench, command('set sweep', { points: 2 })));
	const { frequency, gamma } = picture.markers[1].reading;
	expect(frequency).toBe((picture.frequencies[0] + picture.frequencies[1]) / 2);
	expect(gamma.re).toBeCloseTo((picture.displayed.re[0] + picture.displayed.re[1]) / 2, 12);
});
