import { formatQuantity } from '#lib/bench/quantity.ts';
import type { Device, Termination } from '#lib/bench/device-schema.ts';
import type { Part } from '#lib/bench/part-schema.ts';
import { NO_BREAK_SPACE, decibels, fixed, shown, signed, withUnit } from '#lib/view/numbers.ts';
import { positionWords } from './device-function.ts';
import { hasOutput } from './section.ts';

/** Widths in em, near enough to place a text: figures (which are tabular), words, and words in the condensed family. */
const EM = { figures: 0.55, words: 0.47, condensed: 0.465 };

/** How much width a text takes. */
export const textWidth = (text: string, size: number, kind: keyof typeof EM): number =>
	text.length * size * EM[kind];

/** Narrower than this a name that does not fit is left out: the drawing says what the part is. */
const WORTH_SHORTENING = 96;

/** The text in the condensed family, shortened to fit `width`, or empty. */
export function fitted(text: string, size: number, width: number): string {
	if (textWidth(text, size, 'condensed') <= width) return text;
	const letters = Math.floor(width / textWidth('n', size, 'condensed')) - 1;
	return width < WORTH_SHORTENING ? '' : `${text.slice(0, letters).trimEnd()}…`;
}

/** What stands under a part: its set value and, where there is room and it is known, what it costs one way. */
export function partValue(part: Part, lossDb: number | null, width: number): string {
	if (part.kind === 'pad') return shown(formatQuantity(part.attenuation, 'attenuation'));
	if (part.kind === 'adapter') return shown(formatQuantity(part.sections[0].impedance, 'resistance'));
	const length = shown(formatQuantity(part.length, 'length'));
	const both = lossDb === null ? length : `${length}, ${decibels(lossDb, 2)}`;
	return textWidth(both, 14, 'condensed') <= width ? both : length;
}

const impedanceValue = (resistance: number, reactance: number): string => {
	const real = shown(formatQuantity(resistance, 'resistance'));
	if (reactance === 0) return real;
	const imaginary = signed(reactance, Number.isInteger(reactance) ? 0 : 1).replace(
		/^./,
		(sign) => ` ${sign} j`
	);
	const size = fixed(resistance, Number.isInteger(resistance) ? 0 : 1);
	return withUnit(size + imaginary.replaceAll(' ', NO_BREAK_SPACE), 'Ω');
};

/** What stands under the device: of a front end where its switches stand, shorter where there is little room. */
export function deviceValue(
	device: Device,
	room?: { readonly left: number; readonly right: number }
): string {
	if (device.kind === 'circuit') {
		const positions = positionWords(device);
		const whole = positions.join(', ') || (hasOutput(device) ? 'two ports' : 'one port');
		if (room === undefined || textWidth(whole, 14, 'condensed') <= room.right - room.left) return whole;
		const unusual = positionWords(device, true);
		return unusual.join(', ') || positions[0];
	}
	if (device.kind === 'impedance') return impedanceValue(device.resistance, device.reactance);
	if (device.kind === 'tabulated') return device.data.ports === 2 ? 'two ports' : 'one port';
	return device.kind;
}

/** What stands under the output of a two-port device. */
export const outputValue = (output: Termination): string =>
	output.kind === 'impedance' ? impedanceValue(output.resistance, output.reactance) : output.kind;
