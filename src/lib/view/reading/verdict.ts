import type { Damage } from '#lib/bench/history.ts';
import type { Picture, PictureMarker } from '#lib/bench/picture.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { magnitude, subtract } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import type { Ellipse } from '#lib/numeric/statistics.ts';
import { ceilingState, floorState } from '#lib/view/corridor/margins.ts';
import { formatQuantity } from '#lib/bench/quantity.ts';
import { decibels, level, picoseconds, shown, significant } from '#lib/view/numbers.ts';
import { heardWords, movedWords } from './loudness.ts';
import { lostElsewhere, noReading } from './silence.ts';

/** What limits a reading, and what its spread cannot show. */
export interface Verdict {
	/** Of the bar: hatch too loud, grain noise, plane the reference plane, plain everything else. */
	readonly texture: 'hatch' | 'grain' | 'plane' | 'plain';
	/** One clause, set in bold. */
	readonly clause: string;
	/** One or two sentences. */
	readonly words: string;
	/** The clauses of what else is wrong, graver first. */
	readonly also?: readonly string[];
}

interface Case {
	readonly setup: Setup;
	readonly picture: Picture;
	readonly marker: PictureMarker;
	readonly revealed: boolean;
	readonly damage: readonly Damage[];
}

/** A turn of Γ smaller than this, in radians, is not worth a word (half a degree). */
const SMALL_TURN = Math.PI / 360;
/** A spread larger than this part of |1 − Γ| leaves less than about ±10 % of R and X. */
const LARGE = 0.05;

const FROZEN =
	'The ellipse holds only the noise of this measurement: noise and errors frozen into the calibration ' +
	'are the same in every reading and cannot be seen in the spread.';
const NOT_IN_ELLIPSE = 'The ellipse holds noise only, not this.';

const AGREE = 'The readings agree with each other all the same: the spread cannot show it.';

function broken({ setup, damage }: Case): Verdict | null {
	if (damage.length === 0) return null;
	const names = [...new Set(damage.map(({ name }) => name))];
	const device = damage.some(({ part }) => part === 'device');
	return {
		texture: 'plain',
		clause: `${names.join(' and ')} ${names.length > 1 ? 'are' : 'is'} damaged.`,
		words:
			(device
				? `What is read is ${setup.device.name} as it answers since, not as it was. `
				: 'The reading is that of the bench as it is since. ') + `Undo does not mend it. ${NOT_IN_ELLIPSE}`
	};
}

function tooLoud({ setup, marker, revealed }: Case): Verdict | null {
	const { device } = setup;
	const { ceilingMargin, outgoing } = marker.levels;
	if (ceilingMargin === null || ceilingState(ceilingMargin) !== 'out') return null;
	if (device.kind === 'circuit')
		return {
			texture: 'hatch',
			clause: `Over the ceiling: at this level ${device.name} answers differently than at rest.`,
			words: `${heardWords(setup, marker)} ${revealed ? `${movedWords(marker.reading)} ` : ''}${AGREE}`
		};
	if (device.kind !== 'tabulated' || device.ceiling === null) return null;
	return {
		texture: 'hatch',
		clause: 'Too loud: this reading is not valid.',
		words:
			`${device.name} hears ${level(outgoing[outgoing.length - 1])} and stands ` +
			`${shown(formatQuantity(device.ceiling, 'level'))}: ${decibels(-ceilingMargin)} too much, and what it answers ` +
			`up there is not known. ${AGREE}`
	};
}

/**
 * An echo in the noise loses its return loss, SWR and phase. R and X are lost with it only where the spread is large
 * against 1 − Γ: of a good match they are known even though nothing is seen to return.
 */
function lostInNoise({ marker }: Case): Verdict | null {
	const { floorMargin } = marker.levels;
	if (floorState(floorMargin) !== 'out') return null;
	const { gamma, spreadAverage } = marker.reading;
	const unsure = spreadAverage === null || spreadAverage > LARGE * Math.hypot(1 - gamma.re, gamma.im);
	const size =
		spreadAverage === null
			? ''
			: ` Γ is no larger than about ${significant(magnitude(gamma) + spreadAverage)}.`;
	return {
		texture: 'grain',
		clause: 'Lost in noise.',
		words:
			'The echo cannot be told from no echo, so return loss and SWR are not known.' +
			(unsure
				? ' R and X are mostly the receiver’s own noise. More averages, less bandwidth or more level help.'
				: `${size} R and X hold within their spread. ${FROZEN}`)
	};
}

