import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { BenchSession } from '#lib/bench/session.ts';
import { readBench, writeBench } from '#lib/files/bench-file.ts';

// Files saved by the first version, and what they read then: files people have kept must go on meaning the same.
const folder = new URL('./data/bench-v1/', import.meta.url);
const text = (name: string): string => readFileSync(new URL(name, folder), 'utf8');

/** Γ of the averaged reading and the exact Γ of the device at the low, centre and high marker. */
const SAVED = {
	'mast.bench.yaml': {
		sweeps: 64,
		displayed: [
			[-0.079025695987, -0.03689595063],
			[-0.070783769391, -0.00679612241],
			[-0.059650250793, 0.020846782847]
		],
		truth: [
			[-0.083118946778, -0.034308119822],
			[-0.07186956957, -0.006018863962],
			[-0.059269530204, 0.021614976915]
		]
	},
	'imported.bench.yaml': {
		sweeps: 16,
		displayed: [
			[0.169821941997, -0.417144721883],
			[0.170414532861, -0.416668236827],
			[0.164328845749, -0.415353228656]
		],
		truth: [
			[0.168061283377, -0.415310162489],
			[0.166268661438, -0.41497747519],
			[0.164482855307, -0.414649319763]
		]
	}
};
const names = Object.keys(SAVED) as (keyof typeof SAVED)[];

test.each(names)('%s still gives the readings it gave', (name) => {
	const picture = new BenchSession(readBench(text(name), name)).picture();
	const { sweeps, displayed, truth } = SAVED[name];
	expect(picture.sweepsTaken).toBe(sweeps);
	picture.markers.forEach(({ reading }, k) => {
		const apart = (a: { re: number; im: number }, [re, im]: readonly number[]) =>
			Math.hypot(a.re - re, a.im - im);
		expect(apart(reading.gamma, displayed[k])).toBeLessThan(1e-9);
		expect(apart(reading.truth, truth[k])).toBeLessThan(1e-9);
	});
});

test.each(names)('%s is written again as the same bench', (name) => {
	const document = readBench(text(name), name);
	expect(readBench(writeBench(document), name)).toEqual(document);
});
