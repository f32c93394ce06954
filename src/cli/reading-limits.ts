import { brokenOn } from '#lib/bench/damage.ts';
import type { BenchDocument } from '#lib/bench/command.ts';
import type { Damage } from '#lib/bench/history.ts';
import type { LostPoints, Picture, Silence } from '#lib/bench/picture.ts';
import { formatQuantity } from '#lib/bench/quantity.ts';
import type { QuantityKind } from '#lib/bench/quantity.ts';
import { fixed, frequencyWords, withUnit } from './words.ts';

/** What makes a reading not hold. */
export interface ReadingLimits {
	/** Broken before this reading, and not replaced since. */
	readonly damaged: readonly Damage[];
	/** What breaks during this reading. */
	readonly breaks: Damage | null;
	/** How far the level at the device is over its ceiling where it is farthest, dB; null if it is nowhere. */
	readonly overCeiling: number | null;
	readonly silence: Silence | null;
	readonly lost: LostPoints | null;
	/** How many frequencies were asked for. */
	readonly points: number;
	/** The line is not that of the calibration any more. */
	readonly lineChanged: boolean;
}

export function readingLimits(document: BenchDocument, picture: Picture): ReadingLimits {
	const { correction, damage, lost, markers, silence, frequencies } = picture;
	const over = Math.max(...markers.map(({ levels }) => -(levels.ceilingMargin ?? Infinity)));
	return {
		damaged: brokenOn(document),
		breaks: damage,
		overCeiling: over > 0 ? over : null,
		silence,
		lost,
		points: frequencies.length,
		lineChanged: correction.kind === 'calibration' && correction.lineChanged
	};
}

/** Whether the reading is one of the device as it is at rest, through a line that was calibrated. */
export const readingHolds = (limits: ReadingLimits): boolean => limitLines(limits).length === 0;

const UNITS: Readonly<Record<Damage['crossed']['quantity'], QuantityKind>> = {
	'input power': 'level',
	'reverse voltage': 'voltage',
	current: 'current',
	dissipation: 'power'
};

function damageWords({ name, element, crossed, frequency }: Damage): string {
	const { quantity, reached, limit } = crossed;
	// so many digits that the two differ
	const size = (value: number): string => formatQuantity(Number(value.toPrecision(4)), UNITS[quantity]);
	return (
		`${name}${element === null ? '' : `, ${element}`}: ${quantity} of ${size(reached)} at ` +
		`${frequencyWords(frequency)}, it stands ${formatQuantity(limit, UNITS[quantity])}`
	);
}

function silenceWords(silence: Silence): string {
	switch (silence.kind) {
		case 'oscillating':
			return `No reading: the bench oscillates near ${frequencyWords(silence.frequency)}.`;
		case 'transmitting':
			return `No reading: the transmitter is keyed, and ${withUnit(silence.level, 1, 'dBm')} of it meet the reflectometer's port.`;
		case 'broken':
			return 'No reading: the device is broken, and what it presents since is not known. Replace it.';
	}
}

const lostWords = ({ count, frequency, reason }: LostPoints, points: number): string =>
	`No reading at ${count} of ${points} frequencies, the first ${frequencyWords(frequency)}: the device has no state ` +
	`${reason === 'unstable' ? 'it stays in' : 'that was found'} there. Less level helps.`;

/** A line for everything that makes the reading not hold, the gravest first. */
export function limitLines(limits: ReadingLimits): string[] {
	const { damaged, breaks, overCeiling, silence, lost, points, lineChanged } = limits;
	return [
		...(silence ? [silenceWords(silence)] : []),
		...(breaks ? [`Breaks at this level: ${damageWords(breaks)}.`] : []),
		...damaged.map(
			(harm) => `Damaged: ${damageWords(harm)}. The reading is that of the bench as it is since.`
		),
		...(lineChanged ? ['The line has changed since it was calibrated: the correction does not hold.'] : []),
		...(lost ? [lostWords(lost, points)] : []),
		...(overCeiling === null
			? []
			: [`Over the ceiling by ${fixed(overCeiling, 1)} dB: the device answers differently than at rest.`])
	];
}

const damageData = (harm: Damage, now: boolean) => ({
	part: harm.part,
	name: harm.name,
	element: harm.element,
	...harm.crossed,
	frequency_hz: harm.frequency,
	cause: harm.cause,
	in_this_reading: now
});

const silenceData = (silence: Silence) => {
	switch (silence.kind) {
		case 'oscillating':
			return { kind: silence.kind, frequency_hz: silence.frequency };
		case 'transmitting':
			return { kind: silence.kind, level_dbm: silence.level };
		case 'broken':
			return { kind: silence.kind };
	}
};

/** The same as plain data. Limits and what was reached are in dBm, V, A or W, by their quantity. */
export const limitData = (limits: ReadingLimits) => ({
	holds: readingHolds(limits),
	damage: [
		...limits.damaged.map((harm) => damageData(harm, false)),
		...(limits.breaks ? [damageData(limits.breaks, true)] : [])
	],
	over_ceiling_db: limits.overCeiling,
	silence: limits.silence && silenceData(limits.silence),
	lost: limits.lost && {
		count: limits.lost.count,
		first_frequency_hz: limits.lost.frequency,
		reason: limits.lost.reason
	},
	line_changed: limits.lineChanged
});
