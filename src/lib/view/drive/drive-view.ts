import type { PictureMarker } from '#lib/bench/picture.ts';
import { at, magnitude, subtract } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { impedanceFromGamma } from '#lib/network/impedance.ts';

/** How a device answers at one level. Resistance and reactance in Ω, gain in dB: themselves, or how far from rest. */
export interface DriveRow {
	/** dBm, incident at the device. */
	readonly level: number;
	readonly resistance: number;
	readonly reactance: number;
	/** Null for a device without output. */
	readonly gain: number | null;
	/** |ΔΓ| from rest. */
	readonly moved: number;
}

/** A drive curve as it is shown. Before the truth is revealed it tells changes from rest only, which give no answer away. */
export interface DriveView {
	readonly revealed: boolean;
	/** Rising in level; a value that is not finite is a gap. */
	readonly rows: readonly DriveRow[];
	readonly rest: DriveRow;
	/** At the present level; null where no state is found or there is no level. */
	readonly now: DriveRow | null;
	/** |ΔΓ| at the ceiling. */
	readonly change: number;
	readonly ceiling: number | null;
	readonly compression: number | null;
	readonly breaking: number | null;
}

/** Null for a device that has no drive curve, or one of fewer than two levels. */
export function driveView(marker: PictureMarker, revealed: boolean, change: number): DriveView | null {
	const { drive, levels, reading } = marker;
	if (drive === null || drive.levels.length < 2) return null;
	const zero = revealed ? { re: 0, im: 0 } : impedanceFromGamma(drive.rest);
	const gainAtRest = drive.gainDb ? drive.gainDb[0] : null;
	const gainZero = revealed || gainAtRest === null ? 0 : gainAtRest;
	const row = (level: number, gamma: Complex, gain: number | null): DriveRow => {
		const impedance = subtract(impedanceFromGamma(gamma), zero);
		return {
			level,
			resistance: impedance.re,
			reactance: impedance.im,
			gain: gain === null ? null : gain - gainZero,
			moved: magnitude(subtract(gamma, drive.rest))
		};
	};
	const rows = Array.from(drive.levels, (level, i) =>
		row(level, at(drive.gamma, i), drive.gainDb?.[i] ?? null)
	);
	const present = levels.outgoing[levels.outgoing.length - 1];
	const nearest = rowAt(rows, present) ?? (present > rows[0].level ? rows[rows.length - 1] : rows[0]);
	const known = Number.isFinite(present) && !Number.isNaN(reading.driven.re);
	return {
		revealed,
		rows,
		rest: row(-Infinity, drive.rest, gainAtRest),
		now: known ? { ...row(present, reading.driven, null), gain: nearest.gain } : null,
		change,
		ceiling: drive.ceiling,
		compression: drive.compression,
		breaking: drive.breaking
	};
}

/** The row at a level between those of a curve, on straight lines; null outside of them. */
export function rowAt(rows: readonly DriveRow[], level: number | null): DriveRow | null {
	if (level === null) return null;
	const above = rows.findIndex((row) => row.level >= level);
	if (above < 1) return null;
	const [a, b] = [rows[above - 1], rows[above]];
	const share = (level - a.level) / (b.level - a.level);
	const between = (x: number, y: number): number => x + share * (y - x);
	return {
		level,
		resistance: between(a.resistance, b.resistance),
		reactance: between(a.reactance, b.reactance),
		gain: a.gain === null || b.gain === null ? null : between(a.gain, b.gain),
		moved: between(a.moved, b.moved)
	};
}
