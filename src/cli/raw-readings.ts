import { z } from 'zod';
import { firstIssue, pathText } from '#lib/bench/issue.ts';
import { solveThreeTerms } from '#lib/reflectometer/calibration.ts';
import { gammaFromRaw } from '#lib/reflectometer/correction.ts';
import { standardGamma } from '#lib/reflectometer/standards.ts';
import type { StandardName } from '#lib/reflectometer/standards.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { faults } from './faults.ts';

const STANDARDS: readonly StandardName[] = ['open', 'short', 'load'];
const MOST_FREQUENCIES = 100_000;

const number = (what: string, from: number, to: number) => {
	const error = `Give ${what}: a number from ${from} to ${to}.`;
	return z.number({ error }).min(from, { error }).max(to, { error });
};

const part = z.number({ error: 'Give a finite number.' }).refine((value) => Math.abs(value) <= 1e12, {
	error: 'Give a number of a size a reading can have, up to 1e12.'
});
const reading = z.tuple([part, part], { error: 'Give a pair [re, im].' });
const readings = z.array(reading, { error: 'Give a list of pairs [re, im], one for each frequency.' });

const rawFile = z.object(
	{
		frequencies_hz: z
			.array(number('a frequency in hertz', 0, 1e12), { error: 'Give a list of frequencies in hertz.' })
			.min(1, { error: 'Give at least one frequency.' })
			.max(MOST_FREQUENCIES, { error: `Give at most ${MOST_FREQUENCIES} frequencies.` })
			.superRefine((frequencies, context) => {
				const i = frequencies.findIndex((f, k) => k > 0 && !(f > frequencies[k - 1]));
				if (i > 0)
					context.addIssue({
						code: 'custom',
						path: [i],
						input: frequencies[i],
						message: 'Give frequencies that rise from one to the next.'
					});
			}),
		standards: z.object(
			{
				open_c: number('the capacitance of the open in farads', 0, 1e-9),
				short_l: number('the inductance of the short in henries', 0, 1e-6),
				load_r: number('the resistance of the load in ohms', 0.1, 1e5),
				load_l: number('the inductance of the load in henries', -1e-6, 1e-6)
			},
			{ error: 'Give the standards: open_c, short_l, load_r and load_l.' }
		),
		raw: z
			.object(
				{ open: readings, short: readings, load: readings },
				{ error: 'Give the raw readings by name: open, short, load and what is to be corrected.' }
			)
			.catchall(readings),
		z0_ohm: number('the reference resistance in ohms', 1, 1000).default(50)
	},
	{ error: 'Give an object with frequencies_hz, standards and raw.' }
);

/** Raw readings with what is needed to correct them, in SI units. */
export type RawReadings = z.output<typeof rawFile>;

/** Where the text stops being JSON, as far as the engine tells. */
function syntaxFault(text: string, file: string, error: unknown) {
	const message = error instanceof Error ? error.message : String(error);
	const position = /position (\d+)/.exec(message)?.[1];
	const word = /(?<=[[,:]\s*)-?(?:NaN|Infinity)\b/.exec(text);
	const offset = word?.index ?? (position === undefined ? undefined : Number(position));
	const line = offset === undefined ? '' : `, line ${text.slice(0, offset).split('\n').length}`;
	const problem = word ? `there is ${word[0]} where a number belongs` : message.split('\n')[0].slice(0, 100);
	return faults['raw-syntax']({ file, line, problem });
}

/** Reads raw readings; unknown keys are ignored. @throws Fault naming what is missing or impossible. */
export function readRawReadings(text: string, file: string): RawReadings {
	let written: unknown;
	try {
		written = JSON.parse(text);
	} catch (error) {
		throw syntaxFault(text, file, error);
	}
	const checked = rawFile.safeParse(written);
	if (!checked.success) {
		const { path, found, allowed } = firstIssue(checked.error, written);
		throw faults['raw-value']({ file, path: pathText(path), found, allowed });
	}
	const expected = checked.data.frequencies_hz.length;
	for (const [name, values] of Object.entries(checked.data.raw))
		if (values.length !== expected)
			throw faults['raw-length']({ file, name, found: values.length, expected });
	return checked.data;
}

const complexOf = (values: readonly (readonly [number, number])[]): ComplexArray => ({
	re: Float64Array.from(values, ([re]) => re),
	im: Float64Array.from(values, ([, im]) => im)
});

/**
 * Γ of every raw reading that is no standard, by its name, against the file's reference resistance.
 * @throws Fault when the three standards do not determine the error terms.
 */
export function correctReadings({
	frequencies_hz,
	standards,
	raw,
	z0_ohm
}: RawReadings): Map<string, ComplexArray> {
	const frequencies = Float64Array.from(frequencies_hz);
	// the core reckons against 50 Ω; the same impedances counted in units of another reference
	const scale = 50 / z0_ohm;
	const definitions = {
		open: { capacitance: standards.open_c / scale },
		short: { inductance: standards.short_l * scale },
		load: { resistance: standards.load_r * scale, inductance: standards.load_l * scale }
	};
	const [open, short, load] = STANDARDS.map((name) => ({
		known: standardGamma(name, definitions, frequencies),
		raw: complexOf(raw[name])
	}));
	const terms = solveThreeTerms([open, short, load], frequencies);
	const others = Object.entries(raw).filter(([name]) => !STANDARDS.some((standard) => standard === name));
	return new Map(others.map(([name, values]) => [name, gammaFromRaw(terms, complexOf(values))]));
}
