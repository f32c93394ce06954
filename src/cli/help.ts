import { optionsOf } from './arguments.ts';
import type { Command, Option } from './command.ts';
import { commands } from './commands.ts';

const EXIT_CODES =
	'Exit codes: 0 it came out well, 1 it falls short of what was asked, 2 the input cannot be used.';
const WHERE =
	'Results go to the standard output, progress and complaints to the standard error. With --json a complaint is also\n' +
	'printed to the standard output, as {"errors": [{"code", "place", "finding", "remedy"}]}.';

const asTyped = ({ name, value }: Option): string => (value === null ? `--${name}` : `--${name} ${value}`);

function table(rows: readonly (readonly [string, string])[]): string[] {
	const width = Math.max(...rows.map(([left]) => left.length));
	return rows.map(([left, right]) => `  ${left.padEnd(width)}  ${right}`);
}

/** What `faint-echo help` prints. */
export const generalHelp = (): string =>
	[
		'Usage: faint-echo COMMAND …',
		'',
		...table([
			...commands.map(({ name, takes, summary }) => [`${name} ${takes}`.trimEnd(), summary] as const),
			['help', 'this text; "faint-echo COMMAND --help" explains one command'],
			['--version', 'the version of the program']
		]),
		'',
		WHERE,
		EXIT_CODES
	].join('\n');

/** What `faint-echo COMMAND --help` prints. */
export const commandHelp = (command: Command): string =>
	[
		`Usage: faint-echo ${`${command.name} ${command.takes}`.trimEnd()}${command.options.map((o) => ` [${asTyped(o)}]`).join('')} [--json]`,
		'',
		...command.details,
		'',
		...table(optionsOf(command).map((option) => [asTyped(option), option.meaning])),
		'',
		EXIT_CODES
	].join('\n');
