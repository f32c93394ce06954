import { baseUnit, parseQuantity, quantityKinds } from '#lib/bench/quantity.ts';
import { Fault } from '#lib/fault.ts';

/** Whether a text is this value in a unit whose base is `unit`. */
const says = (text: string, value: number, unit: string): boolean =>
	quantityKinds.some((kind) => {
		if (baseUnit(kind) !== unit) return false;
		try {
			return parseQuantity(text, kind) === value;
		} catch (fault) {
			if (fault instanceof Fault) return false;
			throw fault;
		}
	});

/** Every text within a plain value. */
function textsIn(value: unknown): readonly string[] {
	if (typeof value === 'string') return [value];
	return typeof value === 'object' && value !== null ? Object.values(value).flatMap(textsIn) : [];
}

/**
 * What the circuit found, "Its resistance in Ω is -15000.", in the words of the file: "Its resistance is -15 kΩ.".
 * Where the file has no such value, as for one that was worked out from others, it stays as it is.
 */
export function asWritten(finding: string, file: unknown, path: readonly string[]): string {
	const [, quantity, unit = '', value] = /^Its (.+?)(?: in (\S+))? is (\S+)\.$/.exec(finding) ?? [];
	if (quantity === undefined) return finding;
	const part = path.reduce<unknown>(
		(around, key) =>
			typeof around === 'object' && around !== null && Object.hasOwn(around, key)
				? (around as Readonly<Record<string, unknown>>)[key]
				: undefined,
		file
	);
	const text = textsIn(part).find((candidate) => says(candidate, Number(value), unit.replace(/^1\//, '/')));
	return text === undefined ? finding : `Its ${quantity} is ${text}.`;
}
