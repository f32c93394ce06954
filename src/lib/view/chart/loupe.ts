import type { Complex } from '#lib/numeric/complex.ts';
import { HEIGHT } from './frame.ts';
import type { Frame, Point } from './frame.ts';

/** The enlarged view of one marker's readings. */
export type Quadrant = 'upper right' | 'upper left' | 'lower left' | 'lower right';

export interface Loupe {
	/** A power of two, 2 to 256. */
	readonly factor: number;
	/** Pixels. */
	readonly radius: number;
}

export const SMALLEST_FACTOR = 2;
export const LARGEST_FACTOR = 256;

/**
 * Powers of two alone cannot keep the region between 60 and 80 % of one loupe, since the next one doubles it; three
 * sizes close the gap.
 */
const RADII = [72, 58, 48] as const;
export const LARGEST_RADIUS = RADII[0];
const LEAST = 0.6;
const MOST = 0.8;

/** Share of the loupe's width that a region of this half axis (pixels on the chart) spans. */
export const share = (loupe: Loupe, semiMajor: number): number => (semiMajor * loupe.factor) / loupe.radius;

/**
 * The loupe whose width the 95 % region of single readings fills by 60 to 80 %; at ×2 and ×256 what does not fit stays
 * larger or smaller. `semiMajor` in pixels on the chart; null (no spread known yet) gives ×8. The previous loupe is kept
 * while it is within a few per cent of right, so that it does not jump with the noise of an estimate.
 */
export function chooseLoupe(semiMajor: number | null, previous: Loupe | null = null): Loupe {
	if (semiMajor === null || !Number.isFinite(semiMajor))
		return previous ?? { factor: 8, radius: LARGEST_RADIUS };
	if (semiMajor === 0) return previous ?? { factor: LARGEST_FACTOR, radius: LARGEST_RADIUS };
	if (previous) {
		const now = share(previous, semiMajor);
		if (now >= LEAST - 0.04 && now <= MOST + 0.04) return previous;
	}
	const largest = 2 ** Math.floor(Math.log2((MOST * LARGEST_RADIUS) / semiMajor));
	const factor = Math.min(LARGEST_FACTOR, Math.max(SMALLEST_FACTOR, largest));
	const radius =
		RADII.find((r) => share({ factor, radius: r }, semiMajor) >= LEAST) ?? RADII[RADII.length - 1];
	return { factor, radius: factor === largest ? radius : LARGEST_RADIUS };
}

/**
 * The quadrant Γ lies in. Near an axis (within 0.03) the previous one is kept, so that a noisy marker does not make the
 * loupe hop to and fro.
 */
export function quadrantOf(gamma: Complex, previous: Quadrant | null = null): Quadrant {
	const side = (value: number, before: boolean | null) =>
		before !== null && Math.abs(value) < 0.03 ? before : value >= 0;
	const upper = side(gamma.im, previous && previous.startsWith('upper'));
	const right = side(gamma.re, previous && previous.endsWith('right'));
	return `${upper ? 'upper' : 'lower'} ${right ? 'right' : 'left'}`;
}

const OPPOSITE: Readonly<Record<Quadrant, Quadrant>> = {
	'upper right': 'lower left',
	'upper left': 'lower right',
	'lower left': 'upper right',
	'lower right': 'upper left'
};

export const opposite = (quadrant: Quadrant): Quadrant => OPPOSITE[quadrant];

/** Centre of a loupe that lies in a quadrant, in the corner of the drawing. */
export function loupeCentre(frame: Frame, quadrant: Quadrant, radius: number): Point {
	const reach = 162 - radius;
	return {
		x: frame.centre.x + (quadrant.endsWith('right') ? reach : -reach),
		y: quadrant.startsWith('upper') ? radius + 4 : HEIGHT - 14 - radius
	};
}

/** What the loupe is aimed at: the old aim until the marker has left the middle fifth of the loupe. */
export function aim(gamma: Complex, previous: Complex | null, frame: Frame, loupe: Loupe): Complex {
	if (previous === null) return gamma;
	const pixels = Math.hypot(gamma.re - previous.re, gamma.im - previous.im) * frame.unit * loupe.factor;
	return pixels <= loupe.radius * 0.2 ? previous : gamma;
}

/** The frame of what is seen through the loupe. */
export const enlarged = (frame: Frame, loupe: Loupe, centre: Point, aimed: Complex): Frame => {
	const unit = frame.unit * loupe.factor;
	return { unit, centre: { x: centre.x - aimed.re * unit, y: centre.y + aimed.im * unit } };
};

/** The two ends of the leader between the loupe and the ring round the marker; null where they touch. */
export function leader(from: Point, radius: number, to: Point, ring: number): readonly [Point, Point] | null {
	const dx = to.x - from.x;
	const dy = to.y - from.y;
	const distance = Math.hypot(dx, dy);
	if (distance <= radius + ring) return null;
	const along = (pixels: number): Point => ({
		x: from.x + (dx * pixels) / distance,
		y: from.y + (dy * pixels) / distance
	});
	return [along(radius), along(distance - ring)];
}
