import type { MarkerReading } from '#lib/bench/picture.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import type { Frame, Point } from './frame.ts';
import { held, isFinitePoint } from './frame.ts';
import { aim, chooseLoupe, LARGEST_RADIUS, loupeCentre, opposite, quadrantOf } from './loupe.ts';
import type { Loupe, Quadrant } from './loupe.ts';

/** The loupe as it stands: which marker, how large, where, and aimed at what. */
export interface LoupeState {
	readonly marker: number;
	readonly loupe: Loupe;
	/** Where the loupe lies; opposite the marker. */
	readonly quadrant: Quadrant;
	readonly markerQuadrant: Quadrant;
	readonly centre: Point;
	readonly aimed: Complex;
}

/**
 * The next state of the loupe. What came before steadies it, as long as it shows the same marker. `factor` is the
 * user's own, or null for the fitting one. Null when the marker has no finite reading.
 */
export function nextLoupe(
	frame: Frame,
	reading: MarkerReading,
	marker: number,
	factor: number | null,
	before: LoupeState | null
): LoupeState | null {
	if (!isFinitePoint(reading.gamma)) return null;
	const same = before?.marker === marker ? before : null;
	const semiMajor = reading.spreadSingle === null ? null : reading.spreadSingle * frame.unit;
	const fitting = chooseLoupe(semiMajor, factor === null ? (same?.loupe ?? null) : null);
	const loupe = factor === null ? fitting : { factor, radius: LARGEST_RADIUS };
	const markerQuadrant = quadrantOf(held(frame, reading.gamma), same?.markerQuadrant ?? null);
	const quadrant = opposite(markerQuadrant);
	const aimed = aim(reading.gamma, same?.aimed ?? null, frame, loupe);
	return {
		marker,
		loupe,
		quadrant,
		markerQuadrant,
		aimed,
		centre: loupeCentre(frame, quadrant, loupe.radius)
	};
}
