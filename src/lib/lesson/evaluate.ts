import type { Expression, Operation } from './expression.ts';
import { faults } from './faults.ts';
import type { ObservableArgument, ObservableValue } from './lesson-bench.ts';

export type ReadObservable = (name: string, args: readonly ObservableArgument[]) => ObservableValue;

/**
 * The value of an expression. Numbers are in base units; whether kinds go together is `kindOf`'s business.
 * Comparisons with NaN are false, division by zero gives an infinity. `and` and `or` stop at the first that decides.
 * @throws Fault when a number stands where yes or no is needed, or the other way round, and whatever `read` throws.
 */
export function evaluate(expression: Expression, read: ReadObservable): ObservableValue {
	switch (expression.type) {
		case 'literal':
			return expression.value;
		case 'observable':
			return read(
				expression.name,
				expression.arguments.map((argument) => argument.value)
			);
		case 'function': {
			const values = expression.operands.map((operand) => number(operand, read));
			return expression.name === 'abs' ? Math.abs(values[0]) : Math[expression.name](...values);
		}
		case 'operation':
			return operate(expression, read);
	}
}

/** Whether the condition holds now. */
export const holds = (expression: Expression, read: ReadObservable): boolean => truth(expression, read);

/** The value of an expression that must be a number. */
export function number(expression: Expression, read: ReadObservable): number {
	const value = evaluate(expression, read);
	if (typeof value !== 'number') throw wrong(value, 'a number');
	return value;
}

function truth(expression: Expression, read: ReadObservable): boolean {
	const value = evaluate(expression, read);
	if (typeof value !== 'boolean') throw wrong(value, 'yes or no');
	return value;
}

const wrong = (value: ObservableValue, expected: string) =>
	faults['expression-value']({ place: 'expression', found: `"${String(value).slice(0, 40)}"`, expected });

function operate({ operator, operands }: Operation, read: ReadObservable): ObservableValue {
	const [left, right] = operands;
	switch (operator) {
		case 'and':
			return operands.every((operand) => truth(operand, read));
		case 'or':
			return operands.some((operand) => truth(operand, read));
		case 'not':
			return !truth(left, read);
		case 'negative':
			return -number(left, read);
		case '==':
			return evaluate(left, read) === evaluate(right, read);
		case '!=':
			return evaluate(left, read) !== evaluate(right, read);
	}
	const a = number(left, read);
	const b = number(right, read);
	switch (operator) {
		case '<':
			return a < b;
		case '<=':
			return a <= b;
		case '>':
			return a > b;
		case '>=':
			return a >= b;
		case '+':
			return a + b;
		case '-':
			return a - b;
		case '*':
			return a * b;
		case '/':
			return a / b;
	}
}
