import { baseUnit, formatQuantity, parseQuantity, unitSymbols } from '#lib/bench/quantity.ts';
import type { QuantityKind } from '#lib/bench/quantity.ts';
import { suggestion } from '#lib/lesson/nearest.ts';
import { COMMON_OPTIONS } from './command.ts';
import type { Arguments, Command } from './command.ts';
import { faults } from './faults.ts';

/** The options a command understands, its own first. */
export const optionsOf = (command: Command) => [...command.options, ...COMMON_OPTIONS];

/**
 * Sorts what was typed after a command's name into files and options: `--name value` or `--name=value`; after `--`
 * everything is a file. @throws Fault for an option the command does not have, a value missing or too many.
 */
export function sortArguments(typed: readonly string[], command: Command): Arguments {
	const known = optionsOf(command);
	const files: string[] = [];
	const options = new Map<string, string>();
	for (let i = 0; i < typed.length; i++) {
		const word = typed[i];
		if (word === '--') {
			files.push(...typed.slice(i + 1));
			break;
		}
		if (!word.startsWith('-') || word === '-') {
			files.push(word);
			continue;
		}
		const [, dashed, inline] = /^([^=]*)(?:=(.*))?$/s.exec(word) as RegExpExecArray;
		const option = known.find(({ name }) => `--${name}` === dashed);
		if (option === undefined)
			throw faults['command-line-option']({
				command: command.name,
				found: dashed.slice(0, 60),
				suggestion: suggestion(
					dashed,
					known.map(({ name }) => `--${name}`)
				)
			});
		const { name, value } = option;
		const blanks = { command: command.name, option: name };
		if (options.has(name)) throw faults['command-line-twice'](blanks);
		if (value === null) {
			if (inline !== undefined)
				throw faults['command-line-value-extra']({ ...blanks, found: inline.slice(0, 60) });
			options.set(name, '');
			continue;
		}
		const given = inline ?? typed[++i];
		if (given === undefined || given === '' || (inline === undefined && given.startsWith('--')))
			throw faults['command-line-value-missing']({ ...blanks, value });
		const apart = option.quantity !== undefined && unitSymbols(option.quantity).includes(typed[i + 1] ?? '');
		options.set(name, apart ? `${given} ${typed[++i]}` : given);
	}
	return { files, options };
}

/** @throws Fault unless the files are as many as the command takes. */
export function checkFiles({ files }: Arguments, { name, takes }: Command): void {
	if (takes === '') {
		if (files.length > 0)
			throw faults['command-line-file-none']({ command: name, found: files[0].slice(0, 60) });
		return;
	}
	if (files.length === 0) throw faults['command-line-file-missing']({ command: name, takes });
	if (files.length > 1 && !takes.endsWith('…'))
		throw faults['command-line-file-extra']({
			command: name,
			count: files.length,
			found: files[1].slice(0, 60)
		});
}

/** A whole number given with an option, or undefined. @throws Fault when it is none or outside `from` to `to`. */
export function wholeOption(
	{ options }: Arguments,
	option: string,
	{ command, from, to }: { command: string; from: number; to: number }
): number | undefined {
	const found = options.get(option);
	if (found === undefined) return undefined;
	const value = Number(found);
	if (!/^\d{1,15}$/.test(found) || value < from || value > to)
		throw faults['command-line-number']({ command, option, found: found.slice(0, 60), from, to });
	return value;
}

/** The value of a quantity typed with its unit, or without for the base unit. @throws Fault naming the option. */
export function quantityTyped(found: string, kind: QuantityKind, place: string): number {
	const bare = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(found.trim());
	return parseQuantity(bare ? `${found} ${baseUnit(kind)}` : found, kind, place);
}

/** A quantity given with an option, or undefined. @throws Fault when it is none or outside `from` to `to`. */
export function quantityOption(
	{ options }: Arguments,
	option: string,
	{ command, kind, from, to }: { command: string; kind: QuantityKind; from: number; to: number }
): number | undefined {
	const found = options.get(option);
	if (found === undefined) return undefined;
	const value = quantityTyped(found, kind, `command ${command}, --${option}`);
	if (value < from || value > to)
		throw faults['command-line-quantity']({
			command,
			option,
			found: found.slice(0, 60),
			from: formatQuantity(from, kind),
			to: formatQuantity(to, kind)
		});
	return value;
}
