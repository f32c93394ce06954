import { Marked, type Token, type Tokens } from 'marked';

/**
 * The text of a lesson as a small tree. The view draws it; no HTML is ever made of it, and HTML in a text stays text.
 * `$…$` is a formula, `{{…}}` a blank, `[words](glossary:term)` a term, `[words](#step)` a step of the lesson.
 */
export type Block =
	| { readonly type: 'paragraph'; readonly children: readonly Inline[] }
	| { readonly type: 'list'; readonly ordered: boolean; readonly items: readonly (readonly Block[])[] };

export type Inline =
	| { readonly type: 'text'; readonly text: string }
	| { readonly type: 'emphasis' | 'strong'; readonly children: readonly Inline[] }
	| { readonly type: 'code'; readonly text: string }
	/** TeX source. */
	| { readonly type: 'formula'; readonly text: string }
	| { readonly type: 'link'; readonly address: string; readonly children: readonly Inline[] }
	| { readonly type: 'term'; readonly term: string; readonly children: readonly Inline[] }
	/** An expression still to be worked out. */
	| { readonly type: 'blank'; readonly source: string }
	/** A blank that was filled. */
	| { readonly type: 'value'; readonly text: string };

const ADDRESS = /^(?:https?:\/\/|mailto:)/i;
const TERM = /^glossary:([a-z0-9-]{1,60})$/;
const STEP = /^#[a-z0-9-]{1,60}$/;
const DEEPEST = 12;

const markdown = new Marked({
	gfm: false,
	extensions: [inline('formula', '$', /^\$([^$\n]+)\$/), inline('blank', '{{', /^\{\{([^{}\n]+)\}\}/)]
});

function inline(name: string, opening: string, pattern: RegExp) {
	return {
		name,
		level: 'inline' as const,
		start: (source: string) => {
			const at = source.indexOf(opening);
			return at < 0 ? undefined : at;
		},
		tokenizer: (source: string) => {
			const match = pattern.exec(source);
			return match ? { type: name, raw: match[0], text: match[1].trim() } : undefined;
		}
	};
}

/** The tree of a Markdown text; what is not known (tables, pictures, HTML) comes out as the text it was written as. */
export function parseText(source: string): Block[] {
	try {
		return blocks(markdown.lexer(source), 0);
	} catch (error) {
		// Thousands of nested quotes overflow the lexer; they are no text anybody reads.
		if (error instanceof RangeError) return [{ type: 'paragraph', children: [plain(source)] }];
		throw error;
	}
}

/** A text of one paragraph without its paragraph, for the words beside a choice. */
export const inlinesOf = (tree: readonly Block[]): Inline[] =>
	tree.flatMap((block) => (block.type === 'paragraph' ? [...block.children] : [plain(plainText([block]))]));

const plain = (text: string): Inline => ({ type: 'text', text: unescape(text) });

/** The lexer leaves character references as they are; a reader expects the characters. */
const unescape = (text: string): string =>
	text.replace(/&(amp|lt|gt|quot|#39);/g, (_, name: string) => REFERENCES[name] ?? '');
const REFERENCES: Record<string, string> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };

function blocks(tokens: readonly Token[], depth: number): Block[] {
	return tokens.flatMap((token): Block[] => {
		switch (token.type) {
			case 'space':
			case 'def':
			case 'hr':
				return [];
			case 'list':
				if (depth >= DEEPEST) break;
				return [
					{
						type: 'list',
						ordered: (token as Tokens.List).ordered,
						items: (token as Tokens.List).items.map((item) => blocks(item.tokens, depth + 1))
					}
				];
			case 'paragraph':
			case 'heading':
			case 'text':
				return [
					{ type: 'paragraph', children: inlines((token as Tokens.Paragraph).tokens ?? [token], depth + 1) }
				];
		}
		return [{ type: 'paragraph', children: [plain(token.raw.trim())] }];
	});
}

function inlines(tokens: readonly Token[], depth: number): Inline[] {
	return tokens.map((token): Inline => {
		if (depth >= DEEPEST) return plain(token.raw);
		switch (token.type) {
			case 'strong':
				return { type: 'strong', children: inlines((token as Tokens.Strong).tokens, depth + 1) };
			case 'em':
				return { type: 'emphasis', children: inlines((token as Tokens.Em).tokens, depth + 1) };
			case 'codespan':
				return { type: 'code', text: unescape((token as Tokens.Codespan).text) };
			case 'formula':
				return { type: 'formula', text: String((token as Tokens.Generic).text) };
			case 'blank':
				return { type: 'blank', source: String((token as Tokens.Generic).text) };
			case 'link':
				return link(token as Tokens.Link, depth);
			case 'br':
				return plain('\n');
			case 'escape':
			case 'text':
				return plain((token as Tokens.Text).text);
			default:
				return plain(token.raw);
		}
	});
}

function link(token: Tokens.Link, depth: number): Inline {
	const children = inlines(token.tokens, depth + 1);
	const term = TERM.exec(token.href);
	if (term) return { type: 'term', term: term[1], children };
	if (ADDRESS.test(token.href) || STEP.test(token.href))
		return { type: 'link', address: token.href, children };
	return plain(token.raw);
}

/** Every inline of a tree, parents before children. */
export function* everyInline(tree: readonly (Block | Inline)[]): Generator<Inline> {
	for (const node of tree) {
		if (node.type === 'list') for (const item of node.items) yield* everyInline(item);
		else {
			if (node.type !== 'paragraph') yield node;
			if ('children' in node) yield* everyInline(node.children);
		}
	}
}

/** The words alone; a formula or a blank counts as one word. */
export function plainText(tree: readonly Block[]): string {
	return tree
		.map((block) =>
			block.type === 'list' ? block.items.map(plainText).join('\n') : block.children.map(words).join('')
		)
		.join('\n');
}

function words(inline: Inline): string {
	if (inline.type === 'blank' || inline.type === 'formula') return inline.type;
	return 'children' in inline ? inline.children.map(words).join('') : inline.text;
}
