import { expect, test } from 'vitest';
import { render } from 'svelte/server';
import { magnitude, subtract } from '#lib/numeric/complex.ts';
import { gammaFromImpedance } from '#lib/network/impedance.ts';
import { complex } from '#lib/numeric/complex.ts';
import { arcPath, frameFor } from '#lib/view/chart/frame.ts';
import Grid from '#lib/view/chart/Grid.svelte';
import {
	arcPoint,
	gammaAt,
	GRID_VALUES,
	reactanceArc,
	reactanceCircle,
	resistanceArc,
	resistanceCircle
} from '#lib/view/chart/grid.ts';
import type { Circle } from '#lib/view/chart/grid.ts';
import { gridLabels } from '#lib/view/chart/labels.ts';

/** How far a point is from the line of a circle. */
const off = (circle: Circle, gamma: { re: number; im: number }) =>
	Math.abs(magnitude(subtract(gamma, circle.centre)) - circle.radius);

test('25 + j50 Ω lies where its circles cross', () => {
	// Γ = (Z − 50)/(Z + 50) = (−25 + j50)/(75 + j50) = (1 + j8)/13, by hand.
	const gamma = gammaFromImpedance(complex(25, 50));
	expect(gamma.re).toBeCloseTo(1 / 13, 12);
	expect(gamma.im).toBeCloseTo(8 / 13, 12);
	expect(off(resistanceCircle(0.5), gamma)).toBeLessThan(1e-12);
	expect(off(reactanceCircle(1), gamma)).toBeLessThan(1e-12);
	expect(off(reactanceCircle(-1), gamma)).toBeGreaterThan(0.5);
});

test('every crossing of the grid is the Γ of its impedance', () => {
	for (const r of GRID_VALUES)
		for (const size of GRID_VALUES)
			for (const x of [size, -size]) {
				expect(off(resistanceCircle(r), gammaAt(r, x))).toBeLessThan(1e-12);
				expect(off(reactanceCircle(x), gammaAt(r, x))).toBeLessThan(1e-12);
			}
});

test('arcs start and stop where they are meant to', () => {
	const ends = (arc: ReturnType<typeof resistanceArc>) => [arcPoint(arc, arc.from), arcPoint(arc, arc.to)];
	const near = (a: { re: number; im: number }, b: { re: number; im: number }) =>
		expect(magnitude(subtract(a, b))).toBeLessThan(1e-12);
	const [top, bottom] = ends(resistanceArc(0.2));
	near(top, gammaAt(0.2, 2));
	near(bottom, gammaAt(0.2, -2));
	for (const x of [0.2, -0.2]) {
		const [rim, inner] = ends(reactanceArc(x));
		near(rim, gammaAt(0, x));
		near(inner, gammaAt(2, x));
	}
	for (const x of [2, -2, 5, -5]) {
		const [rim, open] = ends(reactanceArc(x));
		near(rim, gammaAt(0, x));
		near(open, complex(1));
	}
});

test('arcs stay inside the rim and keep to their side of the real axis', () => {
	const along = (arc: ReturnType<typeof resistanceArc>) =>
		Array.from({ length: 41 }, (_, k) => arcPoint(arc, arc.from + ((arc.to - arc.from) * k) / 40));
	for (const x of GRID_VALUES) {
		for (const point of along(reactanceArc(x))) {
			expect(magnitude(point)).toBeLessThan(1 + 1e-9);
			expect(point.im).toBeGreaterThan(-1e-9);
		}
		for (const point of along(reactanceArc(-x))) expect(point.im).toBeLessThan(1e-9);
		// A stopped circle goes the long way round, through the short side of the real axis.
		const crossing = Math.min(...along(resistanceArc(x)).map((p) => p.re));
		expect(crossing).toBeCloseTo((x - 1) / (x + 1), 2);
	}
});

test('an arc turns the right way on a screen whose y runs down', () => {
	// x = +1: centre 1 + j, from Γ = j at the top of the chart inward, so to the right and down.
	const path = arcPath(frameFor(1), reactanceArc(2));
	// Rim end of x = 2: Γ = (3 + j4)/5, by hand.
	expect(path).toBe('M252 54A70 70 0 0 0 308 166');
	expect(arcPath(frameFor(1), reactanceArc(-2))).toBe('M252 278A70 70 0 0 1 308 166');
	expect(arcPath(frameFor(1), resistanceArc(1))).toBe('M308 166A70 70 0 0 0 168 166A70 70 0 0 0 308 166');
});

test('labels are in ohms, and fewer on a small chart', () => {
	const words = gridLabels(frameFor(1)).map((label) => label.text.replace('\u00a0', ' '));
	expect(words).toEqual([
		'10',
		'25',
		'50',
		'100',
		'250 Ω',
		'+j25',
		'−j25',
		'+j50',
		'−j50',
		'+j100',
		'−j100',
		'0'
	]);
	expect(gridLabels(frameFor(3))).toHaveLength(4);
});

test('the drawn grid', () => {
	const text = render(Grid, { props: { frame: frameFor(1) } })
		.body.replace(/<!--.*?-->/gs, '')
		.replace(/ class="[^"]*"/g, '')
		.replace(/-?\d+\.\d+/g, (number) => String(Math.round(Number(number) * 1000) / 1000))
		.replace(/></g, '>\n<');
	expect(text).toMatchSnapshot();
});
