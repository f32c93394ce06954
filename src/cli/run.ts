import { Fault } from '#lib/fault.ts';
import { suggestion } from '#lib/lesson/nearest.ts';
import about from '../../package.json';
import { checkFiles, sortArguments } from './arguments.ts';
import { OK, UNUSABLE } from './command.ts';
import type { Terminal } from './command.ts';
import { commands } from './commands.ts';
import { faults } from './faults.ts';
import { commandHelp, generalHelp } from './help.ts';
import { plainFault } from './plain.ts';

/** Names in files may hold anything; a terminal would obey control characters. */
const harmless = (text: string): string => text.replace(/[\0-\x08\x0b-\x1f\x7f-\x9f]/g, '\ufffd');

/** Runs the command the arguments name and gives its exit code. */
export async function run(typed: readonly string[], bare: Terminal): Promise<number> {
	const terminal: Terminal = {
		print: (text) => bare.print(harmless(text)),
		note: (text) => bare.note(harmless(text))
	};
	try {
		return await perform(typed, terminal);
	} catch (fault) {
		if (!(fault instanceof Fault)) throw fault;
		terminal.note(`faint-echo: ${fault.message}`);
		if (typed.includes('--json')) terminal.print(JSON.stringify({ errors: [plainFault(fault)] }));
		return UNUSABLE;
	}
}

async function perform([name, ...rest]: readonly string[], terminal: Terminal): Promise<number> {
	if (name === undefined) {
		terminal.note(generalHelp());
		return UNUSABLE;
	}
	const asked = name === 'help' || name === '--help' ? rest[0] : undefined;
	if ((name === 'help' || name === '--help') && asked === undefined) {
		terminal.print(generalHelp());
		return OK;
	}
	if (name === '--version') {
		terminal.print(about.version);
		return OK;
	}
	const wanted = asked ?? name;
	const command = commands.find((candidate) => candidate.name === wanted);
	if (command === undefined) {
		const known = [...commands.map((candidate) => candidate.name), 'help'];
		throw faults['command-line-command']({
			found: wanted.slice(0, 60),
			suggestion: suggestion(wanted, known)
		});
	}
	const given = asked === undefined ? sortArguments(rest, command) : null;
	if (given === null || given.options.has('help')) {
		terminal.print(commandHelp(command));
		return OK;
	}
	checkFiles(given, command);
	return command.perform(given, terminal);
}
