import { OK, UNUSABLE } from './command.ts';
import { commands } from './commands.ts';

function usage(): string {
	const width = Math.max(0, ...commands.map((command) => command.usage.length));
	const rows = commands.map((command) => `  ${command.usage.padEnd(width)}  ${command.summary}`);
	return ['Usage: faint-echo COMMAND …', ...rows].join('\n');
}

/** Runs the command the arguments name and gives its exit code. Usage asked for goes to stdout, otherwise to stderr. */
export async function run(args: readonly string[]): Promise<number> {
	const [name, ...rest] = args;
	if (name === undefined || name === '--help' || name === 'help') {
		console.log(usage());
		return OK;
	}
	const command = commands.find((candidate) => candidate.name === name);
	if (command === undefined) {
		console.error(`faint-echo: there is no command "${name}".\n${usage()}`);
		return UNUSABLE;
	}
	return command.perform(rest);
}
