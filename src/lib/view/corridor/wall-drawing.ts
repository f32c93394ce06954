import type { LevelDiagram } from '#lib/bench/picture.ts';
import { GRAIN_TILE, HATCH, grain } from '#lib/view/grain.ts';
import type { Columns } from '#lib/view/line/columns.ts';
import type { Axis } from './axis.ts';
import { levelPath } from './level-path.ts';
import type { Point } from './level-path.ts';

/**
 * The walls with their hatch and grain, drawn as pixels: patterns and masks in the drawing itself would be worked out
 * anew at every change. Each texture is made once for the whole plot, as a sheet; the walls are cut from the sheets.
 */
export interface Inks {
	readonly ceiling: string;
	readonly floor: string;
	readonly back: string;
	readonly ceilingWash: number;
	readonly floorWash: number;
}

export interface Plot {
	readonly axis: Axis;
	readonly columns: Columns;
	/** Pixels of the screen a px of the drawing. */
	readonly scale: number;
}

/** How strong a wall is that is referred through the chain: at the first plane it passes, and at the far end. */
const NEAR = 0.34;
const FAR = 0.04;

/** From the one to the other of the two lines that are the edge of what breaks the device. */
const DOUBLE = 5;

/** Strength of the grain between the floor of one reading and the averaged floor. */
const AVERAGING = 0.2;

interface Sheets {
	readonly hatch: HTMLCanvasElement;
	readonly hatchFading: HTMLCanvasElement;
	/** The other diagonal, which makes a cross-hatch of the hatch. */
	readonly counter: HTMLCanvasElement;
	readonly counterFading: HTMLCanvasElement;
	readonly grain: HTMLCanvasElement;
	readonly grainFading: HTMLCanvasElement;
}

/** The canvas is read back by no one, yet asked for as if: it is then kept in memory and drawn by the processor. */
const contextOf = (canvas: HTMLCanvasElement): CanvasRenderingContext2D =>
	canvas.getContext('2d', { willReadFrequently: true })!;

/** Sets a canvas to the size of the plot and its origin to the plot's top left corner; it is then empty. */
function fit(canvas: HTMLCanvasElement, { axis, columns, scale }: Plot): CanvasRenderingContext2D {
	canvas.width = Math.ceil((columns.right - columns.left) * scale);
	canvas.height = Math.ceil((axis.yBottom - axis.yTop) * scale);
	const context = contextOf(canvas);
	context.setTransform(scale, 0, 0, scale, -columns.left * scale, -axis.yTop * scale);
	return context;
}

/** Lays the canvas over the plot. Set from here, because the page's policy lets no style attribute in. */
export function lieOn(canvas: HTMLCanvasElement, { axis, columns }: Plot, zoom: number): void {
	const { style } = canvas;
	style.left = `${columns.left * zoom}px`;
	style.top = `${axis.yTop * zoom}px`;
	style.width = `${(columns.right - columns.left) * zoom}px`;
	style.height = `${(axis.yBottom - axis.yTop) * zoom}px`;
}

function sheet(plot: Plot, draw: (context: CanvasRenderingContext2D) => void): HTMLCanvasElement {
	const canvas = document.createElement('canvas');
	draw(fit(canvas, plot));
	return canvas;
}

function wash(context: CanvasRenderingContext2D, { axis, columns }: Plot, colour: string, strength: number) {
	context.globalAlpha = strength;
	context.fillStyle = colour;
	context.fillRect(columns.left, axis.yTop, columns.right - columns.left, axis.yBottom - axis.yTop);
	context.globalAlpha = 1;
	context.strokeStyle = colour;
}