function lineChanged({ picture }: Case): Verdict | null {
	if (picture.correction.kind !== 'calibration' || !picture.correction.lineChanged) return null;
	return {
		texture: 'plain',
		clause: 'The line has changed since it was calibrated.',
		words: `The correction belongs to the line as it was. Calibrate again, or take the change back. ${NOT_IN_ELLIPSE}`
	};
}

function tooCoarse({ marker }: Case): Verdict | null {
	if (!marker.reading.coarse) return null;
	return {
		texture: 'plain',
		clause: 'The points are too far apart here.',
		words: `The reading turns by more than 20° from one point to the next, and this value lies between two. ${NOT_IN_ELLIPSE}`
	};
}

function outsideCalibration({ picture }: Case): Verdict | null {
	if (picture.correction.kind !== 'calibration' || picture.correction.fit !== 'outside') return null;
	return {
		texture: 'plain',
		clause: 'Outside the calibration’s band.',
		words:
			'The sweep goes beyond the frequencies that were calibrated; there the nearest correction is held. ' +
			`Calibrate again with this sweep, or take the sweep back. ${NOT_IN_ELLIPSE}`
	};
}

function outsideData({ picture }: Case): Verdict | null {
	if (!picture.deviceOutsideBand) return null;
	return {
		texture: 'plain',
		clause: 'Outside the band of the device’s data.',
		words: `The sweep goes beyond the frequencies its data cover; there the nearest value is held. ${NOT_IN_ELLIPSE}`
	};
}

function notCorrected({ picture, marker }: Case): Verdict | null {
	if (picture.correction.kind !== 'none') return null;
	const last = marker.levels.outgoing.length - 1;
	const between = last === 0 ? '' : ' and everything between it and the device';
	return {
		texture: 'plain',
		clause: 'Not corrected: no calibration is in use.',
		words: `The reading holds the instrument’s own errors${between}. None of that shows in the ellipse, which holds noise only.`
	};
}

/**
 * Before the truth is revealed only the settings are judged: a calibration behind the device's connector without
 * extension, or an extension past it. How far a set extension is off, only the truth tells.
 */
function wrongPlane({ setup, picture, marker, revealed }: Case): Verdict | null {
	if (picture.correction.kind !== 'calibration' || picture.correction.lineChanged) return null;
	const { plane } = picture.correction;
	const last = picture.planeDelays.length - 1;
	const { delay } = setup.processing.extension;
	const offset = picture.planeDelays[plane] + delay - picture.planeDelays[last];
	const turn = 4 * Math.PI * marker.reading.frequency * Math.abs(offset);
	const clause = 'The reference plane is not at the device’s connector.';
	const turned = `the reading is turned on the chart, and R and X with it. ${NOT_IN_ELLIPSE}`;
	if (revealed && turn > SMALL_TURN)
		return {
			texture: 'plane',
			clause,
			words: `It lies ${picoseconds(Math.abs(offset)).replace('+', '')} ${offset < 0 ? 'before' : 'beyond'} plane ${last}: ${turned}`
		};
	if (plane !== last && delay === 0)
		return {
			texture: 'plane',
			clause,
			words: `Calibrated at plane ${plane}, no extension to plane ${last}: ${turned}`
		};
	if (plane === last && delay !== 0)
		return {
			texture: 'plane',
			clause,
			words: `Calibrated at plane ${last}, which is the connector, and moved on by ${picoseconds(delay)}: ${turned}`
		};
	return null;
}

function lostSome({ picture }: Case): Verdict | null {
	const words = lostElsewhere(picture);
	return words === null ? null : { texture: 'hatch', clause: 'Some frequencies have no reading.', words };
}

