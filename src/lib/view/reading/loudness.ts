import type { PictureMarker } from '#lib/bench/picture.ts';
import { formatQuantity } from '#lib/bench/quantity.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { magnitude, subtract } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { impedanceFromGamma } from '#lib/network/impedance.ts';
import { fixed, level, shown, significant, withUnit } from '#lib/view/numbers.ts';

/** What a level does to a device whose circuit is known. */

const change = (name: string, by: number): string => {
	const size = Math.abs(by);
	if (!Number.isFinite(size)) return `${name} has no measure`;
	const figure = withUnit(size < 10 ? significant(size) : fixed(size, size < 1000 ? 1 : 0), 'Ω');
	return `${name} is ${figure} ${by < 0 ? 'lower' : 'higher'}`;
};

/** How far the answer at the present level is from that at rest: only for the revealed truth. */
export function movedWords({ truth, driven }: { readonly truth: Complex; readonly driven: Complex }): string {
	const [rest, now] = [impedanceFromGamma(truth), impedanceFromGamma(driven)];
	return (
		`Γ has moved by ${significant(magnitude(subtract(driven, truth)))} from rest: ` +
		`${change('R', now.re - rest.re)} and ${change('X', now.im - rest.im)}.`
	);
}

/** What it hears against where its ceiling is. */
export function heardWords({ device }: Setup, { levels }: PictureMarker): string {
	const heard = levels.outgoing[levels.outgoing.length - 1];
	const ceiling = levels.ceiling?.at(-1);
	if (device.kind !== 'circuit' || ceiling === undefined) return '';
	return (
		`${device.name} hears ${level(heard)}; at ${level(ceiling, 1)} Γ has moved by ` +
		`${shown(formatQuantity(device.ceilingChange, 'number'))} from rest.`
	);
}
