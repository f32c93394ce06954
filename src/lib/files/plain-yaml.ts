import { LineCounter, parseDocument, visit } from 'yaml';
import type { Document } from 'yaml';

/** Nodes within nodes, far more than any of our files has. */
const DEEPEST = 60;
const TOO_DEEP = 'it is nested too deeply';
/** What no text file holds; a terminal might even obey it. */
const CONTROL = /[\0-\x08\x0b\x0c\x0e-\x1f\x7f]/;

/** What a file holds, with the way back to its lines. */
export interface PlainYaml {
	readonly data: unknown;
	/** The line of the value at `path`, or of the nearest thing around it that exists. */
	lineOf(path: readonly (string | number)[]): number;
}

export interface YamlProblem {
	/** What is wrong, in words. */
	readonly problem: string;
	readonly line: number;
}

/** The line of the first control character, if there is one. */
export function controlLine(text: string): number | undefined {
	const control = CONTROL.exec(text);
	return control ? text.slice(0, control.index).split('\n').length : undefined;
}

/** Reads YAML or JSON. Nothing but plain data comes of it: no tags, no aliases, no duplicate keys. */
export function readPlainYaml(text: string): PlainYaml | YamlProblem {
	const lines = new LineCounter();
	const document = parseDocument(text, {
		uniqueKeys: true,
		lineCounter: lines,
		merge: false,
		version: '1.2'
	});
	const found = syntaxProblem(document, text);
	if (found) return { problem: found.words, line: lines.linePos(found.at).line };
	return {
		data: document.toJS({ maxAliasCount: 0 }),
		lineOf: (path) => lineOf(document, path, lines)
	};
}

export const isMap = (value: unknown): value is Record<string, unknown> =>
	typeof value === 'object' && value !== null && !Array.isArray(value);

/** What keeps a parsed file from being plain data, in words, and where; undefined if nothing does. */
function syntaxProblem(
	{ errors, warnings, contents }: Document.Parsed,
	text: string
): { words: string; at: number } | undefined {
	const error = errors[0] ?? warnings[0];
	if (error) return { words: syntaxWords(error, text.slice(error.pos[0])), at: error.pos[0] };
	let found: { words: string; at: number } | undefined;
	const stop = (words: string, at = 0) => {
		found = { words, at };
		return visit.BREAK;
	};
	visit(contents, {
		Alias: (_, { source, range }) =>
			stop(`the alias "*${source}" is not allowed; write the value out`, range?.[0]),
		Node: (_, { range }, path) => (path.length > DEEPEST ? stop(TOO_DEEP, range?.[0]) : undefined)
	});
	return found;
}

/** `there` is the text from the problem on. */
function syntaxWords(
	{ code, message }: Document.Parsed['errors'][number] | Document.Parsed['warnings'][number],
	there: string
): string {
	if (code === 'MULTIPLE_DOCS') return 'there is more than one document in the file';
	if (code === 'DUPLICATE_KEY')
		return `the key ${/^[^:\n]{1,60}/.exec(there)?.[0].trim() ?? ''} is there twice`;
	if (code === 'TAG_RESOLVE_FAILED')
		return `tags are not allowed (${message.split('\n')[0].replace(/ at line.*$/, '')})`;
	if (/call stack/i.test(message)) return TOO_DEEP;
	return message.split('\n')[0].replace(/ at line.*$/, '');
}

function lineOf(document: Document, path: readonly (string | number)[], lines: LineCounter): number {
	for (let length = path.length; length >= 0; length--) {
		const node = document.getIn(path.slice(0, length), true) as
			{ range?: [number, number, number] } | undefined;
		if (node?.range) return lines.linePos(node.range[0]).line;
	}
	return 1;
}
