import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

const css = readFileSync(new URL('../../../src/lib/view/theme.css', import.meta.url), 'utf8');

/** Every variable that a theme's own block sets. */
function themeColours(selector: string): Map<string, string> {
	const block = css.slice(css.indexOf(selector)).split('}')[0];
	return new Map(
		[...block.matchAll(/--([a-z0-9-]+):\s*(#[0-9a-f]{6})/g)].map(([, name, value]) => [name, value])
	);
}

/** Relative luminance and contrast ratio as WCAG 2.2 defines them (W3C, 2023). */
function luminance(hex: string): number {
	const [r, g, b] = [1, 3, 5].map((at) => {
		const value = parseInt(hex.slice(at, at + 2), 16) / 255;
		return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
	});
	return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: string, b: string): number {
	const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x);
	return (light + 0.05) / (dark + 0.05);
}

const themes = {
	light: themeColours(":root[data-theme='light']"),
	projector: themeColours(":root[data-theme='projector']")
};
const surfaces = ['paper', 'page', 'raised', 'select'];
const writing = ['ink', 'ink-2', 'out', 'back', 'ceiling', 'floor', 'plane', 'truth', 'pencil'];

const rows = Object.entries(themes).flatMap(([theme, colours]) =>
	[...writing, 'edge'].flatMap((name) =>
		surfaces.map((surface) => ({
			theme,
			name,
			surface,
			ratio: contrast(colours.get(name) ?? '', colours.get(surface) ?? '')
		}))
	)
);

test('the contrast formula gives what WCAG states for black on white and its well-known border greys', () => {
	expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
	// common practice, no source: #767676 is the lightest grey that passes 4.5 on white, #777777 fails
	expect(contrast('#767676', '#ffffff')).toBeGreaterThanOrEqual(4.5);
	expect(contrast('#777777', '#ffffff')).toBeLessThan(4.5);
});

test('both themes set the same colours', () => {
	expect([...themes.projector.keys()].sort()).toEqual([...themes.light.keys()].sort());
	expect(themes.light.size).toBe(21);
});

test('writing and meanings reach 4.5 on every surface', () => {
	const weak = rows.filter((row) => row.name !== 'edge' && !(row.ratio >= 4.5));
	expect(rows).toHaveLength(80);
	expect(weak).toEqual([]);
});

test('edges of controls reach 3 on every surface', () => {
	expect(rows.filter((row) => row.name === 'edge' && !(row.ratio >= 3))).toEqual([]);
});

test.each(Object.entries(themes))('%s: caution, action and filled plates can be read', (_, colours) => {
	const pair = (a: string, b: string) => contrast(colours.get(a) ?? '', colours.get(b) ?? '');
	expect(pair('caution-ink', 'caution')).toBeGreaterThanOrEqual(7);
	expect(pair('action-ink', 'action')).toBeGreaterThanOrEqual(7);
	expect(pair('paper', 'ceiling')).toBeGreaterThanOrEqual(4.5);
	expect(pair('action-ink', 'plane')).toBeGreaterThanOrEqual(4.5);
});

test('the contrast of writing, as a table to look at when a colour changes', () => {
	const table = writing.concat('edge').map((name) => {
		const cells = rows.filter((row) => row.name === name).map((row) => row.ratio.toFixed(1));
		return `${name}: ${cells.join(' ')}`;
	});
	expect(table).toEqual([
		'ink: 15.5 14.5 16.0 13.3 11.8 10.3 9.3 9.0',
		'ink-2: 7.5 7.0 7.7 6.4 8.3 7.2 6.5 6.3',
		'out: 8.4 7.9 8.6 7.2 6.6 5.7 5.2 5.0',
		'back: 5.4 5.1 5.6 4.7 8.0 7.0 6.3 6.1',
		'ceiling: 9.6 9.0 9.9 8.2 6.0 5.2 4.7 4.6',
		'floor: 5.9 5.5 6.0 5.0 8.4 7.3 6.6 6.4',
		'plane: 5.8 5.5 6.0 5.0 8.5 7.4 6.7 6.5',
		'truth: 6.9 6.5 7.1 5.9 9.9 8.7 7.8 7.6',
		'pencil: 6.9 6.4 7.1 5.9 8.8 7.6 6.9 6.7',
		'edge: 3.8 3.6 4.0 3.3 4.7 4.1 3.7 3.6'
	]);
});
