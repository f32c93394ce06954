import { create, parseDependencies, type MathNode } from 'mathjs';
import { parseQuantity } from '#lib/bench/quantity.ts';
import { Fault } from '#lib/fault.ts';
import {
	functionNames,
	type Comparison,
	type Expression,
	type FunctionName,
	type Literal,
	type Observable,
	type Operator
} from './expression.ts';
import { faults } from './faults.ts';
import { kindOfUnit } from './value.ts';

const { parse } = create({ parseDependencies });

const LONGEST_EXPRESSION = 500;
const MOST_PARTS = 200;
const DEEPEST_NAME = 3;
const NAME = /^[A-Za-z][A-Za-z0-9]{0,39}$/;
/** The parser reads "1 + 5 %" as 1.05 and "5 % + 1" as a remainder, so a percentage may only stand alone. */
const PERCENTAGE = /^-?\d+(?:\.\d+)? ?%$/;
const OUTSIDE = /[^ -$&-~Ω\n]/u;

const OPERATORS: ReadonlyMap<string, Operator> = new Map<string, Operator>([
	['smaller', '<'],
	['smallerEq', '<='],
	['larger', '>'],
	['largerEq', '>='],
	['equal', '=='],
	['unequal', '!='],
	['and', 'and'],
	['or', 'or'],
	['not', 'not'],
	['add', '+'],
	['subtract', '-'],
	['multiply', '*'],
	['divide', '/'],
	['unaryMinus', 'negative']
]);

interface Reading {
	readonly place: string;
	parts: number;
}

/**
 * Reads an expression over observables, such as `level.device < -35 dBm and displayed.R(169.5 MHz) > 40 ohm`.
 *
 * Only the tree is taken from the parser; every node is checked against an allow-list and rebuilt as plain data, so an
 * expression from a stranger can do no more than be compared. At most 500 characters and 200 parts.
 * @throws Fault naming `place` for anything else: assignments, functions, indexes, texts out of place, unknown units.
 */
export function parseExpression(source: string | number, place: string): Expression {
	const written = String(source);
	if (written.length > LONGEST_EXPRESSION)
		throw faults['expression-length']({ place, found: written.length, limit: LONGEST_EXPRESSION });
	const text = tidy(written);
	if (PERCENTAGE.test(text))
		return { type: 'literal', value: parseQuantity(text, 'fraction', place), kind: 'fraction' };
	const outside = OUTSIDE.exec(text);
	if (outside) throw faults['expression-character']({ place, found: outside[0] });
	let node: MathNode | undefined;
	try {
		node = parse(text);
	} catch (error) {
		const found = error instanceof Error ? error.message : 'unknown trouble';
		throw faults['expression-syntax']({ place, expression: shorten(text), found });
	}
	return convert(node, { place, parts: 0 });
}

/** Typographic spellings that mean what plain ones mean. */
const tidy = (text: string): string =>
	text
		.replace(/[\u00a0\u202f\u2009]/g, ' ')
		.replace(/\u2212/g, '-')
		.replace(/\u2126/g, 'Ω')
		.replace(/[µμ]/g, 'u')
		.trim();

const shorten = (text: string): string => (text.length > 60 ? `${text.slice(0, 60)}…` : text);

/** The parser's nodes as this module reads them; every field is looked at before it is used. */
interface Node {
	readonly type: string;
	readonly value?: unknown;
	readonly name?: unknown;
	readonly fn?: unknown;
	readonly implicit?: boolean;
	readonly args?: readonly Node[];
	readonly content?: Node;
	readonly object?: Node;
	readonly index?: { readonly dotNotation: boolean; readonly dimensions: readonly Node[] };
	readonly conditionals?: readonly string[];
	readonly params?: readonly Node[];
}

function convert(parsed: unknown, reading: Reading): Expression {
	const node = parsed as Node | undefined;
	const { place } = reading;
	if (++reading.parts > MOST_PARTS) throw faults['expression-nodes']({ place, limit: MOST_PARTS });
	switch (node?.type) {
		case 'ConstantNode':
			return constant(node.value, place);
		case 'ParenthesisNode':
			return convert(node.content, reading);
		case 'SymbolNode':
		case 'AccessorNode':
			return { type: 'observable', name: fullName(node, place), arguments: [] };
		case 'FunctionNode':
			return call(node, reading);
		case 'RelationalNode':
			return chain(node, reading);
		case 'OperatorNode':
			return operation(node, reading);
		default:
			throw faults['expression-node']({ place, found: refusedName(node) });
	}
}

