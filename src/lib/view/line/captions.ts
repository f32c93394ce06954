import type { Part } from '#lib/bench/part-schema.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { decibels } from '#lib/view/numbers.ts';
import type { Selection } from '#lib/view/selection.ts';
import type { Columns } from './columns.ts';
import { reflectometerSpan } from './section.ts';
import type { DeviceSpans, Span } from './section.ts';
import { deviceValue, fitted, outputValue, partValue, textWidth } from './words.ts';

/** Name and value of one section, each centred at its x. */
export interface Caption {
	readonly selection: Selection;
	readonly x: number;
	readonly nameX: number;
	readonly name: string;
	/** Size of the name. */
	readonly size: number;
	readonly value: string;
	/** What a broken part has in place of its set value, where that is another one. */
	readonly now?: string;
}

interface Around {
	readonly level: string;
	/** One-way loss of each part, null where not known yet. */
	readonly losses: readonly (number | null)[];
	readonly selected: Selection | null;
	readonly width: number;
	/** The broken parts. */
	readonly broken?: readonly Selection[];
}

const NAME = 15;

/** Sizes a name may have, the largest that fits. */
const SIZES = [NAME, 13.5, 12];

const VALUE = 14;

/** What a broken pad costs one way since. */
const lossNow = (part: Part, loss: number | null): string | undefined =>
	part.kind === 'pad' && loss !== null ? decibels(loss) : undefined;

/** What of a span lies evenly about the middle of another one. */
function about({ left, right }: Span, span: Span): Span {
	const middle = (left + right) / 2;
	const half = Math.min(middle - span.left, span.right - middle);
	return { left: middle - half, right: middle + half };
}

/** Names are made smaller, then shortened to their section; of the selected part the whole name is shown, and its neighbours' give way. */
export function captionsOf(setup: Setup, columns: Columns, spans: DeviceSpans, around: Around): Caption[] {
	const middle = (span: Span) => (span.left + span.right) / 2;
	const device = columns.all.at(-1)!;
	const fits = (text: string, size: number, { left, right }: Span) =>
		textWidth(text, size, 'condensed') <= right - left;
	/** The output gives its room to the device's name where it has too little for its own. */
	const outputName = spans.output && { left: spans.output.left - 10, right: spans.output.right + 10 };
	const besideOutput = spans.output && { left: device.left + 2, right: spans.output.left - 12 };
	const both =
		!besideOutput || (fits('Output', 12, outputName!) && fits(setup.device.name, 12, besideOutput));
	const sections = [
		{
			selection: 'reflectometer',
			name: 'Reflectometer',
			value: around.level,
			span: columns.all[0] as Span,
			body: reflectometerSpan(columns.all[0])
		},
		...setup.parts.map((part, index) => {
			const column = columns.all[index + 1];
			return {
				selection: column.selection,
				name: part.name,
				value: partValue(part, around.losses[index], column.width),
				now: around.broken?.includes(column.selection) ? lossNow(part, around.losses[index]) : undefined,
				span: column,
				body: undefined
			};
		}),
		{
			selection: 'device',
			name: setup.device.name,
			value: deviceValue(setup.device, besideOutput && both ? besideOutput : device),
			body: spans.body,
			span:
				besideOutput && both ? about(spans.body, besideOutput) : { left: device.left, right: device.right }
		},
		...(outputName
			? [
					{
						selection: 'output',
						name: 'Output',
						value: outputValue(setup.output),
						span: outputName,
						body: undefined
					}
				]
			: [])
	];
	const captions = sections.map(({ selection, name, value, span, body, ...rest }) => {
		const size = SIZES.find((s) => fits(name, s, span)) ?? NAME;
		return {
			selection,
			size,
			x: middle(body ?? span),
			nameX: middle(both && body ? body : span),
			name: selection === 'output' && !both ? '' : fitted(name, size, span.right - span.left),
			value: textWidth(value, VALUE, 'condensed') <= span.right - span.left + 8 ? value : '',
			...('now' in rest && rest.now !== undefined ? { now: rest.now } : {}),
			whole: name
		};
	});
	const chosen = captions.find((c) => c.selection === around.selected);
	return captions.map(({ whole, ...rest }) => {
		const caption = rest;
		if (!chosen || chosen.name === chosen.whole) return caption;
		const half = textWidth(chosen.whole, NAME, 'condensed') / 2;
		const x = Math.min(around.width - half, Math.max(half, chosen.x));
		if (caption.selection === chosen.selection) return { ...caption, name: whole, nameX: x };
		const mine = textWidth(caption.name, NAME, 'condensed') / 2;
		return Math.abs(caption.x - x) < half + mine + 6 ? { ...caption, name: '' } : caption;
	});
}
