import {
	comparisons,
	writeObservable,
	type Expression,
	type Observable,
	type Operation
} from './expression.ts';
import { faults } from './faults.ts';
import type { ObservableDescription } from './lesson-bench.ts';
import { suggestion } from './nearest.ts';
import type { ValueKind } from './value.ts';

/** What an expression may speak of: the observables of the bench, `answer("step")` and `kept.name`. */
export interface Vocabulary {
	describe(observable: Observable): ObservableDescription | undefined;
	readonly names: Iterable<string>;
}

interface Checking {
	readonly vocabulary: Vocabulary;
	readonly place: string;
	readonly source: string;
}

/**
 * The kind an expression comes out as, found without evaluating it.
 * @throws Fault when a name is unknown (with the nearest known one), an argument is of the wrong kind, or kinds do not
 * go together: dBm with MHz, dBm plus dBm, ohm with a plain number.
 */
export function kindOf(
	expression: Expression,
	vocabulary: Vocabulary,
	place: string,
	source: string
): ValueKind {
	return kind(expression, { vocabulary, place, source });
}

export const named = (k: ValueKind): string =>
	k === 'boolean' ? 'a yes or no' : k === 'text' ? 'a text' : k === 'number' ? 'a plain number' : `a ${k}`;

/** A fraction such as 5 % is a plain number. */
export const plain = (k: ValueKind): ValueKind => (k === 'fraction' ? 'number' : k);

function kind(expression: Expression, checking: Checking): ValueKind {
	switch (expression.type) {
		case 'literal':
			return plain(expression.kind);
		case 'observable':
			return observable(expression, checking);
		case 'function': {
			const kinds = expression.operands.map((operand) => kind(operand, checking));
			for (const other of kinds)
				if (other !== kinds[0] || !measurable(other)) throw clash(expression.name, kinds[0], other, checking);
			if (expression.name === 'abs' && absolute(kinds[0])) throw clash('abs', kinds[0], kinds[0], checking);
			return kinds[0];
		}
		case 'operation':
			return operation(expression, checking);
	}
}

function observable(expression: Observable, { vocabulary, place }: Checking): ValueKind {
	const known = vocabulary.describe(expression);
	const written =
		expression.name === 'answer' ? `answer("${expression.arguments[0]?.value}")` : expression.name;
	if (known === undefined)
		throw faults['lesson-observable-unknown']({
			place,
			found: written,
			suggestion: suggestion(written, vocabulary.names)
		});
	const given = expression.arguments.map((argument) => plain(argument.kind));
	const expected = known.arguments.map((argument) => plain(argument.kind));
	if (given.length !== expected.length || given.some((k, i) => k !== expected[i]))
		throw faults['expression-arguments']({
			place,
			name: expression.name,
			found: given.length === 0 ? 'nothing' : given.map(named).join(', '),
			expected: expected.length === 0 ? 'nothing' : expected.map(named).join(', '),
			example: writeObservable(
				known.name,
				known.arguments.map((a) => EXAMPLES[plain(a.kind)] ?? a.name)
			)
		});
	return plain(known.kind);
}

const EXAMPLES: Partial<Record<ValueKind, string>> = {
	frequency: '169.5 MHz',
	text: '"name"',
	number: '1',
	level: '-30 dBm'
};

const measurable = (k: ValueKind): boolean => k !== 'boolean' && k !== 'text';
/** Levels in dBm have no zero one could add, negate or scale from. */
const absolute = (k: ValueKind): boolean => k === 'level' || k === 'noise density';

function operation({ operator, operands }: Operation, checking: Checking): ValueKind {
	const kinds = operands.map((operand) => kind(operand, checking));
	const [a, b = a] = kinds;
	const refuse = () => clash(operator === 'negative' ? '-' : operator, a, b, checking);
	if (operator === 'and' || operator === 'or' || operator === 'not') {
		if (kinds.some((k) => k !== 'boolean')) throw refuse();
		return 'boolean';
	}
	if ((comparisons as readonly string[]).includes(operator)) {
		if (a !== b || (!measurable(a) && operator !== '==' && operator !== '!=')) throw refuse();
		return 'boolean';
	}
	if (!measurable(a) || !measurable(b)) throw refuse();
	switch (operator) {
		case 'negative':
			if (absolute(a)) throw refuse();
			return a;
		case '+':
			if (absolute(a) && b === 'attenuation') return a;
			if (absolute(b) && a === 'attenuation') return b;
			if (a !== b || absolute(a)) throw refuse();
			return a;
		case '-':
			if (absolute(a) && b === 'attenuation') return a;
			if (a !== b) throw refuse();
			return absolute(a) ? 'attenuation' : a;
		case '*':
			if (a === 'number' && !absolute(b)) return b;
			if (b === 'number' && !absolute(a)) return a;
			throw refuse();
		default:
			if (absolute(a)) throw refuse();
			if (b === 'number') return a;
			if (a === b) return 'number';
			throw refuse();
	}
}

const clash = (operator: string, left: ValueKind, right: ValueKind, { place, source }: Checking) =>
	faults['expression-kinds']({ place, expression: source, operator, left: named(left), right: named(right) });
