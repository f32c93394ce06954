/** Finding room for words among lines and other words. Boxes are in the units of the drawing. */
export interface Box {
	readonly x: number;
	readonly y: number;
	readonly width: number;
	readonly height: number;
}

export const overlap = (a: Box, b: Box): boolean =>
	a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

/** A box that slides down (or up, with a negative step) from y `from` until its edge passes `to`. */
export function slide(size: Omit<Box, 'y'>, from: number, to: number, step = 6): Box[] {
	const count = Math.max(0, Math.floor((to - from - (step > 0 ? size.height : 0)) / step) + 1);
	return Array.from({ length: count }, (_, k) => ({ ...size, y: from + k * step }));
}

/** The first candidate that overlaps nothing taken; it is then taken itself. Undefined if there is none. */
export function claim<B extends Box>(candidates: readonly B[], taken: Box[]): B | undefined {
	const free = candidates.find((candidate) => !taken.some((box) => overlap(candidate, box)));
	if (free) taken.push(free);
	return free;
}

/** What a polyline takes up, with some room at either side. */
export function lineBoxes(points: readonly (readonly [x: number, y: number])[], room = 3): Box[] {
	return points.slice(1).map(([x1, y1], k) => {
		const [x0, y0] = points[k];
		return {
			x: Math.min(x0, x1),
			y: Math.min(y0, y1) - room,
			width: Math.max(1, Math.abs(x1 - x0)),
			height: Math.abs(y1 - y0) + 2 * room
		};
	});
}
