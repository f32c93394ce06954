import { produceWithPatches, enablePatches } from 'immer';
import type { Draft, Patch } from 'immer';
import { z } from 'zod';
import { faults } from './faults.ts';
import type { History } from './history.ts';
import { keepIdentity } from './identity.ts';
import { firstIssue, pathText } from './issue.ts';
import { setup as setupSchema } from './setup.ts';
import type { Setup } from './setup.ts';

enablePatches();

/** A command as it is written down: in a lesson, a link, an undo list. Quantities are text with their unit. */
export interface CommandRecord {
	readonly name: string;
	readonly arguments: Readonly<Record<string, unknown>>;
}

/** The two stores a command may act on. */
export interface BenchDocument {
	readonly setup: Setup;
	readonly history: History;
}

/**
 * A command: what it is called, what it takes and what it does. `perform` changes the draft of the setup; what goes
 * into the bench history it returns as the new history.
 */
export interface CommandDefinition {
	readonly name: string;
	/** One line for help and for the undo button. */
	readonly label: string;
	readonly schema: z.ZodType;
	readonly perform: (draft: Draft<Setup>, written: never, history: History) => History | undefined;
}

/** Fixes the arguments' type of one definition to its schema. */
export function define<S extends z.ZodType>(definition: {
	name: string;
	label: string;
	schema: S;
	perform: (draft: Draft<Setup>, given: z.output<S>, history: History) => History | undefined;
}): CommandDefinition {
	return definition;
}

/** What a command did: the new document, and the patches of its setup forward and back. */
export interface Outcome {
	readonly document: BenchDocument;
	readonly label: string;
	readonly forward: readonly Patch[];
	readonly back: readonly Patch[];
}

/** A stand-in for a device that has not changed, so that a large table is not checked again on every step of a slider. */
const CHECKED_ALREADY: Setup['device'] = { kind: 'open', name: 'unchanged' };

/** @throws Fault `setup-value` if a setup is one that the schema refuses. */
export function checkSetup(value: Setup, before?: Setup): void {
	const light =
		before !== undefined && before.device === value.device ? { ...value, device: CHECKED_ALREADY } : value;
	const checked = z.safeEncode(setupSchema, light);
	if (checked.success) return;
	const issue = firstIssue(checked.error, light);
	throw faults['setup-value']({ path: pathText(issue.path), found: issue.found, allowed: issue.allowed });
}

/**
 * Runs one command on a document and returns what came of it; the document given is not changed.
 * @throws Fault `command-unknown`, `command-arguments`, or what the command itself refuses.
 */
export function execute(
	document: BenchDocument,
	record: CommandRecord,
	commands: ReadonlyMap<string, CommandDefinition>
): Outcome {
	const command = commands.get(record.name);
	if (command === undefined)
		throw faults['command-unknown']({ name: record.name, allowed: [...commands.keys()].join(', ') });
	const parsed = z.safeDecode(command.schema, record.arguments);
	if (!parsed.success) {
		const issue = firstIssue(parsed.error, record.arguments);
		throw faults['command-arguments']({
			name: record.name,
			path: pathText(issue.path),
			found: issue.found,
			allowed: issue.allowed
		});
	}
	let history: History | undefined;
	const [setup, forward, back] = produceWithPatches(document.setup, (draft) => {
		history = command.perform(draft, parsed.data as never, document.history) ?? undefined;
	});
	const after = history ?? document.history;
	const { label } = command;
	// the same values put in place again are no change, even as new objects
	if (keepIdentity(document.setup, setup) === document.setup)
		return { document: { setup: document.setup, history: after }, label, forward: [], back: [] };
	checkSetup(setup, document.setup);
	return { document: { setup, history: after }, label, forward, back };
}