const refusedName = (node: Node | undefined): string =>
	(node?.type ?? 'nothing')
		.replace(/Node$/, '')
		.replace(/([a-z])([A-Z])/g, '$1 $2')
		.toLowerCase();

function constant(value: unknown, place: string): Literal {
	if (typeof value === 'boolean') return { type: 'literal', value, kind: 'boolean' };
	if (typeof value === 'string') return { type: 'literal', value, kind: 'text' };
	if (typeof value !== 'number') throw faults['expression-node']({ place, found: String(value) });
	if (!Number.isFinite(value)) throw faults['expression-number']({ place, found: String(value) });
	return { type: 'literal', value, kind: 'number' };
}

function fullName(node: Node, place: string): string {
	const names: string[] = [];
	let at: Node | undefined = node;
	while (at?.type === 'AccessorNode') {
		const member: Node | undefined = at.index?.dimensions[0];
		if (!at.index?.dotNotation || typeof member?.value !== 'string' || names.length > DEEPEST_NAME)
			throw faults['expression-node']({ place, found: 'index' });
		names.unshift(member.value);
		at = at.object;
	}
	if (at?.type !== 'SymbolNode' || typeof at.name !== 'string')
		throw faults['expression-node']({ place, found: `member of a ${refusedName(at)}` });
	names.unshift(at.name);
	const wrong = names.find((name) => !NAME.test(name));
	if (wrong !== undefined) throw faults['expression-name']({ place, found: wrong });
	return names.join('.');
}

function call(node: Node, reading: Reading): Expression {
	const name = fullName(node.fn as Node, reading.place);
	const operands = (node.args ?? []).map((argument) => convert(argument, reading));
	if ((functionNames as readonly string[]).includes(name)) {
		const needed = name === 'abs' ? 1 : 2;
		if (operands.length < needed || (name === 'abs' && operands.length > 1))
			throw faults['expression-arguments']({
				place: reading.place,
				name,
				found: operands.length,
				expected: needed === 1 ? '1' : '2 or more',
				example: name === 'abs' ? 'abs(x)' : `${name}(x, y)`
			});
		return { type: 'function', name: name as FunctionName, operands };
	}
	return {
		type: 'observable',
		name,
		arguments: literals(name, operands, reading.place)
	} satisfies Observable;
}

function literals(name: string, operands: readonly Expression[], place: string): Literal[] {
	return operands.map((operand) => {
		if (operand.type !== 'literal') throw faults['expression-argument']({ place, name });
		return operand;
	});
}

/** `a < b <= c` means `a < b and b <= c`. */
function chain(node: Node, reading: Reading): Expression {
	const operands = (node.params ?? []).map((part) => convert(part, reading));
	const pairs = (node.conditionals ?? []).map((name, i): Expression => ({
		type: 'operation',
		operator: OPERATORS.get(name) as Comparison,
		operands: [operands[i], operands[i + 1]]
	}));
	return { type: 'operation', operator: 'and', operands: pairs };
}

function operation(node: Node, reading: Reading): Expression {
	const { place } = reading;
	const args = node.args ?? [];
	if (node.implicit) return quantity(args, reading);
	if (node.fn === 'unaryPlus') return convert(args[0], reading);
	const operator = OPERATORS.get(String(node.fn));
	if (operator === undefined) throw faults['expression-node']({ place, found: String(node.fn) });
	const operands = args.map((argument) => convert(argument, reading));
	const [first] = operands;
	if (operator === 'negative' && first.type === 'literal' && typeof first.value === 'number')
		return { ...first, value: -first.value };
	return { type: 'operation', operator, operands };
}

/** A number followed by its unit, `-35 dBm`; any other product without a sign is refused. */
function quantity(args: readonly Node[], reading: Reading): Literal {
	const { place } = reading;
	const [numberNode, unitNode] = args;
	if (unitNode?.type !== 'SymbolNode' || typeof unitNode.name !== 'string')
		throw faults['expression-node']({ place, found: 'two things side by side' });
	const unit = unitNode.name;
	const number = convert(numberNode, reading);
	if (number.type !== 'literal' || number.kind !== 'number')
		throw faults['expression-node']({ place, found: `${unit} after something that is no number` });
	const kind = kindOfUnit(unit);
	if (kind === undefined) throw faults['expression-unit']({ place, found: unit });
	return { type: 'literal', value: parseQuantity(`${Number(number.value)} ${unit}`, kind, place), kind };
}

/** Whether the source can be read at all; for lists of findings. */
export function expressionFault(source: string | number, place: string): Fault | undefined {
	try {
		parseExpression(source, place);
		return undefined;
	} catch (error) {
		if (error instanceof Fault) return error;
		throw error;
	}
}
