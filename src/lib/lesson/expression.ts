import type { ObservableArgument, ObservableValue } from './lesson-bench.ts';
import type { ValueKind } from './value.ts';

/** The tree an expression of a lesson is kept as. It holds nothing but data, so nothing in it can be called. */
export type Expression = Literal | Observable | FunctionCall | Operation;

export interface Literal {
	readonly type: 'literal';
	readonly value: ObservableValue;
	readonly kind: ValueKind;
}

export interface Observable {
	readonly type: 'observable';
	/** The full name with its points. */
	readonly name: string;
	readonly arguments: readonly Literal[];
}

export const functionNames = ['abs', 'min', 'max'] as const;
export type FunctionName = (typeof functionNames)[number];

interface FunctionCall {
	readonly type: 'function';
	readonly name: FunctionName;
	readonly operands: readonly Expression[];
}

export const comparisons = ['<', '<=', '>', '>=', '==', '!='] as const;
export type Comparison = (typeof comparisons)[number];
export type Operator = Comparison | 'and' | 'or' | 'not' | '+' | '-' | '*' | '/' | 'negative';

export interface Operation {
	readonly type: 'operation';
	readonly operator: Operator;
	readonly operands: readonly Expression[];
}

/** An observable as an author writes it, for messages and the guide. */
export function writeObservable(name: string, args: readonly (ObservableArgument | string)[]): string {
	return args.length === 0 ? name : `${name}(${args.join(', ')})`;
}
