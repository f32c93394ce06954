import type { Block, Inline } from './text.ts';

const ANSWER = /^answer\.([a-z0-9]+(?:-[a-z0-9]+)*)$/;

/** The expression in a blank: `{{answer.step-id}}` is short for `{{answer("step-id")}}`. */
export function blankExpression(source: string): string {
	const match = ANSWER.exec(source.trim());
	return match ? `answer("${match[1]}")` : source;
}

/** The same tree with every blank replaced by what `show` makes of its expression. */
export function fillBlanks(tree: readonly Block[], show: (expression: string) => string): Block[] {
	return tree.map((block): Block =>
		block.type === 'list'
			? { ...block, items: block.items.map((item) => fillBlanks(item, show)) }
			: { ...block, children: block.children.map((child) => fill(child, show)) }
	);
}

function fill(inline: Inline, show: (expression: string) => string): Inline {
	if (inline.type === 'blank') return { type: 'value', text: show(blankExpression(inline.source)) };
	if ('children' in inline) return { ...inline, children: inline.children.map((child) => fill(child, show)) };
	return inline;
}
