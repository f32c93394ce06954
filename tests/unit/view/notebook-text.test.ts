import { render } from 'svelte/server';
import { expect, test } from 'vitest';
import { parseText } from '#lib/lesson/text.ts';
import LessonText from '#lib/view/notebook/LessonText.svelte';

/** The markup of a text as the server writes it, without the compiler's marks and class names. */
const markup = (source: string) =>
	render(LessonText, { props: { text: parseText(source) } })
		.body.replace(/<!--.*?-->/g, '')
		.replace(/ class="[^"]*svelte[^"]*"/g, '');

test('words stand next to each other with exactly the spaces that were written', () => {
	expect(markup('A *slow* **loud** `set level`, then $\\Gamma$.')).toBe(
		'<p>A <em>slow</em> <strong>loud</strong> <code>set level</code>, then <span>\\Gamma</span>.</p>'
	);
});

test('lists nest, and links lead to steps or outside', () => {
	expect(markup('1. one\n2. two\n   - [deep](#look)')).toContain(
		'<ul><li><p><a href="#step-look">deep</a></p></li></ul>'
	);
	expect(markup('[book](https://example.org/)')).toContain('rel="noreferrer external"');
});

test('a term known to the glossary opens a card with its meaning, an unknown one stays a word', () => {
	expect(markup('a [pad](glossary:pad) here')).toMatch(
		/<button type="button" popovertarget="[^"]+">pad<\/button><span/
	);
	expect(markup('a [pad](glossary:pad) here')).toContain('Another word is attenuator.');
	expect(markup('a [thing](glossary:no-such-term) here')).toBe('<p>a thing here</p>');
});

test('markup in a text of a stranger stays text', () => {
	expect(markup('<img src=x onerror=alert(1)> [x](javascript:alert(1))')).not.toMatch(/<img|<a /);
});