function close({ setup, marker }: Case): Verdict | null {
	const { ceilingMargin, floorMargin } = marker.levels;
	if (ceilingMargin !== null && ceilingState(ceilingMargin) === 'close')
		return {
			texture: 'hatch',
			clause: 'Close to the ceiling.',
			words:
				setup.device.kind === 'circuit'
					? `${decibels(ceilingMargin)} are left. ${heardWords(setup, marker)} ${FROZEN}`
					: `${decibels(ceilingMargin)} are left: a small rise in level makes the reading invalid. ${FROZEN}`
		};
	if (floorState(floorMargin) === 'close')
		return {
			texture: 'grain',
			clause: 'Noise limits this reading.',
			words: `The device’s echo is ${decibels(floorMargin)} above the floor. ${FROZEN}`
		};
	return null;
}

/** Whether a point, seen from an ellipse's centre, lies inside it. */
export function insideEllipse(offset: Complex, region: Ellipse): boolean {
	const [cos, sin] = [Math.cos(region.angle), Math.sin(region.angle)];
	const along = offset.re * cos + offset.im * sin;
	const across = offset.im * cos - offset.re * sin;
	// A flat ellipse has no inside but its own line.
	const part = (value: number, half: number) => (half > 0 ? (value / half) ** 2 : value === 0 ? 0 : Infinity);
	return part(along, region.semiMajor) + part(across, region.semiMinor) <= 1;
}

/** Only once revealed: what the device presents at this level lies outside the ellipse around what it does at rest. */
function moved({ marker, revealed }: Case): Verdict | null {
	const { driven, truth, region } = marker.reading;
	const { ceilingMargin } = marker.levels;
	if (!revealed || region === null || (ceilingMargin !== null && ceilingMargin < 0)) return null;
	if (Number.isNaN(driven.re) || insideEllipse(subtract(driven, truth), region)) return null;
	return {
		texture: 'hatch',
		clause: 'Below the ceiling, and moved all the same.',
		words: `${movedWords(marker.reading)} That is more than the ellipse. ${AGREE}`
	};
}

/** Only once revealed: what every reading has in common keeps what the device presents outside the ellipse. */
function steadyAndWrong({ marker, revealed }: Case): Verdict | null {
	const { expected, driven, region } = marker.reading;
	const miss = subtract(expected, driven);
	if (!revealed || region === null || insideEllipse(miss, region)) return null;
	return {
		texture: 'plain',
		clause: 'The readings agree with each other and are wrong all the same.',
		words:
			`They settle ${significant(magnitude(miss))} of Γ away from what the device presents, farther than the ` +
			'ellipse reaches. What is frozen into the calibration, or lies beyond it, is the same in every reading.'
	};
}

function clear({ setup, picture, marker }: Case): Verdict {
	const none = marker.levels.ceilingMargin === null;
	const unknown = setup.device.kind === 'tabulated' && none;
	const steady = setup.device.kind !== 'tabulated' && none;
	const interpolated = picture.correction.kind === 'calibration' && picture.correction.fit === 'interpolated';
	return {
		texture: 'plain',
		clause: unknown
			? 'Clear of the noise; no ceiling is stated.'
			: steady
				? 'Clear of the noise; no level moves this device so far.'
				: 'Clear of both walls.',
		words:
			(unknown ? 'Nothing here can tell whether the level is too loud for this device. ' : '') +
			(interpolated ? 'The correction is interpolated between calibrated frequencies. ' : '') +
			FROZEN
	};
}

/** The verdict on the reading at one marker: the gravest limit first. Without a reading, why there is none. */
export function verdict(
	setup: Setup,
	picture: Picture,
	marker: 0 | 1 | 2,
	revealed: boolean,
	damage: readonly Damage[] = []
): Verdict {
	const found: Case = { setup, picture, marker: picture.markers[marker], revealed, damage };
	const none = noReading(setup, picture, found.marker);
	if (none) return { texture: 'plain', clause: none.clause, words: none.words };
	const limits = [
		// a correction that does not hold spoils everything that is said after it
		notCorrected,
		lineChanged,
		outsideCalibration,
		broken,
		tooLoud,
		lostInNoise,
		outsideData,
		wrongPlane,
		tooCoarse,
		lostSome,
		moved,
		close,
		steadyAndWrong
	];
	const [gravest, ...others] = limits.flatMap((limit) => limit(found) ?? []);
	if (!gravest) return clear(found);
	return others.length === 0 ? gravest : { ...gravest, also: others.map(({ clause }) => clause) };
}
