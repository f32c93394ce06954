import { expect, test } from 'vitest';
import { blankExpression, fillBlanks } from '#lib/lesson/blanks.ts';
import { everyInline, parseText, plainText, type Block } from '#lib/lesson/text.ts';

const inlines = (source: string) => {
	const [block] = parseText(source);
	return block.type === 'paragraph' ? block.children : [];
};

test('paragraphs, emphasis, code, lists', () => {
	expect(parseText('One *two* **three** `four`.\n\n- a\n- b\n\n1. c')).toEqual([
		{
			type: 'paragraph',
			children: [
				{ type: 'text', text: 'One ' },
				{ type: 'emphasis', children: [{ type: 'text', text: 'two' }] },
				{ type: 'text', text: ' ' },
				{ type: 'strong', children: [{ type: 'text', text: 'three' }] },
				{ type: 'text', text: ' ' },
				{ type: 'code', text: 'four' },
				{ type: 'text', text: '.' }
			]
		},
		{
			type: 'list',
			ordered: false,
			items: ['a', 'b'].map((text) => [{ type: 'paragraph', children: [{ type: 'text', text }] }])
		},
		{ type: 'list', ordered: true, items: [[{ type: 'paragraph', children: [{ type: 'text', text: 'c' }] }]] }
	]);
});

test('a formula keeps its stars and underscores', () => {
	expect(inlines('With $a_1*b_1*c$ and $\\Gamma = \\frac{b}{a}$.')).toEqual([
		{ type: 'text', text: 'With ' },
		{ type: 'formula', text: 'a_1*b_1*c' },
		{ type: 'text', text: ' and ' },
		{ type: 'formula', text: '\\Gamma = \\frac{b}{a}' },
		{ type: 'text', text: '.' }
	]);
});

test('blanks are found, also in emphasis, and filled', () => {
	const tree = parseText('It is **{{level.device}}**, you wrote {{answer.first-fall}}.');
	expect([...everyInline(tree)].filter((i) => i.type === 'blank').map((i) => i.source)).toEqual([
		'level.device',
		'answer.first-fall'
	]);
	expect(blankExpression('answer.first-fall')).toBe('answer("first-fall")');
	expect(plainText(fillBlanks(tree, (source) => `<${source}>`))).toBe(
		'It is <level.device>, you wrote <answer("first-fall")>.'
	);
});

test('terms and links are kept; other addresses stay the text they were', () => {
	expect(inlines('[pad](glossary:pad)')).toEqual([
		{ type: 'term', term: 'pad', children: [{ type: 'text', text: 'pad' }] }
	]);
	expect(inlines('[step](#look)')[0]).toMatchObject({ type: 'link', address: '#look' });
	expect(inlines('[site](https://example.org)')[0]).toMatchObject({
		type: 'link',
		address: 'https://example.org'
	});
});

test.each([
	'[x](javascript:alert(1))',
	'[x](JaVaScRiPt:alert(1))',
	'[x](data:text/html,<script>alert(1)</script>)',
	'[x](vbscript:x)',
	'[x](//example.org)',
	'[x](/etc/passwd)',
	'[x](java&#115;cript:alert(1))',
	'<a href="javascript:alert(1)">x</a>',
	'![x](https://example.org/x.png)',
	'<https://example.org>',
	'<img src=x onerror=alert(1)>',
	'<script>alert(1)</script>',
	'<div>\n<iframe src="x"></iframe>\n</div>',
	'| a | b |\n|---|---|\n| 1 | 2 |'
])('neutralised: %s', (source) => {
	const kinds = new Set(
		[...everyInline(parseText(source))].map((inline) =>
			inline.type === 'link' ? inline.address : inline.type
		)
	);
	for (const kind of kinds) expect(['text', 'https://example.org']).toContain(kind);
	expect(plainText(parseText(source))).not.toBe('');
});

test('deep nesting ends as text', () => {
	const deepest = (blocks: readonly Block[]): number =>
		Math.max(0, ...blocks.map((b) => (b.type === 'list' ? 1 + Math.max(...b.items.map(deepest)) : 0)));
	const nested = Array.from({ length: 60 }, (_, i) => `${'  '.repeat(i)}- x`).join('\n');
	expect(deepest(parseText(nested))).toBeLessThan(14);
});

test.each([
	'>'.repeat(1500),
	'*a '.repeat(500),
	'_a*'.repeat(500),
	'['.repeat(1500),
	'{{'.repeat(750),
	'`'.repeat(1500)
])('the longest text allowed is read at once: %s', (source) => {
	const started = performance.now();
	expect(plainText(parseText(source))).not.toBe('');
	expect(performance.now() - started).toBeLessThan(500);
});

test('character references come out as characters', () => {
	expect(plainText(parseText('a < b & c "d"'))).toBe('a < b & c "d"');
});
