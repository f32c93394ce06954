import { z } from 'zod';
import { identifier, label, quantity, wholeNumber } from './schema-parts.ts';
import { frozenSetup, MOST_AVERAGES } from './setup.ts';
import type { FrozenSetup, Setup } from './setup.ts';

/**
 * The bench history: what was done, in bench time, only ever added to. Undo never touches it. A calibration is events,
 * not data: its readings are made again from the frozen setup and the sweep numbers whenever they are needed.
 */

/** The version of the physical model that made a reading; an older number means that readings may differ today. */
export const MODEL_VERSION = 1;

const LAST_SWEEP = 4294967295;
const LONGEST = 3e9;
/** A calibration freezes a setup; no more of them than this. */
export const MOST_CALIBRATIONS = 200;
const MOST_EVENTS = 20_000;
/** From here on runs of sweeps that follow one another become one event, whatever they were taken with. */
const CROWDED = MOST_EVENTS / 2;

const when = quantity('time', { from: 0, to: LONGEST });
const sweepNumber = wholeNumber('a sweep number', { from: 0, to: LAST_SWEEP });
const sweepCount = wholeNumber('a number of sweeps', { from: 0, to: LAST_SWEEP });

const anyLevel = quantity('level', { from: -300, to: 300 });
const anyVoltage = quantity('voltage', { from: -1e6, to: 1e6 });
const anyCurrent = quantity('current', { from: -1e6, to: 1e6 });
const anyPower = quantity('power', { from: 0, to: 1e9 });

const sweepsEvent = z.strictObject({
	kind: z.literal('sweeps'),
	at: when,
	first: sweepNumber,
	count: sweepCount
});

const standardEvent = z.strictObject({
	kind: z.literal('standard measured'),
	at: when,
	calibration: identifier,
	standard: z.enum(['open', 'short', 'load'], { error: 'Give open, short or load.' }),
	plane: wholeNumber('a plane', { from: 0, to: 100 }),
	/** Which of `setups` it was measured with, from 0. */
	setup: wholeNumber('the number of a frozen setup', { from: 0, to: 1000 }),
	first: sweepNumber,
	count: wholeNumber('a number of averages', { from: 1, to: MOST_AVERAGES }),
	model: wholeNumber('a model version', { from: 1, to: 1000 })
});

/** What was crossed, the limit and what was reached. */
const crossed = z.discriminatedUnion(
	'quantity',
	[
		z.strictObject({ quantity: z.literal('input power'), limit: anyLevel, reached: anyLevel }),
		z.strictObject({ quantity: z.literal('reverse voltage'), limit: anyVoltage, reached: anyVoltage }),
		z.strictObject({ quantity: z.literal('current'), limit: anyCurrent, reached: anyCurrent }),
		z.strictObject({ quantity: z.literal('dissipation'), limit: anyPower, reached: anyPower })
	],
	{ error: 'Give a quantity: input power, reverse voltage, current or dissipation.' }
);

/** The name of a part of the line, or one of these. */
export const DEVICE = 'device';
export const REFLECTOMETER = 'reflectometer';

const damage = {
	/** The id of a part of the line, `device` or `reflectometer`. */
	part: identifier,
	/** What it is called, so that another device is not taken for the broken one. */
	name: label,
	/** The element of a front end's circuit that broke; null where none is known. */
	element: z.union([label, z.null()], { error: 'Give the name of an element, or null.' }),
	crossed,
	/** At which frequency it happened. */
	frequency: quantity('frequency', { from: 0, to: 1e12 }),
	cause: z.enum(['source', 'transmitter'], { error: 'Give source or transmitter.' })
};
const damageEvent = z.strictObject({
	kind: z.literal('damage'),
	at: when,
	/** The sweep during which it happened. */
	sweep: sweepNumber,
	...damage
});

const replacedEvent = z.strictObject({ kind: z.literal('part replaced'), at: when, part: identifier });

const event = z.discriminatedUnion('kind', [sweepsEvent, standardEvent, damageEvent, replacedEvent], {
	error: 'Give an event of kind "sweeps", "standard measured", "damage" or "part replaced".'
});

