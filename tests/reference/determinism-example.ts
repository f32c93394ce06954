import { execute } from '#lib/bench/command.ts';
import type { BenchDocument } from '#lib/bench/command.ts';
import { commands } from '#lib/bench/commands.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import type { Picture } from '#lib/bench/picture.ts';
import { simulatedBench } from '#lib/bench/session.ts';
import type { PictureRequest } from '#lib/bench/simulation.ts';

/** The bench whose readings must be the same wherever they are worked out: the usual one after a few changes. */
const CHANGES = [
	{ name: 'choose device', arguments: { device: 'preamp by data sheet' } },
	{ name: 'set seed', arguments: { seed: 20260101 } },
	{ name: 'set level', arguments: { level: '-27.5 dBm' } },
	{ name: 'set part', arguments: { part: 'adapter', impedance: '37.5 ohm' } },
	{ name: 'set averages', arguments: { averages: 16 } },
	{ name: 'calibrate', arguments: { plane: 2, averages: 9 } },
	{ name: 'set sweep', arguments: { start: '169 MHz', points: 51 } }
];

export const document: BenchDocument = CHANGES.reduce<BenchDocument>(
	(before, change) => execute(before, change, commands).document,
	defaultBench
);

export const request: PictureRequest = {
	revision: 1,
	...simulatedBench(document),
	firstSweep: document.history.nextSweep,
	sweeps: 40
};

/** What of a picture is compared: the averaged reading, the noiseless one, and the single readings of the centre. */
export const summary = ({ displayed, expected, markers }: Picture) => ({
	displayed: { re: [...displayed.re], im: [...displayed.im] },
	expected: { re: [...expected.re], im: [...expected.im] },
	cloud: { re: [...markers[1].reading.cloud.re], im: [...markers[1].reading.cloud.im] },
	levels: [...markers[1].levels.outgoing, ...markers[1].levels.returning]
});

export type Summary = ReturnType<typeof summary>;

/** The furthest two summaries are apart in any number. */
export function distance(a: Summary, b: Summary): number {
	const flat = ({ displayed, expected, cloud, levels }: Summary): number[] => [
		...[displayed, expected, cloud].flatMap(({ re, im }) => [...re, ...im]),
		...levels
	];
	const [first, second] = [flat(a), flat(b)];
	if (first.length !== second.length) return Infinity;
	return Math.max(...first.map((value, i) => Math.abs(value - second[i])));
}
