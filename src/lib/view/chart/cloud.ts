import type { ComplexArray } from '#lib/numeric/complex.ts';
import type { Frame } from './frame.ts';

/** The cloud as one path an age band: a dot is a line of no length with round ends, so 200 cost four elements. */
export interface Band {
	readonly path: string;
	readonly opacity: number;
}

/** Older readings are paler. */
const OPACITIES = [0.45, 0.6, 0.78, 0.95] as const;

/** Bands from old to new; dots outside `limit` pixels from the frame's own view (`about`) are left out. */
export function cloudBands(
	frame: Frame,
	cloud: ComplexArray,
	about: { readonly x: number; readonly y: number },
	limit: number
): readonly Band[] {
	const count = cloud.re.length;
	const paths = OPACITIES.map(() => '');
	for (let i = 0; i < count; i++) {
		const x = frame.centre.x + cloud.re[i] * frame.unit;
		const y = frame.centre.y - cloud.im[i] * frame.unit;
		if (!(Math.abs(x - about.x) <= limit && Math.abs(y - about.y) <= limit)) continue;
		const band = Math.min(OPACITIES.length - 1, Math.floor((i * OPACITIES.length) / count));
		paths[band] += `M${x.toFixed(1)} ${y.toFixed(1)}h0`;
	}
	return OPACITIES.map((opacity, k) => ({ opacity, path: paths[k] })).filter((band) => band.path !== '');
}