export const history = z
	.strictObject({
		/** Bench time now, s. */
		time: when,
		/** The number the next sweep will have. */
		nextSweep: sweepNumber,
		setups: z
			.array(frozenSetup)
			.max(MOST_CALIBRATIONS, { error: `Give at most ${MOST_CALIBRATIONS} frozen setups.` }),
		events: z.array(event).max(MOST_EVENTS, { error: `Give at most ${MOST_EVENTS} events.` })
	})
	.superRefine((h, context) => {
		const setupOf = new Map<string, number>();
		h.events.forEach((e, i) => {
			if (e.kind !== 'standard measured') return;
			const refuse = (key: 'setup' | 'plane', message: string): void =>
				context.addIssue({ code: 'custom', path: ['events', i, key], input: e[key], message });
			const frozen = h.setups[e.setup];
			const first = setupOf.get(e.calibration) ?? e.setup;
			setupOf.set(e.calibration, first);
			if (frozen === undefined)
				refuse('setup', `Give the number of one of the ${h.setups.length} frozen setups, counted from 0.`);
			else if (e.setup !== first)
				refuse('setup', 'Give all standards of a calibration the same frozen setup.');
			else if (e.plane !== frozen.parts.length)
				refuse('plane', `Give the plane behind the parts of its frozen setup: ${frozen.parts.length}.`);
		});
	});

export type History = z.output<typeof history>;
export type HistoryEvent = History['events'][number];
export type StandardEvent = z.output<typeof standardEvent>;
export type DamageEvent = z.output<typeof damageEvent>;
/** What a sweep or a transmitter breaks. */
export type Damage = Omit<DamageEvent, 'kind' | 'at' | 'sweep'>;

export const EMPTY_HISTORY: History = { time: 0, nextSweep: 0, setups: [], events: [] };

/** Retrace between two sweeps, s (a designer's choice). */
const RETRACE = 5e-3;

/** Bench time one sweep takes: a dwell of one over the bandwidth a point, and the retrace. */
export const sweepTime = (setup: Pick<Setup, 'sweep' | 'receiver'>): number =>
	setup.sweep.points / setup.receiver.bandwidth + RETRACE;

/**
 * The history after a run of `count` sweeps. A run that goes on at the pace of the one before is told as one event with
 * it, so that an evening of small changes does not fill the history.
 */
export function withSweeps(before: History, setup: Setup, count: number): History {
	if (count <= 0) return before;
	const { time, nextSweep, events } = before;
	const pace = sweepTime(setup);
	const last = events[events.length - 1];
	const goesOn =
		last?.kind === 'sweeps' &&
		last.first + last.count === nextSweep &&
		(events.length >= CROWDED || Math.abs(last.at + last.count * pace - time) <= 1e-9 * time);
	const done: HistoryEvent = goesOn
		? { ...last, count: last.count + count }
		: { kind: 'sweeps', at: time, first: nextSweep, count };
	return {
		...before,
		time: time + count * pace,
		nextSweep: nextSweep + count,
		events: [...(goesOn ? events.slice(0, -1) : events), done]
	};
}

/** Replacing a part takes so long, s (a designer's choice). */
const REPLACING = 120;

/** The history after something broke during the sweep just taken. */
export const withDamage = (before: History, damage: Damage): History => ({
	...before,
	events: [
		...before.events,
		{ kind: 'damage', at: before.time, sweep: Math.max(0, before.nextSweep - 1), ...damage }
	]
});

/** The history after a broken part was replaced by a whole one. */
export const withReplacement = (before: History, part: string): History => ({
	...before,
	time: before.time + REPLACING,
	events: [...before.events, { kind: 'part replaced', at: before.time, part }]
});

/** The history after open, short and load were measured at `plane`, and the name of the calibration they make. */
export function withCalibration(
	before: History,
	setup: Setup,
	plane: number,
	averages: number
): { history: History; calibration: string } {
	const { seed, sweep, source, receiver, port, standards } = setup;
	const frozen: FrozenSetup = {
		seed,
		sweep,
		source,
		receiver,
		port,
		standards,
		parts: setup.parts.slice(0, plane)
	};
	const calibration = freeName(before);
	const duration = averages * sweepTime(setup);
	const measured = (['open', 'short', 'load'] as const).map((standard, i): HistoryEvent => ({
		kind: 'standard measured',
		at: before.time + i * duration,
		calibration,
		standard,
		plane,
		setup: before.setups.length,
		first: before.nextSweep + i * averages,
		count: averages,
		model: MODEL_VERSION
	}));
	return {
		calibration,
		history: {
			time: before.time + 3 * duration,
			nextSweep: before.nextSweep + 3 * averages,
			setups: [...before.setups, frozen],
			events: [...before.events, ...measured]
		}
	};
}

/** `calibration-1`, or the first number after the count of frozen setups that no event bears yet. */
function freeName({ setups, events }: History): string {
	const taken = new Set(events.map((e) => (e.kind === 'standard measured' ? e.calibration : '')));
	let number = setups.length + 1;
	while (taken.has(`calibration-${number}`)) number++;
	return `calibration-${number}`;
}