function hatchSheet(plot: Plot, inks: Inks, way: 'hatch' | 'counter'): HTMLCanvasElement {
	const { axis, columns } = plot;
	return sheet(plot, (context) => {
		wash(context, plot, inks.ceiling, inks.ceilingWash);
		context.lineWidth = HATCH.width;
		const step = HATCH.spacing * Math.SQRT2;
		const height = axis.yBottom - axis.yTop;
		const [from, to] = way === 'hatch' ? [axis.yTop, axis.yBottom] : [axis.yBottom, axis.yTop];
		for (let x = columns.left - (columns.left % step); x < columns.right + height; x += step) {
			context.moveTo(x, from);
			context.lineTo(x - height, to);
		}
		context.stroke();
	});
}

function grainSheet(plot: Plot, inks: Inks): HTMLCanvasElement {
	const { axis, columns } = plot;
	const dots = grain.map(({ radius, data }) => ({ radius, path: new Path2D(data) }));
	return sheet(plot, (context) => {
		wash(context, plot, inks.floor, inks.floorWash);
		context.lineCap = 'round';
		for (let x = columns.left; x < columns.right; x += GRAIN_TILE)
			for (let y = axis.yTop; y < axis.yBottom; y += GRAIN_TILE) {
				context.save();
				context.translate(x, y);
				context.beginPath();
				context.rect(0, 0, GRAIN_TILE, GRAIN_TILE);
				context.clip();
				for (const { radius, path } of dots) {
					context.lineWidth = 2 * radius;
					context.stroke(path);
				}
				context.restore();
			}
	});
}

/** The same texture, its strength going from one value at `x0` to another at `x1`. */
function fading(plot: Plot, from: HTMLCanvasElement, [x0, x1]: Point, [s0, s1]: Point): HTMLCanvasElement {
	const { axis, columns } = plot;
	return sheet(plot, (context) => {
		lay(context, plot, from);
		const fade = context.createLinearGradient(x0, 0, x1, 0);
		fade.addColorStop(0, `rgb(0 0 0 / ${s0})`);
		fade.addColorStop(1, `rgb(0 0 0 / ${s1})`);
		context.globalCompositeOperation = 'destination-in';
		context.fillStyle = fade;
		context.fillRect(columns.left, axis.yTop, columns.right - columns.left, axis.yBottom - axis.yTop);
	});
}

export function sheetsOf(plot: Plot, inks: Inks): Sheets {
	const { left, right, planes } = plot.columns;
	const [hatch, grain] = [hatchSheet(plot, inks, 'hatch'), grainSheet(plot, inks)];
	const counter = hatchSheet(plot, inks, 'counter');
	return {
		hatch,
		hatchFading: fading(plot, hatch, [left, planes.at(-1)!], [FAR, NEAR]),
		counter,
		counterFading: fading(plot, counter, [left, planes.at(-1)!], [FAR, NEAR]),
		grain,
		grainFading: fading(plot, grain, [planes[0], right], [NEAR, FAR])
	};
}

function lay(context: CanvasRenderingContext2D, { axis, columns, scale }: Plot, sheet: HTMLCanvasElement) {
	context.drawImage(sheet, columns.left, axis.yTop, sheet.width / scale, sheet.height / scale);
}

/** Cuts a wall's area, given by its corners, from a sheet. */
function cut(
	context: CanvasRenderingContext2D,
	plot: Plot,
	sheet: HTMLCanvasElement,
	corners: readonly Point[],
	strength = 1
) {
	context.save();
	context.beginPath();
	for (const [x, y] of corners) context.lineTo(x, y);
	context.clip();
	context.globalAlpha = strength;
	lay(context, plot, sheet);
	context.restore();
}

interface Stroke {
	readonly colour: string;
	readonly width: number;
	readonly opacity?: number;
	readonly dash?: readonly number[];
}

function edge(context: CanvasRenderingContext2D, points: readonly Point[], stroke: Stroke) {
	context.beginPath();
	for (const [x, y] of points) context.lineTo(x, y);
	context.strokeStyle = stroke.colour;
	context.lineWidth = stroke.width;
	context.globalAlpha = stroke.opacity ?? 1;
	context.setLineDash([...(stroke.dash ?? [])]);
	context.stroke();
	context.globalAlpha = 1;
}

