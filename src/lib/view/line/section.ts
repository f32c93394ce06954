import type { Device } from '#lib/bench/device-schema.ts';

/** Whether something ends the output of this device: it is a two-port. */
export const hasOutput = (device: Device): boolean =>
	device.kind === 'circuit'
		? device.circuit.portNames.length > 1
		: device.kind === 'tabulated' && device.data.ports === 2;

/** Measures every section shares: y of the three conductors, and the height a section may take. */
export const CENTRE = 56;
export const OUTER = [48, 64] as const;
export const SECTION_TOP = 26;
export const SECTION_BOTTOM = 86;

/** Where a section stands in its column. */
export interface Span {
	readonly left: number;
	readonly right: number;
}

/** A section of at most `most` in the middle of its column, with at least `lead` of line at either side. */
export function middleSpan(column: Span, most: number, lead: number): Span {
	const width = Math.min(most, column.right - column.left - 2 * lead);
	const middle = (column.left + column.right) / 2;
	return { left: middle - width / 2, right: middle + width / 2 };
}

/** The reflectometer's body at the left of its column. */
export function reflectometerSpan(column: Span): Span {
	const narrow = column.right - column.left < 100;
	const left = column.left + (narrow ? 4 : 12);
	return { left, right: Math.min(column.right - (narrow ? 8 : 14), left + 150) };
}

export interface DeviceSpans {
	readonly body: Span;
	/** Undefined for a device without output. */
	readonly output: Span | undefined;
}

/** The device's body behind a short lead and, for a two-port, its output termination at the end. */
export function deviceSpans(column: Span, hasOutput: boolean): DeviceSpans {
	const width = column.right - column.left;
	const narrow = width < 120;
	const [lead, gap, outputWidth] = narrow ? [10, 6, 20] : [16, 8, 28];
	const left = column.left + lead;
	if (!hasOutput) return { body: { left, right: left + Math.min(72, width - lead - 8) }, output: undefined };
	const right = left + Math.min(130, width - lead - gap - outputWidth - 4);
	return { body: { left, right }, output: { left: right + gap, right: right + gap + outputWidth } };
}
