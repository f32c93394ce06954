import { at, magnitude } from '#lib/numeric/complex.ts';
import type { PlaneWaves } from '#lib/network/waves.ts';
import type { Damage } from './history.ts';
import type { Part } from './part-schema.ts';

/** Power that every part between two planes burns, W: what goes in less what comes out, in the order of the planes. */
export function burntPower(waves: readonly PlaneWaves[], marker: number): number[] {
	const net = waves.map(
		({ outgoing, returning }) => magnitude(at(outgoing, marker)) ** 2 - magnitude(at(returning, marker)) ** 2
	);
	return net.slice(1).map((power, k) => net[k] - power);
}

/** The first of `parts` that burns more than it may, as an event; null if none does. */
export function firstOver(
	parts: readonly Part[],
	burnt: readonly number[],
	frequency: number,
	cause: Damage['cause']
): Damage | null {
	const over = parts.findIndex((part, k) => part.kind === 'pad' && burnt[k] > part.powerRating);
	const part = parts[over];
	if (part?.kind !== 'pad') return null;
	return {
		part: part.id,
		name: part.name,
		element: null,
		crossed: { quantity: 'dissipation', limit: part.powerRating, reached: burnt[over] },
		frequency,
		cause
	};
}