/**
 * The walls, each at full strength over its own column and fading where it is referred through the chain, with their
 * edges: what is too loud, in it what breaks the device, and the noise with the dashed edge of one reading.
 */
export function drawWalls(
	canvas: HTMLCanvasElement,
	plot: Plot,
	levels: LevelDiagram,
	sheets: Sheets,
	inks: Inks
): void {
	const { axis, columns } = plot;
	const { left, right, planes } = columns;
	const [first, last] = [planes[0], planes.at(-1)!];
	const { yTop, yBottom } = axis;
	const context = fit(canvas, plot);
	const across = (x0: number, x1: number, y: number): Point[] => [
		[x0, y],
		[x1, y]
	];
	const area = (x0: number, x1: number, y0: number, y1: number): Point[] => [
		...across(x0, x1, y0),
		...across(x1, x0, y1)
	];

	/** From a level up: over the line where it is referred, and at the device. */
	const above = (wall: readonly number[]) => {
		const ys = wall.map(axis.inside);
		const edge = levelPath(columns, ys, left);
		return {
			edge,
			line: [...edge, ...across(last, left, yTop)],
			device: area(last, right, yTop, ys.at(-1)!)
		};
	};
	const { ceiling, breaking } = levels;
	if (ceiling ?? breaking) {
		// what breaks the device is too loud for it, even if it answers as at rest until then
		const loud = (ceiling ?? breaking)!.map((level, k) => Math.min(level, breaking?.[k] ?? level));
		const wall = above(loud);
		cut(context, plot, sheets.hatchFading, wall.line);
		cut(context, plot, sheets.hatch, wall.device);
	}
	if (breaking) {
		const wall = above(breaking);
		cut(context, plot, sheets.counterFading, wall.line);
		cut(context, plot, sheets.counter, wall.device);
		// off the axis it has no edge, so that none is drawn along the rim
		const ys = breaking.map(axis.y);
		for (const side of [-DOUBLE / 2, DOUBLE / 2]) {
			const shifted = ys.map((y) => y + side);
			edge(context, levelPath(columns, shifted, left), { colour: inks.ceiling, width: 1, opacity: 0.8 });
			edge(context, across(last, right, shifted.at(-1)!), { colour: inks.ceiling, width: 2 });
		}
	}
	if (ceiling) {
		const wall = above(ceiling);
		edge(context, wall.edge, { colour: inks.ceiling, width: 1.75, opacity: 0.8 });
		edge(context, across(last, right, axis.inside(ceiling.at(-1)!)), { colour: inks.ceiling, width: 3.5 });
	}

	const ys = levels.floor.map(axis.inside);
	const ySingle = axis.inside(levels.floorSingle[0]);
	const referred: Point[] = [...levelPath(columns, ys, first), [right, ys.at(-1)!]];
	cut(context, plot, sheets.grainFading, [...referred, ...across(right, first, yBottom)]);
	cut(context, plot, sheets.grain, area(left, first, ys[0], yBottom));
	edge(context, referred, { colour: inks.floor, width: 1.5, opacity: 0.75 });
	edge(context, across(left, first, ys[0]), { colour: inks.floor, width: 3.5 });
	if (ys[0] - ySingle > 2) {
		cut(context, plot, sheets.grain, area(left, first, ySingle, ys[0]), AVERAGING);
		edge(context, across(left, first, ySingle), { colour: inks.floor, width: 1.75, dash: [5, 4] });
	}
}

/** The half circle in which the level turns at the device: a dashed curve is dear too where the browser draws it. */
export function drawTurn(canvas: HTMLCanvasElement, path: string, inks: Inks): void {
	const context = contextOf(canvas);
	context.strokeStyle = inks.back;
	context.lineWidth = 3.5;
	context.setLineDash([5, 3.5]);
	context.stroke(new Path2D(path));
}
